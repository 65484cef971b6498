"""The marks by which windows see one another."""

import subprocess
import sys
from pathlib import Path

import fluxlab
from fluxlab.store.session import Session, clear_dead, is_open

HOLD = """
import sys
from pathlib import Path
from fluxlab.store.session import Session
session = Session(Path(sys.argv[1]))
print(session.token, flush=True)
sys.stdin.read()
"""


def test_a_window_is_seen_until_it_closes(tmp_path: Path) -> None:
    library = tmp_path / "library.sqlite"
    session = Session(library)
    assert is_open(library, session.token)
    assert not is_open(library, "0000")
    session.close()
    session.close()
    assert not is_open(library, session.token)
    assert list(tmp_path.iterdir()) == []


def test_a_window_that_dies_is_gone_at_once_and_its_mark_is_cleared(tmp_path: Path) -> None:
    library = tmp_path / "library [1].sqlite"
    mine = Session(library)
    child = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(library)],
        cwd=Path(fluxlab.__file__).parent.parent,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    with child:
        assert child.stdout is not None
        token = child.stdout.readline().strip()
        assert is_open(library, token)
        assert not clear_dead(library)
        child.kill()
    assert not is_open(library, token)
    assert clear_dead(library)
    assert not clear_dead(library)
    assert [p.name for p in tmp_path.iterdir()] == [f"library [1].sqlite.{mine.token}.open"]
    mine.close()


def test_a_library_in_memory_leaves_no_mark() -> None:
    session = Session(None)
    assert not is_open(None, session.token)
    session.close()
