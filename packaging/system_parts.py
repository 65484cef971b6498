"""What the operating system must bring before fluxlab can draw: find what is missing, install it or say how.

Only Linux leaves something to do: on Windows and macOS the toolkit's own packages hold all they need. Libraries are
looked for by the name the loader uses, not by a package name, since package names differ from one release to the next.
"""

from __future__ import annotations

import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys

LIBRARIES = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libfontconfig.so.1": "libfontconfig1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
}
WINDOW_TEST_TOOLS = {"Xvfb": "xvfb", "xdotool": "xdotool"}
APT = ["apt-get", "-o", "DPkg::Lock::Timeout=120"]


def say(words: str) -> None:
    # Standard error, because what fluxlab itself prints on standard output may be read by another program.
    print("fluxlab: " + words, file=sys.stderr, flush=True)


def loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def missing_venv() -> list[str]:
    """Debian and Ubuntu split the maker of private environments off their Python."""
    if all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        return []
    return [f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"]


def missing_libraries() -> dict[str, str]:
    return {library: package for library, package in LIBRARIES.items() if not loads(library)}


def missing_tools() -> list[str]:
    return [package for tool, package in WINDOW_TEST_TOOLS.items() if not shutil.which(tool)]


def install(packages: list[str]) -> bool:
    """Install Debian packages as root; True when all are there."""
    say("installing system packages: " + " ".join(packages))
    environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
    for command in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", *packages]):
        done = subprocess.run(
            [*APT, *command], env=environment, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
        )
        if done.returncode and command[0] == "install":
            say(f"the system packages could not be installed:\n{done.stderr[-1500:]}")
            return False
    return True


def ensure(window: bool, tests: bool) -> bool:
    """Whether the system has what is needed to draw a `window` and to drive one unseen in `tests`; installs as root."""
    if not sys.platform.startswith("linux"):
        return True
    libraries = missing_libraries() if window else {}
    needed = missing_venv() + list(libraries.values())
    wanted = missing_tools() if tests else []
    if not needed + wanted:
        return True
    if not shutil.which("apt-get"):
        if needed:
            say("this system lacks " + ", ".join([*missing_venv(), *libraries]) + "; install them with its own tools.")
        if wanted:
            say("without " + " and ".join(wanted) + " the window journeys are reported as not run.")
        return not needed
    if os.geteuid() == 0:
        return install(needed + wanted)
    say("these system packages are missing; install them with:" if needed else "to run the window journeys too:")
    print("    sudo apt-get install " + " ".join(needed + wanted), file=sys.stderr, flush=True)
    return not needed
