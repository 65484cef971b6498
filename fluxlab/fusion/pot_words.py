"""What the pot says in words."""

from collections.abc import Iterator
from typing import Literal

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
    state = budget_state(redox.budget, band)
    if state != "within":
        by_ore = sulphides_reduce(redox)
        sentence = reducer_sentence(redox.budget, band, by_ore)
        yield warning("lines", sentence, _remedy(state, by_ore, charge))


def budget_state(budget: float, band: tuple[float, float]) -> Literal["short", "within", "over"]:
    """Whether the reducers are what the route works with, by the figure that is shown, so that one has one word."""
    shown = round(budget, 2)
    return "short" if shown < band[0] else "over" if shown > band[1] else "within"


def sulphides_reduce(redox: Redox) -> bool:
    """Whether most of the reducing is done by the sulphides of the ore."""
    return redox.by_source.get("sulphides", 0.0) > 0.5 * redox.supply


def reducer_sentence(budget: float, band: tuple[float, float], by_ore: bool) -> str:
    """How far the reducers go; `by_ore` where most of them are the sulphides of the ore."""
    state = budget_state(budget, band)
    if state == "over":
        first = "The sulphides of the ore make it" if by_ore else "There is"
        told = f"{first} {budget:.2f} times the reducer that the charge asks for"
        return f"{told}: more than is good; iron, a hard button and foam come of it."
    who = "The reducers, most of them sulphides of the ore, are" if by_ore else "The reducers are"
    told = f"{who} {budget:.2f} times what the charge asks of them"
    if state == "short":
        return f"{told}: too little, metal stays in the slag and iron stays ferric."
    return f"{told}, within what this route works with."


def _remedy(state: str, by_ore: bool, charge: FusionCharge) -> str:
    if state == "short":
        if any(grams > 0.0 for grams in charge.nitrates.values()):
            # a reducer beside nitre can go off
            return "Take less nitre; give no reducer beside it."
        return "Add iron." if charge.route == "iron" else "Add flour or charcoal."
    if not by_ore:
        return "Take less of the reducer."
    litharge = " or litharge" if charge.wanted_lead is None else ""
    return f"Roast the ore further, or add nitre{litharge}: no reducer is there to take away."


def _sulphur(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Bullion, melt: Melt) -> Iterator[Issue]:
    ends = found.ends
    if ends.matte.layer > _TELLING:
        silver = ends.elements["Ag"].matte if "Ag" in ends.elements else 0.0
        sentence = f"The matte would hold {grams(silver)} of silver."
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
        yield note("lines", sentence, "Soda that the program weighs has it in; where you fixed the soda, add as much.")


def _metals(charge: FusionCharge, found: Bullion) -> Iterator[Issue]:
    ends = found.ends
    arsenic = charge.elements.get("As", 0.0)
    if arsenic > charge.tables.sulphur["speiss_forms"]["least"] * charge.charge and ends.speiss.mass > _TELLING:
        sentence = "A speiss would form, which takes silver and is hard to treat."
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
