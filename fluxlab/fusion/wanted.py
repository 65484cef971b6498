"""Flour or nitre for a wanted lead button, by the litharge model and not by a rule of thumb."""

from collections.abc import Mapping

from fluxlab.fusion.litharge import litharge_fusion, sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import nitrate_alkali

_HALVINGS = 60


def reducer_for_button(
    button: float,
    sulphides: Mapping[str, float],
    melt: Melt,
    power: float,
    nitrates: Mapping[str, float] | None = None,
    other: float = 0.0,
) -> float:
    """Reducer of a lead power [g Pb per g] that is wanting for a button [g Pb]; negative where there is too much [g].

    `other` [g Pb] is what reducers throw down already, less what oxidisers other than nitrates keep up.
    """
    there = litharge_fusion(sulphides, melt, 0.0, nitrates, other)
    return (button - there.thrown_down + there.kept_up) / power


def nitre_for_button(
    button: float, sulphides: Mapping[str, float], melt: Melt, nitrate: str = "KNO3", other: float = 0.0
) -> float:
    """Nitrate that keeps a lead button from growing over the wanted one [g]; 0 where it does not.

    The alkali that the nitrate brings is counted: it holds sulphur, and nitre works better for it. `melt` is without
    it, `other` [g Pb] as in `reducer_for_button`.
    """

    def too_much(grams: float) -> float:
        salts = {nitrate: grams}
        there = Melt(melt.alkali + nitrate_alkali(salts), melt.acid)
        found = litharge_fusion(sulphides, there, 0.0, salts, other)
        return found.thrown_down - found.kept_up - button

    if too_much(0.0) <= 0.0:
        return 0.0
    low, high = 0.0, _enough(sulphides, melt, nitrate, other)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if too_much(middle) > 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _enough(sulphides: Mapping[str, float], melt: Melt, nitrate: str, other: float) -> float:
    """Nitrate that is more than enough [g]: all sulphur held as sulphate, the salt working as in an acid slag."""
    most = sulphide_lead(sulphides, Melt(melt.alkali + 1e6, melt.acid)).lead + max(other, 0.0)
    acid = litharge_fusion({}, Melt(0.0, 1.0), 0.0, {nitrate: 1.0}).kept_up
    return 1.0 + 2.0 * most / acid
