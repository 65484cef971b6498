"""A guard on the version of the toolkit.

PySide6 6.12.0 gives back None without taking a reference to it. On Python 3.11, where None is still counted, every
such call takes one reference away; after some thousands of them the interpreter stops with "Fatal Python error:
none_dealloc". A program runs for minutes before it happens, so an ordinary test does not see it. Hence the ceiling on
the toolkit in pyproject.toml, and these calls, in a process of their own so that an abort is a failed test and not the
end of the whole run.
"""

import subprocess
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path

import pytest
from packaging.requirements import Requirement

PROJECT = Path(__file__).resolve().parents[2] / "pyproject.toml"
WANTED = tomllib.loads(PROJECT.read_text(encoding="utf-8"))["project"]["dependencies"]
TOOLKIT = next(found for found in map(Requirement, WANTED) if found.name == "PySide6-Essentials").specifier

PROBE = """
import sys
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QLabel

app = QApplication([])
thing, label = QObject(), QLabel()
before = sys.getrefcount(None)
for turn in range(10_000):
    thing.parent()
    label.setText(str(turn))
print("calls made, references lost:", before - sys.getrefcount(None))
"""


def test_twenty_thousand_calls_that_return_none_leave_the_interpreter_whole():
    told = subprocess.run([sys.executable, "-c", PROBE], capture_output=True, text=True, timeout=120, check=False)
    assert told.returncode == 0, told.stderr
    words, _, lost = told.stdout.strip().rpartition(" ")
    assert words == "calls made, references lost:"
    assert int(lost) < 1_000


@pytest.mark.parametrize("unsafe", ["6.12.0", "6.12.1", "6.9.1", "6.8.2"])
def test_the_project_refuses_a_toolkit_known_to_fail(unsafe):
    assert unsafe not in TOOLKIT


@pytest.mark.parametrize("sound", ["6.8.3", "6.9.3", "6.10.2", "6.11.3", version("PySide6-Essentials")])
def test_the_project_takes_a_toolkit_that_was_tried_and_the_one_that_is_here(sound):
    assert sound in TOOLKIT
