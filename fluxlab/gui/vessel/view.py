"""Crucible and mould on the Flux place: which ones, drawn to one scale, with what stands in them."""

from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from fluxlab.design.report_types import Report
from fluxlab.design.rising import highest_rise
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.vessel.frame import Frame
from fluxlab.gui.vessel.from_report import mould_drawing, pot_drawing, words_of
from fluxlab.gui.vessel.from_rim import side_room
from fluxlab.gui.vessel.mould import MouldDrawing, draw_mould, words_beside
from fluxlab.gui.vessel.pot import PotDrawing, draw_pot, headroom
from fluxlab.gui.vessel.scale import ScaleBar, common_scale
from fluxlab.gui.vessel.shape import Shape
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.decision import Choice
from fluxlab.gui.widgets.menus import Menu
from fluxlab.gui.widgets.section import Section
from fluxlab.gui.widgets.words import Words

NARROWEST = 210
BELOW = 8.0
LOWEST = 350
"""Pot and mould together are never drawn lower than this [px]."""


class _Canvas(QWidget):
    """One drawing; the view tells it the scale."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.pot: PotDrawing | None = None
        self.mould: MouldDrawing | None = None
        self.scale = 1.5
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)

    @property
    def shape_drawn(self) -> Shape | None:
        drawing = self.pot or self.mould
        return drawing.shape if drawing else None

    @property
    def above(self) -> float:
        """Room over the rim [px]."""
        return headroom() if self.pot else 10.0

    def high(self, scale: float) -> float:
        """Height that the drawing takes at a scale [px]."""
        shape = self.shape_drawn
        return self.above + (shape.depth + shape.foot) * scale + BELOW if shape else theme.scaled(40)

    def sizeHint(self) -> QSize:
        return QSize(100, round(self.high(self.scale)))

    def minimumSizeHint(self) -> QSize:
        return QSize(60, 40)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        shape = self.shape_drawn
        if shape is None:
            return
        axis = self.width() / 2.0
        if self.mould is not None:
            half = shape.half_width * self.scale
            foot = shape.outside[1][1] * self.scale
            axis = max(min(axis, self.width() - foot - words_beside(self.mould)), half + 3.0)
        frame = Frame(axis, self.above + shape.depth * self.scale, self.scale)
        if self.pot is not None:
            draw_pot(painter, frame, self.pot, theme.tokens())
        elif self.mould is not None:
            draw_mould(painter, frame, self.mould, theme.tokens(), self.width() - frame.axis)


class VesselView(Section):
    """The section "Crucible and mould". It reads the bench's report and changes only which vessels are used."""

    def __init__(self, bench: Bench, parent: QWidget | None = None) -> None:
        self.bar = ScaleBar()
        self.title = "Crucible and mould"
        super().__init__(self.title, tools=(self.bar,), parent=parent)
        self._bench = bench
        self.pot_choice = Choice("Crucible", self._pots, self)
        self.mould_choice = Choice("Mould", self._moulds, self)
        self.pot_note, self.mould_note = _note(self), _note(self)
        self.pot_canvas, self.mould_canvas = _Canvas(self), _Canvas(self)
        for canvas, choice, note in (
            (self.pot_canvas, self.pot_choice, self.pot_note),
            (self.mould_canvas, self.mould_choice, self.mould_note),
        ):
            self.body.addWidget(canvas)
            self.body.addLayout(_caption(choice, note))
        self.body.addStretch(1)
        self.setMinimumWidth(NARROWEST)
        theme.notifier().theme_changed.connect(self._fit)

    def sizeHint(self) -> QSize:
        """As in the pictures."""
        return QSize(theme.scaled(266), theme.scaled(580))

    def show_report(self, report: Report) -> None:
        """Show what a report says of pot and mould."""
        recipe, shelf = report.work.recipe, report.work.shelf
        pot, mould = shelf.crucible(recipe.crucible), shelf.mould(recipe.mould)
        self.pot_canvas.pot = pot_drawing(report)
        self.mould_canvas.mould = mould_drawing(report)
        self.pot_choice.set_words(pot.name if pot else "Choose a crucible")
        self.mould_choice.set_words(mould.name if mould else "Choose a mould")
        self.pot_note.set_words(_pot_note(report))
        self.mould_note.set_words(_mould_note(report))
        words = words_of(self.pot_canvas.pot, self.mould_canvas.mould)
        self.setAccessibleDescription(words)
        for canvas in (self.pot_canvas, self.mould_canvas):
            canvas.setToolTip(words)
        self._fit()

    def refresh(self) -> None:
        """Show the bench as it is now."""
        self.show_report(self._bench.report)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the scale to the room."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        canvases = (self.pot_canvas, self.mould_canvas)
        shapes = [canvas.shape_drawn for canvas in canvases if canvas.shape_drawn is not None]
        captions = (self.pot_choice, self.mould_choice), (self.pot_note, self.mould_note)
        wide = self.width() - 2.0 * side_room()
        words = theme.scaled(32) + sum(canvas.high(0.0) for canvas in canvases)
        for choice, note in zip(*captions, strict=True):
            left = self.width() - choice.sizeHint().width() - 8
            words += max(choice.sizeHint().height(), note.heightForWidth(left))
        room = self.height() - words
        widths = tuple(2.0 * shape.half_width for shape in shapes)
        heights = tuple(shape.depth + shape.foot for shape in shapes)
        # where columns stand under one another nothing else gives the drawings a height
        self.setMinimumHeight(round(words + theme.scaled(LOWEST)) if shapes else 0)
        scale = common_scale(widths, heights, wide, room)
        for canvas in canvases:
            canvas.scale = scale
            canvas.updateGeometry()
            canvas.update()
        self.bar.set_scale(scale, self.width() - type_.width(self.title, 14, True) - 12.0)

    def _pots(self, menu: Menu) -> None:
        recipe, shelf = self._bench.work.recipe, self._bench.work.shelf
        for pot in shelf.crucibles:
            menu.tick(pot.name, pot.uid == recipe.crucible, partial(self._take, "set_crucible", pot.uid))

    def _moulds(self, menu: Menu) -> None:
        recipe, shelf = self._bench.work.recipe, self._bench.work.shelf
        for mould in shelf.moulds:
            menu.tick(mould.name, mould.uid == recipe.mould, partial(self._take, "set_mould", mould.uid))

    def _take(self, edit: str, uid: str, _on: bool) -> None:
        self._bench.do(edit, uid)


def _note(parent: QWidget) -> Words:
    return Words("", 13, tone="ink2", parent=parent).align_right()


def _caption(choice: Choice, note: Words) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(8)
    row.addWidget(choice, 0, Qt.AlignmentFlag.AlignTop)
    row.addWidget(note, 1, Qt.AlignmentFlag.AlignVCenter)
    return row


def _pot_note(report: Report) -> str:
    fill = report.fill
    if fill is None:
        return "fill not known"
    if fill.melts_needed > 1:
        return f"{fill.melts_needed} melts needed"
    if fill.loose_level <= 0.0:
        return f"melt to {100.0 * fill.melt_fraction:.0f} %"
    return highest_rise(fill, report.pot.gas if report.pot else None).words


def _mould_note(report: Report) -> str:
    preheat = report.work.recipe.mould_preheat
    return "preheat not given" if preheat is None else f"preheat {preheat:.0f} °C"
