"""The program as a process of its own on an unseen display, driven by key presses alone."""

import subprocess
import sys
import time
from pathlib import Path

import pytest

from fluxlab.store.library import Library

ROOT = Path(__file__).resolve().parents[2]
TITLE = "fluxlab"
pytestmark = pytest.mark.window


class Window:
    """A running program and the keys that go to it."""

    def __init__(self, environment):
        self.environment = environment
        self.process = subprocess.Popen(
            [sys.executable, "-m", "fluxlab"], cwd=ROOT, env=environment, stderr=subprocess.PIPE, text=True
        )

    def tool(self, *words):
        return subprocess.run(
            ["xdotool", *words], env=self.environment, timeout=30, check=True, capture_output=True, text=True
        ).stdout

    def focus(self):
        self.tool("search", "--sync", "--onlyvisible", "--name", TITLE, "windowfocus", "--sync")

    def keys(self, *keys):
        self.tool("key", "--delay", "40", *keys)

    def write(self, text):
        self.tool("type", "--delay", "30", text)

    def end(self):
        self.process.kill()
        return self.process.communicate(timeout=30)[1]


@pytest.fixture
def environment(window_environment, tmp_path):
    return {**window_environment, "FLUXLAB_HOME": str(tmp_path / "home")}


@pytest.fixture
def library_path(tmp_path):
    return tmp_path / "home" / "library.sqlite"


@pytest.fixture
def window(environment):
    window = Window(environment)
    window.focus()
    yield window
    window.end()


def wait_for(question, seconds=20.0):
    """The first answer that is not nothing; the program is another process, so it is asked again and again."""
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        answer = question()
        if answer:
            return answer
        time.sleep(0.1)
    raise AssertionError("waited in vain")


def draft(path):
    """The drafted recipe, None while there is none."""
    if not path.exists():
        return None
    with Library.open(path) as library:
        rows = library.drafts()
        return library.load_draft(rows[0].recipe, rows[0].token).work.recipe if rows else None


def kept(path):
    """The kept recipes as (name, latest revision)."""
    with Library.open(path) as library:
        return [(row.name, row.latest) for ore in library.ores() for row in library.recipes(ore.uid)]


def first_weight(path, weight):
    def asked():
        recipe = draft(path)
        return recipe is not None and recipe.lines[0].grams == weight

    return asked


def shelf_kept(path):
    def asked():
        if not path.exists():
            return False
        with Library.open(path) as library:
            return library.load_shelf() is not None

    return asked


def test_a_weight_typed_is_fixed_undone_saved_and_there_after_closing(window, environment, library_path):
    wait_for(shelf_kept(library_path))
    time.sleep(1.5)  # the recipe is shown in the turn after the library opened
    window.focus()

    # the first weight has the cursor when the program starts: type over it
    window.write("41.5")
    window.keys("Return")
    wait_for(first_weight(library_path, 41.5))

    # undo without end, and again
    window.keys("ctrl+z")
    wait_for(lambda: draft(library_path) is None or draft(library_path).lines[0].grams is None)
    window.keys("ctrl+y")
    wait_for(first_weight(library_path, 41.5))

    # save as revision 1
    window.keys("ctrl+s")
    wait_for(lambda: kept(library_path))
    assert [revision for _, revision in kept(library_path)] == [1]
    assert draft(library_path) is None

    # type on without Enter and close: the open editor is taken
    window.keys("Up")
    window.write("22.2")
    window.keys("ctrl+q")
    window.process.wait(timeout=20)
    assert window.process.returncode == 0
    recipe = draft(library_path)
    assert 22.2 in [line.grams for line in recipe.lines]

    # come back, kill it hard in the middle of the work: what was drafted is there
    second = Window(environment)
    try:
        second.focus()
        time.sleep(2.0)
        second.focus()
        second.write("17.7")
        second.keys("Return")
        wait_for(lambda: 17.7 in [line.grams for line in draft(library_path).lines])
    finally:
        second.end()
    assert 17.7 in [line.grams for line in draft(library_path).lines]
