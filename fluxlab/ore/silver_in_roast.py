"""Silver that a roast carries off as fume and dust."""

from collections.abc import Mapping
from math import exp

from fluxlab.materials.estimate import Estimate
from fluxlab.ore.roast_tables import settings

_STEEP, _AROUND_HOT, _LITTLE_SALT = 0.5, 10.0, 0.02
_FUMING, _SALTS = ("As", "Sb", "Te"), ("Cl", "Br", "I")


def silver_loss(elements: Mapping[str, float], finish: float, own: float | None = None) -> Estimate:
    """Silver lost in the roast [% of the silver], with its range.

    `elements` are the shares of the raw material [g/g], `finish` the highest temperature [degC], `own` the operator's
    figure [0..1]. Between the three classes of the table the figure moves smoothly. Source: memory and judgement.
    """
    s = settings()["silver"]
    if own is not None:
        return Estimate(100.0 * own, 100.0 * own, 100.0 * own, "your own figure")
    fuming = 100.0 * sum(elements.get(e, 0.0) for e in _FUMING)
    salt = 100.0 * sum(elements.get(e, 0.0) for e in _SALTS)
    much = 1.0 - (1.0 - _step((fuming - s["fuming_share"]) / _STEEP)) * (1.0 - _step((finish - s["hot"]) / _AROUND_HOT))
    salted = salt / (salt + _LITTLE_SALT)
    low, likely, high = (
        (1.0 - salted) * ((1.0 - much) * a + much * b) + salted * c
        for a, b, c in zip(s["normal"], s["fuming"], s["salt"], strict=True)
    )
    return Estimate(likely, low, high, s["source"])


def _step(x: float) -> float:
    return 1.0 / (1.0 + exp(-min(max(x, -50.0), 50.0)))
