import sys

import pytest

from fluxlab.gui import theme
from fluxlab.gui.app import Program


@pytest.fixture(autouse=True)
def every_window_test_is_quiet(quiet_qt):
    """Qt's warnings fail a test here, and nothing stays open after it."""


@pytest.fixture
def start(tmp_path, monkeypatch, qtbot):
    """Starts the program in a home of its own, as often as it is called."""
    monkeypatch.setenv("FLUXLAB_HOME", str(tmp_path / "home"))
    hook = sys.excepthook
    programs = []

    def begin():
        program = Program([])
        qtbot.addWidget(program.window)
        program.start()
        program.window.resize(1366, 768)
        qtbot.waitUntil(lambda: "first_recipe" in program._moments, timeout=15000)
        programs.append(program)
        return program

    yield begin
    for program in programs:
        program.window.close()
    sys.excepthook = hook
    theme.start_with("system", 100)
