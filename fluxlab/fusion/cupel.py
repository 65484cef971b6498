"""What the cupel makes of a lead button: how heavy a cupel, what silver stays behind, when to scorify first."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fluxlab import resources


@dataclass(frozen=True, slots=True)
class CupelAdvice:
    """A cupel for a lead button: its least mass [g], the silver that it costs [%], whether to scorify first."""

    cupel: float
    silver_loss: float
    scorify: bool


def cupel_advice(button: float, silver: float) -> CupelAdvice:
    """The cupel of a lead button [g] that holds so much silver [g].

    The loss of silver is Beringer's by the silver in 20 g of lead, scaled by his figures for other masses of lead.
    """
    table = cupel_data()
    row, by_silver = table["loss"], table["loss_by_silver"]
    at_twenty = _between(20.0, row["lead"], row["percent"])
    by_lead = _between(button, row["lead"], row["percent"]) / at_twenty
    loss = _between(silver, by_silver["silver"], by_silver["percent"]) * by_lead
    return CupelAdvice(button / table["cupel"]["absorbs"], loss, button > table["cupel"]["most"])


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
