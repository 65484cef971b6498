"""What the pot says in words."""

from collections.abc import Iterator

from fluxlab.fusion.bullion import Bullion
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.pot_types import FusionCharge, SulphurFate
from fluxlab.fusion.redox_types import Redox
from fluxlab.issue import Issue, note, warning
from fluxlab.materials.formulas import formula

_TELLING = 0.05
"""Masses below this [g] are not spoken of."""
_SODA = formula("Na2CO3").mass
_MERCURY = "Hg"


def grams(value: float) -> str:
    """A mass [g] in words, as fine as it is worth."""
    if value >= 99.5:
        return f"{value:.0f} g"
    if value >= 9.95:
        return f"{value:.1f} g"
    if value >= 0.1:
        return f"{value:.2f} g"
    return f"{value * 1000:.0f} mg" if value >= 0.0005 else "0 g"


def pot_issues(
    charge: FusionCharge,
    redox: Redox,
    fate: SulphurFate,
    found: Bullion,
    melt: Melt,
    budget: tuple[float, float],
) -> tuple[Issue, ...]:
    """What the operator should know of what the pot makes of his charge."""
    return (
        *_budget(redox, budget, charge),
        *_sulphur(charge, redox, fate, found, melt),
        *_metals(charge, found),
    )


def _budget(redox: Redox, band: tuple[float, float], charge: FusionCharge) -> Iterator[Issue]:
    wanted = redox.demand - redox.given
    if redox.budget is None or wanted <= 0.002 * charge.charge:
        return
    low, high = band
    if redox.budget < low:
        sentence = f"The reducers meet {100 * redox.budget:.0f} % of what the charge asks: metal stays in the slag."
        yield warning("lines", sentence, "Add flour or charcoal, or take less nitre.")
    elif redox.budget > high:
        sentence = f"There is {redox.budget:.1f} times the reducer that the charge asks for."
        yield warning("lines", sentence, "Take less: iron, a hard button and foam come of it.")


def _sulphur(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Bullion, melt: Melt) -> Iterator[Issue]:
    ends = found.ends
    if ends.matte.layer > _TELLING:
        silver = ends.elements["Ag"].matte if "Ag" in ends.elements else 0.0
        sentence = (
            f"About {grams(ends.matte.layer)} of matte would lie on the button and hold {grams(silver)} of silver."
        )
        iron, nitre = fate.iron_wanted.value, fate.nitre_wanted
        ways = ["Roast again"]
        if iron > _TELLING and charge.iron < fate.iron_wanted.low:
            ways.append(f"take {grams(iron)} of iron in all")
        if nitre > _TELLING:
            ways.append(f"in a clay pot burn the sulphide with about {grams(nitre)} of nitre")
        yield warning("ore", sentence, f"{', or '.join(ways)}.")
    sulphide = fate.matte + fate.free
    share = charge.tables.sulphur["soda_slag"]["share"]
    if sulphide > max(share * melt.alkali * _SODA, _TELLING) and melt.alkali > 0.0 and charge.iron <= 0.0:
        sentence = "Soda and sulphide without iron make a slag that dissolves silver."
        yield warning("lines", sentence, "Add metallic iron, so that the sulphur ends as iron sulphide.")
    if fate.soda_used > _TELLING:
        sentence = f"Sulphur takes up {grams(fate.soda_used)} of soda as sulphate: that much is no flux."
        yield note("lines", sentence, "Add as much soda again.")


def _metals(charge: FusionCharge, found: Bullion) -> Iterator[Issue]:
    ends = found.ends
    arsenic = charge.elements.get("As", 0.0)
    if arsenic > charge.tables.sulphur["speiss_forms"]["least"] * charge.charge and ends.speiss.mass > _TELLING:
        sentence = f"About {grams(ends.speiss.mass)} of speiss would form; it takes silver and is hard to treat."
        yield warning("ore", sentence, "Roast the arsenic off under capture, and keep iron out of the charge.")
    vapour = ends.elements["As"].fume if "As" in ends.elements else 0.0
    if vapour > _TELLING:
        sentence = f"About {grams(vapour)} of arsenic leaves as vapour, which is poison."
        yield warning("ore", sentence, "Roast the arsenic off under capture before the melt; never breathe the fume.")
    if charge.elements.get(_MERCURY, 0.0) > 0.0:
        sentence = "All mercury leaves as vapour."
        yield warning("ore", sentence, "Do not melt this: mercury has to be taken off in a retort first.")
    held = sum(charge.elements.get(metal, 0.0) for metal in ("Ag", "Au"))
    if held > 0.0 and not found.parts:
        yield warning("ore", "No metal comes down: all silver and gold stay in matte and slag.", "Add a collector.")
