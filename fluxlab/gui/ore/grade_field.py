"""A grade as the laboratory gave it: the figure and its unit, typed together or chosen."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from fluxlab.gui.tables.widths import keep_width
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.fields import NumberField, decimal_mark
from fluxlab.gui.widgets.menus import Menu
from fluxlab.ore.ore_types import Grade, GradeUnit

UNITS: tuple[GradeUnit, ...] = ("oz/short ton", "oz/long ton", "g/t", "%")


def unit_called(name: str) -> GradeUnit | None:
    """The unit of this name, None if it is none of a laboratory's."""
    return next((unit for unit in UNITS if unit == name), None)


class GradeField(QWidget):
    """An empty field means "unknown". A unit typed behind the figure counts; a chosen one keeps the figure as typed."""

    edited = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.grade: Grade | None = None
        self._unit: GradeUnit = "oz/short ton"
        self._typed_unit: GradeUnit | None = None
        self.field = NumberField(self._read, "", 1, 1.0, may_be_empty=True, parent=self)
        keep_width(self.field, 88)
        self.field.setAccessibleName(name)
        self.field.setPlaceholderText("unknown")
        self.unit = Button("", "text", after="chevron", parent=self)
        self.unit.clicked.connect(self._open_units)
        self._name = name
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2)
        row.addWidget(self.field)
        row.addWidget(self.unit)
        row.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.field.editingFinished.connect(self._finished)
        self._show_unit()

    def _read(self, text: str) -> float | str:
        from fluxlab import units

        found = units.parse(text, "grade", decimal_comma=decimal_mark() == ",", unit=self._unit)
        if found.value is None or found.number is None:
            return found.problem
        self._typed_unit = unit_called(found.unit)
        return found.number

    def show_grade(self, grade: Grade | None) -> None:
        """Show a grade; a text being typed is left alone."""
        self.grade = grade
        if grade is not None:
            self._unit = grade.unit
        self.field.set_value(None if grade is None else grade.value)
        self._show_unit()

    def _show_unit(self) -> None:
        self.unit.set_words(self._unit)
        self.unit.setAccessibleName(f"{self._name}, unit: {self._unit}")

    def commit(self) -> bool:
        """Take what is typed; False if it was refused."""
        if not self.field.commit():
            return False
        self._finished()
        return True

    def _finished(self) -> None:
        self._set(self.field.value, self._typed_unit or self._unit)
        self._typed_unit = None

    def _set(self, value: float | None, unit: GradeUnit) -> None:
        grade = None if value is None else Grade(value, unit)
        self._unit = unit
        self._show_unit()
        if grade != self.grade:
            self.grade = grade
            self.edited.emit(grade)

    def _open_units(self) -> None:
        menu = Menu(self)
        for unit in UNITS:
            # Not Menu.choices: it would begin a unit with a capital letter.
            menu.tick(unit, unit == self._unit, partial(self._chosen, unit))
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(self.unit.mapToGlobal(self.unit.rect().bottomLeft()))

    def _chosen(self, unit: GradeUnit, _on: bool) -> None:
        self.choose_unit(unit)

    def choose_unit(self, name: str) -> None:
        """Say that the figure is in another unit; the figure stays as it was typed."""
        unit = unit_called(name)
        if unit is not None and self.field.commit():
            self._set(self.field.value, unit)
