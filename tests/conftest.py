"""The ground every test stands on: a home of its own, the same screen everywhere, and a quiet Qt where Qt is used.

The environment is set before anything imports Qt. Qt itself is imported inside the fixtures only, because the lane
that runs with Qt blocked (FLUXLAB_NO_QT=1, see packaging/dev.py) loads this file too.
"""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

NO_QT = os.environ.get("FLUXLAB_NO_QT") == "1"
NEEDS_WINDOW = ("gui", "journeys", "guards", "packaging")
collect_ignore = list(NEEDS_WINDOW) if NO_QT else ["headless"]

HOME = Path(tempfile.mkdtemp(prefix="fluxlab-tests-"))
os.environ.update(
    {
        "HOME": str(HOME),
        "XDG_CONFIG_HOME": str(HOME / "config"),
        "XDG_DATA_HOME": str(HOME / "data"),
        "XDG_CACHE_HOME": str(HOME / "cache"),
        "XDG_STATE_HOME": str(HOME / "state"),
        "QT_SCALE_FACTOR": "1",
        "QT_FONT_DPI": "96",
        "PYTEST_QT_API": "pyside6",
    }
)
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.pop("QT_STYLE_OVERRIDE", None)

# The machines of a check differ in speed, so no test fails for being slow once; there, every run tries the same cases.
settings.register_profile("fluxlab", deadline=None)
settings.register_profile("fluxlab-ci", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("fluxlab-ci" if os.environ.get("CI") else "fluxlab")

HARMLESS_QT = ("This plugin does not support propagateSizeHints", "Mouse event not accepted by receiving widget")


def pytest_unconfigure() -> None:
    shutil.rmtree(HOME, ignore_errors=True)


@pytest.fixture(scope="session")
def qapp_args() -> list[str]:
    """pytest-qt starts the one QApplication with these."""
    return ["fluxlab-tests", "-style", "Fusion"]


@pytest.fixture(scope="session")
def dressed_app(qapp):
    """The QApplication with the settings, locale, fonts and palette that every window test expects."""
    from PySide6.QtCore import QLocale, QSettings, QStandardPaths
    from PySide6.QtGui import QFont, QFontDatabase

    from fluxlab import resources

    QStandardPaths.setTestModeEnabled(True)
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(HOME / "settings"))
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
    for name in ("fonts/B612-Regular.otf", "fonts/B612-Bold.otf"):
        assert QFontDatabase.addApplicationFont(str(resources.path(name))) >= 0
    qapp.setFont(QFont("B612"))
    qapp.setPalette(qapp.style().standardPalette())
    return qapp


@pytest.fixture
def quiet_qt(dressed_app) -> Iterator[list[str]]:
    """Closes and deletes what a test leaves open, and fails it for every warning of Qt that it did not take out."""
    from PySide6.QtCore import QCoreApplication, QEvent, QtMsgType, qInstallMessageHandler

    complaints: list[str] = []

    def listen(kind: QtMsgType, context: object, words: str) -> None:
        if kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) and not words.startswith(HARMLESS_QT):
            complaints.append(words)

    before = qInstallMessageHandler(listen)
    try:
        yield complaints
        for widget in dressed_app.topLevelWidgets():
            widget.close()
            widget.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        dressed_app.processEvents()
    finally:
        qInstallMessageHandler(before)
    if complaints:
        pytest.fail("Qt complained:\n  " + "\n  ".join(complaints))


@pytest.fixture(scope="session")
def virtual_display() -> Iterator[str]:
    """The name of an X display that nobody sees (":7"), 1366 by 768 pixels.

    Without Xvfb and xdotool a test on it fails where CI is set, and is listed as not run elsewhere.
    """
    missing = [tool for tool in ("Xvfb", "xdotool") if not shutil.which(tool)]
    if missing:
        words = f"Not run: {' and '.join(missing)} not installed; python3 packaging/dev.py test says how"
        if os.environ.get("CI"):
            pytest.fail(words)
        pytest.skip(words)
    read_end, write_end = os.pipe()
    command = ["Xvfb", "-displayfd", str(write_end), "-screen", "0", "1366x768x24", "-dpi", "96", "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=[write_end], stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)
    os.close(write_end)
    try:
        with os.fdopen(read_end) as pipe:
            number = pipe.readline().strip()
        assert number, "Xvfb ended before it named its display"
        yield ":" + number
    finally:
        server.terminate()
        server.wait(timeout=10)


@pytest.fixture
def window_environment(virtual_display: str, tmp_path: Path) -> dict[str, str]:
    """Environment variables for a program that opens its window on the virtual display, with an empty home."""
    return {
        **os.environ,
        "DISPLAY": virtual_display,
        "QT_QPA_PLATFORM": "xcb",
        "HOME": str(tmp_path),
        "XDG_CONFIG_HOME": str(tmp_path / "config"),
        "XDG_DATA_HOME": str(tmp_path / "data"),
    }
