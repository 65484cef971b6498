"""What an operator does in every journey."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from fluxlab.gui.widgets.fields import NumberField
from tests.gui.parts import settle as settle_bench


def settle(program):
    """Let the window follow the bench."""
    settle_bench(program.bench)


def decide(program, decision, text):
    """Type over a violet figure on the page."""
    QTest.mouseClick(decision, Qt.MouseButton.LeftButton)
    field = decision.parentWidget().findChild(NumberField)
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)
    settle(program)
