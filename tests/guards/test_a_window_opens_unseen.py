"""The ground of the window journeys: a real window system, a real window, a real key press, and nobody watching."""

import subprocess
import sys

import pytest

PROBE = """
import sys
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLineEdit

app = QApplication([])
assert QGuiApplication.platformName() == "xcb"
field = QLineEdit()
field.setWindowTitle("unseen probe")
field.returnPressed.connect(app.quit)
field.show()
app.exec()
print(field.text())
"""


@pytest.mark.window
def test_a_window_on_the_virtual_display_takes_keys(window_environment):
    program = subprocess.Popen(
        [sys.executable, "-c", PROBE],
        env=window_environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        for keys in (
            ["search", "--sync", "--name", "unseen probe", "windowfocus", "--sync"],
            ["type", "45.02 g"],
            ["key", "Return"],
        ):
            subprocess.run(["xdotool", *keys], env=window_environment, timeout=30, check=True)
        told, complaints = program.communicate(timeout=30)
    finally:
        program.kill()
    assert told == "45.02 g\n", complaints
    assert program.returncode == 0
