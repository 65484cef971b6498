"""F1 on a page of tables and facts: what is under the pointer, else what has the focus."""

from PySide6.QtCore import QPoint
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QApplication, QWidget

from fluxlab.gui.explain import ExplainPanel, Explanation


def explained(widget: QWidget, place: QPoint, page: QWidget) -> Explanation | None:
    """The explanation of the nearest part around a place of a widget that has one, within a page."""
    part: QWidget | None = widget
    while part is not None and part is not page:
        at = getattr(part, "explanation_at", None)
        if at is None:
            found = getattr(part, "explanation", None)
        else:
            found = at(place if part is widget else widget.mapTo(part, place))
        if isinstance(found, Explanation):
            return found
        part = part.parentWidget()
    return None


def explain_here(page: QWidget) -> bool:
    """Open the plate that explains what the operator points at; False when there is nothing to say."""
    cursor = QCursor.pos()
    under = QApplication.widgetAt(cursor)
    focus = QApplication.focusWidget()
    for widget, place in ((under, None), (focus, QPoint(-1, -1))):
        if widget is None or not page.isAncestorOf(widget):
            continue
        found = explained(widget, widget.mapFromGlobal(cursor) if place is None else place, page)
        if found is not None:
            ExplainPanel(found, page.window()).open_at(widget)
            return True
    return False
