"""The roast in words and rails: weight change, what is left of sulphur and arsenic, the gas that leaves."""

from collections.abc import Sequence

from fluxlab.design.report_types import Amount, Answer, Caution, RoastReport
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.numbers import shown
from fluxlab.gui.widgets.rail import RailSpec, nice_top
from fluxlab.gui.widgets.rail_lines import RailLine

GAS_NAMES = {
    "SO2": "sulphur dioxide", "CO2": "carbon dioxide", "H2O": "steam", "As4O6": "white arsenic", "Hg": "mercury vapour",
    "SeO2": "selenium dioxide", "SO3": "sulphur trioxide", "O2": "oxygen", "Sb4O6": "antimony oxide",
}  # fmt: skip
RULES = {"R15": ("Hg",), "R16": ("As4O6",), "R17": ("Sb4O6", "SeO2"), "R19": ("SO2",)}
"""The caution rules that speak of what leaves a roast, each with its gases; the worst to breathe first."""
LEAST_GAS = 0.5
"""Gas that is not worth a word where no rule speaks of it [g]."""


def roast_lines(roast: RoastReport) -> tuple[RailLine, ...]:
    """Weight change of the roast, and what the calcine keeps of sulphur and arsenic."""
    if roast.perfect:
        left = (("Sulphur left", roast.sulphur_left), ("Arsenic left", roast.arsenic_left))
        return (_change(roast), *(_none_or(words, grams, roast.calcine_mass) for words, grams in left))
    return (
        _change(roast),
        _left("Sulphur left", roast.sulphur_percent),
        _left("Arsenic left", roast.arsenic_percent),
    )


def _change(roast: RoastReport) -> RailLine:
    """The change of weight, predicted (blade, range) against weighed (ring)."""
    change, weighed = roast.mass_change_percent, roast.weighed_change_percent
    sign = -1.0 if change.value <= 0.0 else 1.0
    ends = [sign * v for v in (change.value, change.low, change.high, weighed) if v is not None]
    low, high = (
        (None, None) if change.low is None or change.high is None else sorted((sign * change.low, sign * change.high))
    )
    rail = RailSpec(
        -nice_top(-min(ends)) if min(ends) < 0.0 else 0.0,
        nice_top(max(ends)),
        value=abs(change.value),
        likely=None if low is None or high is None else (low, high),
        seen=None if weighed is None else sign * weighed,
    )
    words = "Weight loss" if sign < 0.0 else "Weight gain"
    words += "" if weighed is None else " by plan"
    note = _range_words(low, high) if weighed is None else _weighed_words(sign * weighed, low, high)
    return RailLine(words, note, rail, shown(abs(change.value), 1), "%")


def _range_words(low: float | None, high: float | None, places: int = 1) -> str:
    if low is None or high is None or high - low < 10.0**-places:
        return ""
    return f"likely {shown(low, places)} – {shown(high, places)}".replace("-", "−")


def _weighed_words(weighed: float, low: float | None, high: float | None) -> str:
    agrees = low is not None and high is not None and low <= weighed <= high
    return f"weighed {shown(weighed, 1)}, {'agrees' if agrees else 'off the range'}".replace("-", "−")


def _left(words: str, left: Amount) -> RailLine:
    low, high = left.low, left.high
    top = nice_top(max(left.value, high or 0.0, 0.5))
    likely = None if low is None or high is None else (low, high)
    return RailLine(
        words, _range_words(low, high), RailSpec(0.0, top, value=left.value, likely=likely), shown(left.value, 1), "%"
    )


def _none_or(words: str, grams: float, calcine: float) -> RailLine:
    percent = 100.0 * grams / calcine if calcine > 0.0 else 0.0
    note = "as sulphate" if words.startswith("Sulphur") and grams > 0.0 else ""
    return RailLine(words, note, RailSpec(0.0, nice_top(max(percent, 1.0)), value=percent), shown(percent, 1), "%")


def roast_sentences(roast: RoastReport) -> tuple[str, ...]:
    """What the rails cannot say: which roasts explain the weight, how the sulphur is held, silver, air, and the
    grounds."""
    if roast.perfect:
        return ()
    told = []
    if roast.weight_explained:
        told.append(f"Roasts that fit the weight: {'; '.join(roast.explained_by)}.")
    told.append(
        f"Sulphur as sulphide {_span(roast.sulphide_sulphur_percent, 1)}, as sulphate"
        f" {_span(roast.sulphate_sulphur_percent, 1)} % of the calcine."
    )
    grounds, silver = roast.sources[0], roast.sources[-1].partition(":")[0]
    told.append(
        f"Silver lost {_span(roast.silver_loss_percent, 1)} % of it ({silver}), not taken off above."
        f" An open tray wants {_span(roast.air_litres, 0)} L of air."
    )
    return (*told, f"Ranges are nine in ten: {grounds}.")


def _span(amount: Amount, places: int) -> str:
    if amount.low is None or amount.high is None or amount.high - amount.low < 10.0**-places:
        return shown(amount.value, places)
    return f"{shown(amount.low, places)} – {shown(amount.high, places)}"


def gas_words(roast: RoastReport, cautions: Sequence[Caution]) -> tuple[Answer, str, str]:
    """How much the gas asks for attention, the gas that matters most, and the other ones [L at 25 degC].

    The answer is that of the caution rules, whatever the mass: a block is a no, with the words of its rule.
    """
    ruled = sorted(
        (c for c in cautions if c.rule in RULES), key=lambda c: (c.level != "block", list(RULES).index(c.rule))
    )
    counted = [species for c in ruled for species in RULES[c.rule]]
    gases = [each for each in roast.gases if each[1] >= LEAST_GAS or each[0] in counted]
    if not ruled:
        return "yes", f"{_litres(gases)}, at 25 °C" if gases else "No gas leaves the roast", ""
    worst = ruled[0]
    first, named = _worst_words(gases, worst)
    short = ", ".join(f"{_volume(v)} L {typeset(species)}" for species, _, v in gases if species != named)
    rest = f"{short} besides, at 25 °C. " if short else "Counted at 25 °C. " if named else ""
    return "no" if worst.level == "block" else "close", first, rest + worst.sentence


def _worst_words(gases: Sequence[tuple[str, float, float]], worst: Caution) -> tuple[str, str]:
    """The gas that a rule speaks of, and its species; where none of it leaves the roast, the rule's own reason."""
    for species, grams, litres in gases:
        if species in RULES[worst.rule]:
            mass = species != "SO2"
            much = f"{_mass(grams)} g" if mass else f"{_volume(litres)} L"
            return f"{much} of {GAS_NAMES[species]} leaves the roast", species
    return f"{worst.title}: {worst.because}", ""


def _litres(gases: Sequence[tuple[str, float, float]]) -> str:
    return ", ".join(f"{_volume(v)} L of {GAS_NAMES.get(species, typeset(species))}" for species, _, v in gases)


def _mass(grams: float) -> str:
    if grams < 0.0001:
        return f"less than {shown(0.0001, 4)}"
    return shown(grams, next((places for places, least in ((1, 1.0), (2, 0.1), (3, 0.01)) if grams >= least), 4))


def _volume(litres: float) -> str:
    return shown(litres, 0 if litres >= 10.0 else 1)
