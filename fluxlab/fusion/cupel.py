"""What the cupel makes of a lead button: how heavy a cupel, what silver stays behind, when to scorify first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log
from typing import Any

from fluxlab import resources
from fluxlab.materials.estimate import Estimate

LEAST_LEAD = 1.0
"""Lead of a button below which no cupel is worth its heat [g]; judgement."""
HARMFUL = ("Cu", "Sb")
"""What takes silver into the cupel with it, as far as it was measured."""


@dataclass(frozen=True, slots=True)
class CupelAdvice:
    """A cupel for a lead button: its least mass [g], the silver that it costs [%], whether to scorify first.

    A button that is `heavy` is scorified down to what a cupel bears, and cupel and loss are for that.
    `silver_loss` is None where the button holds no silver. `harmful` are copper and antimony of the button [g],
    `beyond` those of them of which there is more than was ever measured on a cupel: the loss is then a least one.
    `extrapolated` tells that lead or silver lies beyond what was measured.
    """

    cupel: float
    silver_loss: Estimate | None
    scorify: bool
    heavy: bool
    harmful: Mapping[str, float]
    beyond: tuple[str, ...]
    extrapolated: bool


def cupel_advice(metals: Mapping[str, float]) -> CupelAdvice | None:
    """The cupel of a lead button by its metals [g]; None where it holds hardly any lead."""
    table, lead, silver = cupel_data(), metals.get("Pb", 0.0), metals.get("Ag", 0.0)
    if lead < LEAST_LEAD:
        return None
    most = table["cupel"]["most"]
    harmful = {symbol: metals[symbol] for symbol in HARMFUL if metals.get(symbol, 0.0) > 0.0}
    on_it = min(lead, most)
    with_it = {symbol: grams * on_it / lead for symbol, grams in harmful.items()}
    beyond = tuple(symbol for symbol in harmful if _over_measured(symbol, harmful[symbol], lead, table["base"]) > 1.0)
    return CupelAdvice(
        cupel=on_it / table["cupel"]["absorbs"],
        silver_loss=_loss(on_it, silver, with_it, table) if silver > 0.0 else None,
        scorify=lead > most or bool(beyond),
        heavy=lead > most,
        harmful=harmful,
        beyond=beyond,
        extrapolated=not (_within(on_it, table["loss"]["lead"]) and _within(silver, table["loss_by_silver"]["silver"])),
    )


def _loss(lead: float, silver: float, harmful: Mapping[str, float], table: Mapping[str, Any]) -> Estimate:
    """Silver that stays in the cupel [%].

    Likely: the loss by the silver in 20 g of lead, times how it goes with the lead. The low end has a greater silver
    lose ever less, as the last two of the series do, and lead above 20 g no influence; the high end is that of a clear
    yellow heat, with lead below 20 g of no help.
    """
    row, by_silver, heat = table["loss"], table["loss_by_silver"], table["loss_by_heat"]
    by_lead = _between(lead, row["lead"], row["percent"]) / _between(by_silver["lead"], row["lead"], row["percent"])
    at_twenty = _between(silver, by_silver["silver"], by_silver["percent"])
    base, most = (_times_base(lead, harmful, table["base"], held) for held in (True, False))
    low = at_twenty * _falls_on(silver, by_silver) * min(by_lead, 1.0) * base
    high = at_twenty * max(by_lead, 1.0) * most * heat["clear_yellow"] / heat["bright_red"]
    return Estimate(at_twenty * by_lead * base, low, min(high, 100.0))


def _times_base(lead: float, harmful: Mapping[str, float], base: Mapping[str, float], held: bool) -> float:
    """By how much copper and antimony raise the loss [-], by their share of the lead; `held` at what was measured."""
    times = 1.0
    for symbol, grams in harmful.items():
        over = _over_measured(symbol, grams, lead, base)
        times += (base[f"with_{symbol}"] / base["plain"] - 1.0) * (min(over, 1.0) if held else over)
    return times


def _over_measured(symbol: str, grams: float, lead: float, base: Mapping[str, float]) -> float:
    """A metal of the button over the share of the lead for which its harm was measured [-]."""
    return (grams / lead) / (base[symbol] / base["lead"])


def _falls_on(silver: float, series: Mapping[str, Sequence[float]]) -> float:
    """How much less a greater silver than the greatest measured loses, if the series went on as it ends [-]."""
    (m1, m2), (p1, p2) = series["silver"][-2:], series["percent"][-2:]
    return (m2 / silver) ** (log(p1 / p2) / log(m2 / m1)) if silver > m2 else 1.0


def _within(x: float, xs: Sequence[float]) -> bool:
    return x <= 0.0 or xs[0] <= x <= xs[-1]


def cupel_data() -> dict[str, Any]:
    """The tables of resources/fusion/cupel.toml."""
    return resources.toml("fusion/cupel.toml")


def _between(x: float, xs: Sequence[float], ys: Sequence[float]) -> float:
    """Straight lines through the points, the ends carried on flat."""
    if x <= xs[0]:
        return ys[0]
    for i in range(1, len(xs)):
        if x <= xs[i]:
            return ys[i - 1] + (ys[i] - ys[i - 1]) * (x - xs[i - 1]) / (xs[i] - xs[i - 1])
    return ys[-1]
