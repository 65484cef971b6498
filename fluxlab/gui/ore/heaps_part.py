"""From raw to calcine: the material behind this charge as heaps."""

from dataclasses import replace

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import Report
from fluxlab.gui import theme
from fluxlab.gui.ore import explanations
from fluxlab.gui.ore.heaps import Heap, draw_heaps
from fluxlab.gui.tables.numbers import shown
from fluxlab.ore.ore_types import OreType

LOT_DENSITY = 1.6
"""Bulk density of a crushed lot [g/cm3]; judgement."""
RAW = {"ore": "raw ore", "concentrate": "concentrate", "calcine": "calcine"}


def raw_density(ore: OreType) -> float:
    """Bulk density of the described material, as estimated from its minerals [g/cm3]."""
    from fluxlab.ore.feed import feed

    return feed(replace(ore, bulk_density=None), ore.stage, 1.0).bulk_density


def mass_words(grams: float) -> str:
    """A mass as a heap is labelled."""
    if grams >= 10_000:
        return f"{shown(grams / 1000, 1)} kg"
    return f"{shown(grams, 0 if grams >= 1000 else 1)} g"


def heaps_of(report: Report) -> tuple[Heap, ...]:
    """The heaps of a recipe: what is roasted and the calcine, or what goes into the pot as it is."""
    ore, recipe = report.ore, report.work.recipe
    if not ore.bulk_density > 0.0:
        return ()
    pot = Heap(ore.charge / ore.bulk_density, mass_words(ore.charge), RAW[recipe.pot_feed], warm=ore.roast is not None)
    if ore.roast is None:
        return (replace(pot, name=f"{RAW[recipe.pot_feed]}, into the pot"),)
    raw = raw_density(recipe.ore)
    before = Heap(ore.roast.raw_mass / raw, mass_words(ore.roast.raw_mass), f"{RAW[recipe.ore.stage]}, dry")
    roasted = replace(pot, reached_by="roast")
    lot = _lot_behind(report, ore.roast.raw_mass)
    return (before, roasted) if lot is None else (lot, replace(before, reached_by="table"), roasted)


def _lot_behind(report: Report, concentrate: float) -> Heap | None:
    """The part of the lot that this much concentrate [g] was won from, None where it cannot be told."""
    lot = report.ore.lot
    if lot is None or lot.ratio is None or report.work.recipe.ore.stage != "concentrate":
        return None
    grams = concentrate * lot.ratio
    return Heap(grams / LOT_DENSITY, mass_words(grams), "lot, its part")


class HeapsPart(QWidget):
    """The drawing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.explanation = explanations.HEAPS
        self._heaps: tuple[Heap, ...] | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def show_report(self, report: Report, known: bool = True) -> None:
        """Show the heaps of a recipe; of what is not known only the ground is drawn."""
        heaps = heaps_of(report) if known else ()
        if heaps == self._heaps:
            return
        self._heaps = heaps
        words = ", then ".join(f"{heap.mass_text} {heap.name}" for heap in heaps) or "none"
        self.setAccessibleName(f"Heaps to scale by volume: {words}")
        self.update()

    @property
    def heaps(self) -> tuple[Heap, ...]:
        """The heaps shown."""
        return self._heaps or ()

    def sizeHint(self) -> QSize:
        """Lower than in the picture, where three heaps stood."""
        return QSize(330, theme.scaled(98))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the heaps."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw_heaps(painter, QRectF(self.rect()).adjusted(0, 2, 0, -2), self._heaps or (), theme.tokens())
