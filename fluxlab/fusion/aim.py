"""What a route wants of a pot and whether the pot meets it: one judgement, from which every sentence about it follows.

Metal is wanted from oxides where a lead button is aimed at or the operator asks for it; the band of the budget is for
that. Elsewhere the state decides alone, and the budget at which it would change is worked out from it.
"""

from collections.abc import Sequence
from typing import Literal, get_args

from fluxlab.fusion.deportment import TO_METAL, PotState, state_trace
from fluxlab.fusion.pot_types import FusionCharge, Judgement, SulphurFate, Verdict
from fluxlab.fusion.redox_order import FERRIC
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.routes import StateName, routes
from fluxlab.fusion.tables import Table

_RANK = {name: rank for rank, name in enumerate(get_args(StateName))}
_WITH_IRON = 0.5
_MISSED = 0.01
"""Part of nitre or iron wanted that may be missing without a word [g/g]: what weighing and rounds leave open."""
_TELLING = 0.05
"""Masses below this [g] are not spoken of."""


def state_name(position: float, iron: float, states: Table) -> StateName:
    """The state of the pot in words: the nearest of the four that the shares of the metals are told for."""
    if iron > _WITH_IRON:
        return "reducing with iron"
    low, high = edges(states)
    return "oxidising" if position < low else "reducing" if position > high else "neutral"


def edges(states: Table) -> tuple[float, float]:
    """Positions between oxidising and neutral, and between neutral and reducing, by the places of the states [-]."""
    middle: float = states["neutral"]
    return (states["oxidising"] + middle) / 2.0, (middle + states["reducing"]) / 2.0


def judge(charge: FusionCharge, redox: Redox, state: PotState, fate: SulphurFate, bound: float) -> Judgement:
    """Whether the pot is as its route, or the operator, wants it; `bound` [g] of iron the sulphur could take."""
    route, states = routes()[charge.route], charge.tables.deportment["states"]
    now, metal = state_name(state.position, state.iron, states), wants_metal(charge)
    tells = redox.demand - redox.given > _trace(charge) and redox.budget is not None
    band = charge.budget or route.budget
    if route.states[0] == "reducing with iron":
        verdict, by = _by_iron(charge, redox, now, fate, bound, tells)
        return Judgement(verdict, now, route.states, metal, "iron", band, by)
    if metal or charge.budget is not None:
        wanted: tuple[StateName, ...] = ("reducing", "reducing with iron") if metal else ()
        verdict, by = _by_budget(redox, now, wanted, band) if tells else ("idle", False)
        return Judgement(verdict, now, wanted, metal, "reducer", band, by)
    band = _band_of(route.states, charge, redox)
    if route.driver_is == "oxidiser":
        return Judgement(_by_nitre(charge, redox, now, fate), now, route.states, False, "nitre", band)
    tells = metal_oxides(redox) > _trace(charge)
    return Judgement(_by_state(now, route.states) if tells else "idle", now, route.states, False, "reducer", band)


def _trace(charge: FusionCharge) -> float:
    """Oxygen or iron that hardly counts in a charge [g]."""
    return state_trace(charge.charge, charge.tables.deportment)


def wants_metal(charge: FusionCharge) -> bool:
    """Whether metal is wanted from the oxides of a charge."""
    return charge.metal_wanted or charge.wanted_lead is not None or routes()[charge.route].collects


def budget_state(budget: float, band: tuple[float, float]) -> Literal["short", "meets", "over"]:
    """Whether a budget is in its band, by the figure that is shown, so that one figure has one word."""
    shown = round(budget, 2)
    return "short" if shown < band[0] else "over" if shown > band[1] else "meets"


def ferric_left(redox: Redox) -> float:
    """Oxygen of ferric iron that no reducer reaches [g O]."""
    return sum(m.demand.oxygen - m.oxygen for m in redox.met if m.demand.substance in FERRIC)


def metal_oxides(redox: Redox) -> float:
    """Oxygen of oxides that a reducer takes down to base metal [g O]."""
    return sum(m.demand.oxygen for m in redox.met if m.demand.becomes in TO_METAL)


def _by_state(now: StateName, wanted: Sequence[StateName]) -> Verdict:
    if now in wanted or not wanted:
        return "meets"
    return "short" if _RANK[now] < min(_RANK[each] for each in wanted) else "over"


def _by_budget(
    redox: Redox, now: StateName, wanted: Sequence[StateName], band: tuple[float, float]
) -> tuple[Verdict, bool]:
    """By the budget first: nitre may take so much of it that the state still falls short."""
    found = budget_state(redox.budget or 0.0, band)
    return (_by_state(now, wanted), False) if found == "meets" else (found, True)


def _by_nitre(charge: FusionCharge, redox: Redox, now: StateName, fate: SulphurFate) -> Verdict:
    """By the sulphide that is left first: a pot that makes matte is no pot of this route, whatever its state."""
    wanted = routes()[charge.route].states
    if fate.nitre_wanted > max(_TELLING, _MISSED * sum(charge.nitrates.values())):
        return "over"
    if max(redox.given, redox.supply) <= _trace(charge) and now in wanted:
        return "idle"
    return _by_state(now, wanted)


def _by_iron(
    charge: FusionCharge, redox: Redox, now: StateName, fate: SulphurFate, bound: float, tells: bool
) -> tuple[Verdict, bool]:
    """By the iron for the sulphur first, then by the carbon beside it."""
    if bound <= _trace(charge):
        return "idle", False
    if charge.iron < fate.iron_wanted.low * (1.0 - _MISSED) or now != "reducing with iron":
        return "short", False
    over = tells and budget_state(redox.budget or 0.0, charge.budget or routes()[charge.route].budget) == "over"
    return ("over", True) if over else ("meets", False)


def _band_of(wanted: Sequence[StateName], charge: FusionCharge, redox: Redox) -> tuple[float, float]:
    """Budgets between which this charge is in a wanted state, neutral among them [-]."""
    if redox.budget is None:
        return 0.0, 0.0
    open_to = (redox.demand - redox.given) + _trace(charge)
    low, high = ((edge * open_to + redox.given) / redox.demand for edge in edges(charge.tables.deportment["states"]))
    return (0.0 if "oxidising" in wanted else max(low, 0.0)), high
