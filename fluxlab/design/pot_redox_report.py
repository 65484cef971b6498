"""Oxygen in the pot, for the report: who takes it, who gives it up, and how far the one reaches the other."""

from collections.abc import Iterator

from fluxlab.design.cautions.oxidisers import NITRE_ROUTES
from fluxlab.design.pot_text import SUBSTANCES
from fluxlab.design.pot_types import OxygenRow, RedoxReport
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Amount
from fluxlab.fusion.aim_words import aim_sentence, asked_words, sulphides_reduce
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import step_source
from fluxlab.fusion.melt import melt_of
from fluxlab.fusion.nitre import bearable, carbon_burnt
from fluxlab.fusion.pot_types import FusionCharge, InThePot
from fluxlab.fusion.pot_words import grams
from fluxlab.fusion.redox_order import sulphates
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.routes import Route, routes
from fluxlab.fusion.tables import Tables
from fluxlab.fusion.wanted import Wanting, wanting_for_button
from fluxlab.materials.flux_types import Component
from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX

_LEAST = 1e-6
_TRACE_OF_IRON = 0.002
"""Iron of the slag over the charge that is not worth a word [g/g]; judgement."""
_METAL, _IRON = "metallic iron", "computed: Fe to FeO"


def redox_report(work: Work, charge: FusionCharge, pot: InThePot, whole: float, as_asked: bool = False) -> RedoxReport:
    """Reducers against what wants reducing [g O, g Pb]; nothing more is wanted for a lead button that is `as_asked`.

    `whole` is everything that goes in [g], which has to bear the nitre that is advised.
    """
    redox, route = pot.redox, routes()[charge.route]
    judgement, told = pot.judgement, charge.tables.redox
    supply = Amount(*(max(end - redox.spare, 0.0) for end in (redox.supply, redox.supply_low, redox.supply_high)))
    name, wanted, nitre = _wanting(work, charge, redox)
    if as_asked and charge.wanted_lead is not None:
        wanted, nitre = Amount(0.0, 0.0, 0.0), 0.0
    too_much = nitre is not None and nitre > _LEAST and not _may_go_in(work, charge, nitre, whole)
    return RedoxReport(
        supply=supply,
        demand=redox.demand,
        supply_lead=_lead(supply),
        demand_lead=redox.demand * LEAD_PER_OXYGEN,
        budget=redox.budget,
        budget_low=judgement.band[0],
        budget_high=judgement.band[1],
        verdict=judgement.verdict,
        asked=asked_words(judgement),
        lead=Amount(redox.lead, redox.lead_low, redox.lead_high),
        lead_there=redox.litharge,
        ferric_percent=100.0 * redox.ferric,
        iron=_iron(work, charge, redox),
        nitre_percent=_nitre(redox),
        lead_wanted=None if too_much else charge.wanted_lead,
        reducer_name=name,
        reducer_wanted=wanted,
        nitre_wanted=None if too_much else nitre,
        pot_burnt=carbon_burnt(charge.nitrates) if charge.wall.likely > 0.0 else 0.0,
        rows=(*_takers(work, redox, charge.tables), *_givers(redox, charge.tables)),
        sentence=aim_sentence(charge, redox, pot.sulphur, judgement)
        + (_roast_first(charge, redox) if too_much else ""),
        source=told["wanted"]["source"] + "; band of the budget: " + _band_source(charge.budget, route),
    )


def _iron(work: Work, charge: FusionCharge, redox: Redox) -> str:
    """How much of the iron stays ferric, and why the slag is reckoned with another share where it is."""
    ferric = 2.0 * float(charge.slag[INDEX["Fe2O3"]])
    iron = ferric + float(charge.slag[INDEX["FeO"]])
    if iron * atomic_mass("Fe") <= _TRACE_OF_IRON * max(charge.charge, 0.0):
        return ""
    by_balance, told = 100.0 * redox.ferric, 100.0 * ferric / iron
    words = f"{by_balance:.0f} % by this balance"
    if abs(by_balance - told) < 1.0:
        return words
    own, route = work.recipe.ferric_share is not None, routes()[charge.route]
    by_route = "the wall of the pot left aside" if route.iron == "by reducer" else "as this route has it"
    return f"{words}; the slag is reckoned with {told:.0f} %, {'as you set it' if own else by_route}"


def _nitre(redox: Redox) -> Amount | None:
    if redox.given <= _LEAST:
        return None
    each = redox.efficiency
    return Amount(100.0 * each.value, 100.0 * each.low, 100.0 * each.high)


