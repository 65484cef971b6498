"""Collected only in the lane where Qt, its binding library and the plotting library cannot be imported."""

import importlib
import pkgutil
import subprocess
import sys

import pytest

import fluxlab

MODULES = sorted(
    found.name
    for found in pkgutil.walk_packages(fluxlab.__path__, "fluxlab.")
    if not found.name.startswith(("fluxlab.gui.", "fluxlab._data"))
)


@pytest.mark.parametrize("name", ["PySide6", "PySide6.QtCore", "shiboken6", "pyqtgraph"])
def test_the_lane_really_blocks(name):
    with pytest.raises(ModuleNotFoundError, match="out of reach"):
        importlib.import_module(name)


def test_the_lane_blocks_in_programs_that_a_test_starts():
    told = subprocess.run([sys.executable, "-c", "import PySide6"], capture_output=True, text=True, check=False)
    assert told.returncode == 1
    assert "out of reach" in told.stderr


@pytest.mark.parametrize("name", MODULES)
def test_a_module_below_the_window_loads_without_qt(name):
    importlib.import_module(name)
