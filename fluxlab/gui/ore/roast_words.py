"""The roast in words and rails: weight change, what is left of sulphur and arsenic, the gas that leaves."""

from dataclasses import dataclass

from fluxlab.design.report_types import Answer, RoastReport
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.widgets.rail import RailSpec, nice_top

GAS_NAMES = {
    "SO2": "sulphur dioxide", "CO2": "carbon dioxide", "H2O": "steam", "As4O6": "white arsenic", "Hg": "mercury vapour",
    "SeO2": "selenium dioxide", "SO3": "sulphur trioxide", "O2": "oxygen",
}  # fmt: skip
POISONS = ("Hg", "As4O6", "SeO2")
DRAUGHT = "Counted at 25 °C. Roast under draught."
LEAST_GAS = 0.5
"""Gas that is not worth a word [g]."""
SO2_WARNS = 5.0
"""Sulphur dioxide from which on the roast needs a draught [g]: rule R19 of the cautions, judgement."""


@dataclass(frozen=True, slots=True)
class RoastLine:
    """One rail of the card."""

    words: str
    note: str
    rail: RailSpec | None
    figure: str
    unit: str


def roast_lines(roast: RoastReport) -> tuple[RoastLine, ...]:
    """Weight change of the roast, and what the calcine keeps of sulphur and arsenic."""
    change = roast.mass_change_percent
    low, high = change.low, change.high
    loses = change.value <= 0.0
    top = nice_top(max(abs(v) for v in (change.value, low or 0.0, high or 0.0)))
    likely = None if low is None or high is None else tuple(sorted((abs(low), abs(high))))
    wide = likely is not None and likely[1] - likely[0] >= 0.1
    note = f"likely {shown(likely[0], 1)} – {shown(likely[1], 1)}" if likely is not None and wide else ""
    rail = RailSpec(0.0, top, value=abs(change.value), likely=None if likely is None else (likely[0], likely[1]))
    first = RoastLine("Weight loss" if loses else "Weight gain", note, rail, shown(abs(change.value), 1), "%")
    return (first, *(_left(word, grams, roast.calcine_mass) for word, grams in _left_over(roast)))


def _left_over(roast: RoastReport) -> tuple[tuple[str, float], ...]:
    return (("Sulphur left", roast.sulphur_left), ("Arsenic left", roast.arsenic_left))


def _left(words: str, grams: float, calcine: float) -> RoastLine:
    percent = 100.0 * grams / calcine if calcine > 0.0 else 0.0
    note = "as sulphate" if words.startswith("Sulphur") and grams > 0.0 else ""
    return RoastLine(words, note, RailSpec(0.0, nice_top(max(percent, 1.0)), value=percent), shown(percent, 1), "%")


def gas_words(roast: RoastReport) -> tuple[Answer, str, str]:
    """How much the gas asks for attention, the gas that matters most, and the other ones [L at 25 degC]."""
    gases = [(species, grams, litres) for species, grams, litres in roast.gases if grams >= LEAST_GAS]
    poison = next(((s, g) for p in POISONS for s, g, _ in gases if s == p), None)
    sulphur = next((grams for species, grams, _ in gases if species == "SO2"), 0.0)
    litres = {s: f"{shown(v, 0 if v >= 10 else 1)} L of {GAS_NAMES.get(s, typeset(s))}" for s, _, v in gases}
    short = {s: f"{shown(v, 0 if v >= 10 else 1)} L {typeset(s)}" for s, _, v in gases}
    if poison is not None:
        rest = ", ".join(words for species, words in short.items() if species != poison[0])
        first = f"{shown(poison[1], 1)} g of {GAS_NAMES.get(poison[0], poison[0])} leaves the roast"
        return "close", first, f"{rest} besides, at 25 °C. Roast under draught." if rest else DRAUGHT
    if sulphur > SO2_WARNS:
        rest = ", ".join(words for species, words in short.items() if species != "SO2")
        first = f"{litres['SO2']} leaves the roast"
        return "close", first, f"{rest} besides, at 25 °C. Roast under draught." if rest else DRAUGHT
    return "yes", f"{', '.join(litres.values())}, at 25 °C" if litres else "No gas leaves the roast", ""
