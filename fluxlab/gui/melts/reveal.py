"""Bring a field into sight and into focus, wherever it is folded or scrolled away."""

from collections.abc import Iterator

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QScrollArea, QWidget

from fluxlab.gui.widgets.section import Section


def reveal(field: QWidget, top: QWidget | None = None) -> None:
    """Open the section that hides a field, give it the focus and scroll to it, with `top` above it where both fit."""
    for above in _above(field):
        if isinstance(above, Section):
            above.set_folded(False)
    field.setFocus(Qt.FocusReason.TabFocusReason if top else Qt.FocusReason.OtherFocusReason)
    parts = [part for part in (top, field) if part is not None]
    _scroll_to(parts)
    # an opened section has its height only once the page has laid itself out
    QTimer.singleShot(0, field, lambda: _scroll_to(parts))


def _scroll_to(parts: list[QWidget]) -> None:
    for part in parts:
        for above in _above(part):
            if isinstance(above, QScrollArea):
                above.ensureWidgetVisible(part)


def _above(field: QWidget) -> Iterator[QWidget]:
    above = field.parentWidget()
    while above is not None:
        yield above
        above = above.parentWidget()
