"""Where fluxlab keeps its files on this system."""

import os
import sys
from pathlib import Path

OVERRIDE = "FLUXLAB_HOME"  # a folder that holds everything, for a stick that moves from bench to bench


def data_folder() -> Path:
    """The folder of the library."""
    if os.environ.get(OVERRIDE):
        return Path(os.environ[OVERRIDE])
    if sys.platform == "win32":
        return _from("APPDATA", "AppData/Roaming") / "fluxlab"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "fluxlab"
    return _from("XDG_DATA_HOME", ".local/share") / "fluxlab"


def settings_path() -> Path:
    """The file of the settings."""
    if os.environ.get(OVERRIDE) or sys.platform in ("win32", "darwin"):
        return data_folder() / "settings.json"
    return _from("XDG_CONFIG_HOME", ".config") / "fluxlab" / "settings.json"


def library_path() -> Path:
    """The file of the library."""
    return data_folder() / "library.sqlite"


def _from(variable: str, below_home: str) -> Path:
    # The base folder rules say: a relative path in these variables is to be ignored.
    named = Path(os.environ.get(variable, ""))
    return named if named.is_absolute() else Path.home() / below_home