def _band_source(own: tuple[float, float] | None, route: Route) -> str:
    return route.pot_source if own in (None, route.budget) else f"the operator's own in part; else {route.pot_source}"


def _takers(work: Work, redox: Redox, tables: Tables) -> Iterator[OxygenRow]:
    sources = {flux.name: flux.source for flux in work.shelf.fluxes}
    own = {
        "sulphides": tables.litharge["sulphate"]["constant_source"],
        "pot wall": tables.redox["wall"]["source"],
    }
    for name, whole in redox.by_source.items():
        oxygen = whole - redox.spare if name == _METAL else whole
        if oxygen > _LEAST:
            source = own.get(name) or sources.get(name) or _IRON
            yield OxygenRow(name, True, oxygen, oxygen * LEAD_PER_OXYGEN, None, "", source)


def _givers(redox: Redox, tables: Tables) -> Iterator[OxygenRow]:
    for met in redox.met:
        asked, name = met.demand.oxygen, met.demand.substance
        if asked <= _LEAST:
            continue
        source = tables.redox["sulphates"]["source"] if name in sulphates() else step_source(name)
        if name in ("KNO3", "NaNO3"):
            nitre = tables.litharge["nitre"]
            source = f"{nitre['least_power_source']}; {nitre['rise_source']}"
        words = SUBSTANCES.get(name, name)
        percent = 100.0 * min(met.oxygen / asked, 1.0)
        yield OxygenRow(words, False, asked, asked * LEAD_PER_OXYGEN, percent, met.demand.becomes, source)


def _wanting(work: Work, charge: FusionCharge, redox: Redox) -> tuple[str, Amount | None, float | None]:
    """The reducer and how much more of it, or of nitre, the wanted button asks for [g]."""
    if charge.wanted_lead is None:
        return "", None, None
    reducer = _reducer(work, routes()[charge.route])
    name, power, low, high = ("", 0.0, 0.0, 0.0) if reducer is None else reducer
    more = wanting_for_button(charge.wanted_lead, redox, melt_of(charge.slag), power, tables=charge.tables)
    # a reducer beside nitre can go off: where the one is, the other is not asked for
    nitre, burns = any(g > 0.0 for g in charge.nitrates.values()), any(r.grams > 0.0 for r in charge.reducers)
    reducer_more = None if nitre or power <= 0.0 else _amount(more, power, low, high)
    return name, reducer_more, None if burns else more.nitre


def _may_go_in(work: Work, charge: FusionCharge, more: float, whole: float) -> bool:
    """Whether so much nitre more [g] passes the rules on nitrate in one feed and on raw sulphide.

    Those count nitre as it is weighed, with what is foreign in it.
    """
    pure = min((flux.purity for flux in work.shelf.fluxes if "nitrate" in flux.tags and flux.purity > 0.0), default=1.0)
    there, more = sum(charge.nitrates.values()) / pure, more / pure
    on_sulphide = charge.route in NITRE_ROUTES or bearable(0.0, sum(charge.sulphides.values()), charge.charge)
    return on_sulphide and bearable(there + more, 0.0, whole - there)


def _roast_first(charge: FusionCharge, redox: Redox) -> str:
    """Words in place of nitre that no mix could bear."""
    mend = ": roast the ore first" if sulphides_reduce(redox) else ""
    return f" Nitre enough for {grams(charge.wanted_lead or 0.0)} of lead is more than the mix can bear{mend}."


def _amount(more: Wanting, power: float, low: float, high: float) -> Amount:
    return Amount(more.reducer, more.reducer * power / high, more.reducer * power / low)


def _reducer(work: Work, route: Route) -> tuple[str, float, float, float] | None:
    """Name and lead power with its range of the reducer in the recipe, else of the route's, else of flour."""
    told = [line.flux for line in work.recipe.lines if not line.hidden]
    for uid in (*told, route.driver, "wheat-flour"):
        flux = work.shelf.flux(uid)
        if flux is not None and _is_reducer(flux):
            low, high = flux.lead_power_range or (flux.lead_power, flux.lead_power)
            return flux.name, flux.lead_power, max(low, 1e-3), max(high, flux.lead_power)
    return None


def _is_reducer(flux: Component) -> bool:
    return flux.lead_power > 0.0 and "iron" not in flux.tags


def _lead(oxygen: Amount) -> Amount:
    low, high = (None if end is None else end * LEAD_PER_OXYGEN for end in (oxygen.low, oxygen.high))
    return Amount(oxygen.value * LEAD_PER_OXYGEN, low, high)
