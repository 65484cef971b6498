"""What tests of the places share: a page in a window of its own, and a settled bench."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget

from fluxlab.gui.bridge import Bench


def settle(bench: Bench) -> None:
    """Let the views follow the bench."""
    bench.flush()
    for _ in range(3):
        QApplication.processEvents()


def enter(qtbot: Any, field: Any, text: str) -> None:
    """Type a text into a field in place of what stands there, and press Enter."""
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def image_of(widget: QWidget) -> QImage:
    """A widget as it is painted."""
    QApplication.processEvents()
    return widget.grab().toImage()


@contextmanager
def page_in_window(
    qtbot: Any, bench: Bench, make: Callable[[Bench, QWidget], Any], width: int = 1226, height: int = 724
) -> Iterator[Any]:
    """A page shown in a window of its own, as large as the page, refreshed and settled."""
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(width, height)
    page = make(bench, window)
    page.setGeometry(0, 0, width, height)
    window.show()
    page.refresh()
    settle(bench)
    yield page
    window.close()
