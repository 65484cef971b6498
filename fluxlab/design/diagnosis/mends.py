"""The change that a cause asks for, as edits of the recipe."""

from collections.abc import Callable
from math import isfinite

from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.roles import flux_for, reducer
from fluxlab.design.report_types import Mend
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.sulphur import iron_for_sulphur
from fluxlab.materials.flux_types import Component

Mender = Callable[[Figures], Mend | None]

MORE = 1.2  # a fifth more or less of a flux: judgement, enough to be seen in the slag
HOTTEST, STEP_UP = 1250.0, 50.0  # degC: what a small gas furnace and its pot stand, from memory; judgement
LONGEST, WAIT = 20.0, 5.0  # min: judgement
IRON_OVER = 1.2  # times what the sulphur asks: from memory
FLUORSPAR = 0.03  # part of the flux, judgement, below the limit of its target


def _now(f: Figures, component: Component) -> float:
    return next((line.grams for line in f.report.lines if line.flux == component.uid), 0.0)


def _fix(f: Figures, component: Component | None, grams: float) -> Mend | None:
    """Fix a flux at a weight [g], if it is on the shelf and the weight is another than now."""
    if component is None or not isfinite(grams):
        return None
    weight = max(0.0, round(grams, 1))
    before = _now(f, component)
    if abs(weight - before) < 0.05:
        return None
    return Mend(f"{component.name} {before:.1f} → {weight:.1f} g", "fix_weight", (component.uid, weight))


def _more(role: str, least: float = 0.05) -> Mender:
    """A fifth more of a flux, at least `least` [part of the charge] where there is none."""

    def mender(f: Figures) -> Mend | None:
        component = flux_for(f.report.work, role)
        if component is None:
            return None
        return _fix(f, component, max(MORE * _now(f, component), least * f.report.ore.charge))

    return mender


def _less(role: str) -> Mender:
    """A fifth less of a flux."""

    def mender(f: Figures) -> Mend | None:
        component = flux_for(f.report.work, role)
        if component is None or _now(f, component) <= 0.0:
            return None
        return _fix(f, component, _now(f, component) / MORE)

    return mender


def _less_reducer(f: Figures) -> Mend | None:
    found = reducer(f.report.work)
    return None if found is None or _now(f, found) <= 0.0 else _fix(f, found, _now(f, found) / MORE)


def _no_reducer(f: Figures) -> Mend | None:
    found = reducer(f.report.work)
    return None if found is None or _now(f, found) <= 0.0 else _fix(f, found, 0.0)


def _reduce_iron(f: Figures) -> Mend | None:
    """Reducer for all iron that is left ferric, on top of what there is [g]."""
    found = reducer(f.report.work)
    ferric = sum(row.grams for row in f.report.slag.oxides if row.name == "Fe2O3")
    if found is None or found.lead_power <= 0.0 or ferric <= 0.0:
        return None
    oxygen = ferric * oxygen_demand("Fe2O3")
    return _fix(f, found, _now(f, found) + oxygen * LEAD_PER_OXYGEN / found.lead_power)


def _more_reducer(f: Figures) -> Mend | None:
    found = reducer(f.report.work)
    if found is None:
        return None
    return _fix(f, found, max(MORE * _now(f, found), 0.01 * f.report.ore.charge))


def _iron(f: Figures) -> Mend | None:
    """Iron for the sulphide sulphur that copper does not hold [g]; none where nitre stands beside it."""
    ore = f.report.ore
    sulphur = sum(row.grams for row in ore.apart if row.name == "S")
    if sulphur <= 0.0 or f.tagged("nitrate") > 0.0:
        return None
    return _fix(f, flux_for(f.report.work, "iron"), IRON_OVER * iron_for_sulphur(sulphur, ore.copper))


def _less_iron(f: Figures) -> Mend | None:
    found = flux_for(f.report.work, "iron")
    return None if found is None or _now(f, found) <= 0.0 else _fix(f, found, 0.0)


def _roast_first(f: Figures) -> Mend | None:
    """Calcine into the pot, where raw material goes into it now."""
    if f.report.work.recipe.pot_feed == "calcine":
        return None
    return Mend("Roast it first", "set_pot_feed", ("calcine",))


def _hotter(f: Figures) -> Mend | None:
    hot = f.report.work.recipe.pour_temperature
    return None if hot >= HOTTEST else _pour(min(hot + STEP_UP, HOTTEST))


def _cooler(f: Figures) -> Mend | None:
    hot = f.report.work.recipe.pour_temperature
    return None if hot <= 1100.0 else _pour(max(hot - STEP_UP, 1100.0))


def _pour(celsius: float) -> Mend:
    return Mend(f"Pour at {celsius:.0f} °C", "set_pour_temperature", (celsius,))


def _longer(f: Figures) -> Mend | None:
    hold = f.report.work.recipe.hold
    if hold >= LONGEST:
        return None
    longer = min(hold + WAIT, LONGEST)
    return Mend(f"Hold {longer:.0f} min", "set_hold", (longer,))


def _in_parts(f: Figures) -> Mend | None:
    feeds = f.report.work.recipe.feeds
    wanted = max(feeds + 1, f.report.fill.feeds_needed if f.report.fill else 0)
    return Mend(f"Feed in {wanted} parts", "set_feeds", (wanted,))


def _fluorspar(f: Figures) -> Mend | None:
    found = flux_for(f.report.work, "fluorspar")
    weight = FLUORSPAR * f.report.flux_mass
    return None if found is None or _now(f, found) >= weight else _fix(f, found, weight)


def _anhydrous(f: Figures) -> Mend | None:
    """Borax glass in place of hydrated borax: a little over half the weight does the same, Beringer 1904, found."""
    shelf = f.report.work.shelf
    glass = flux_for(f.report.work, "borax")
    wet = [
        line
        for line in f.report.lines
        if (c := shelf.flux(line.flux)) and "hydrated" in c.tags and "orax" in c.name and line.grams > 0.0
    ]
    if glass is None or not wet:
        return None
    weight = round(_now(f, glass) + 0.55 * sum(line.grams for line in wet), 1)
    rows = (*((line.flux, 0.0) for line in wet), (glass.uid, weight))
    return Mend(f"{glass.name} in place of hydrated borax", "paste_weights", (rows,))


def _larger_charge(f: Figures) -> Mend | None:
    charge = f.report.work.recipe.charge
    return Mend(f"Charge {charge:.0f} → {1.5 * charge:.0f} g", "set_charge", (1.5 * charge,)) if charge > 0.0 else None


def _roast_longer(f: Figures) -> Mend | None:
    """A finish and a time that break up more sulphates, below the temperature at which lead ore with silica sinters."""
    if f.report.ore.roast is None:
        return None
    roast = f.report.work.recipe.roast
    finish, minutes = min(max(roast.finish_temperature, 740.0) + 20.0, 780.0), roast.minutes + 30.0
    if finish <= roast.finish_temperature and minutes <= roast.minutes:
        return None
    return Mend(f"Roast to {finish:.0f} °C, {minutes:.0f} min", "plan_roast", (finish, minutes))


MENDERS: dict[str, tuple[Mender, ...]] = {
    "iron-slag": (_more("silica"), _more("borax")),
    "ferric-iron": (_reduce_iron,),
    "copper-slag": (_more("litharge"), _less_reducer, _more("borax")),
    "manganese": (_more_reducer,),
    "chromite": (_more("borax"), _more("soda"), _fluorspar, _longer),
    "unfinished": (_longer, _hotter),
    "stiff-slag": (_more("borax"), _fluorspar, _hotter),
    "wrong-flux": (_more("borax"), _more("soda")),
    "quartz-left": (_in_parts, _more("soda")),
    "free-lime": (_less("soda"), _more("borax")),
    "lime-alumina": (_more("silica"), _more("borax"), _fluorspar),
    "too-basic": (_more("silica"), _more("borax")),
    "too-acid": (_more("soda"), _more("borax")),
    "litharge-spent": (_less_reducer, _more("litharge")),
    "phosphate": (_fluorspar,),
    "pot-scour": (_more("silica"),),
    "milky-solids": (_less("fluorspar"), _more("soda"), _hotter),
    "zinc-slag": (_more("silica"), _more("borax"), _more("soda")),
    "barite": (_no_reducer,),
    "matte": (_roast_first, _iron),
    "sulphate-left": (_roast_longer,),
    "speiss": (_less_iron, _roast_first),
    "base-button": (_less_reducer,),
    "sulphur-button": (_roast_first, _iron),
    "under-reduced": (_more_reducer,),
    "over-reduced": (_less_reducer,),
    "small-collector": (_larger_charge,),
    "soda-sulphide": (_iron, _roast_first),
    "alkali-sulphate": (_more("soda"),),
    "gas-formers": (_in_parts,),
    "hydrated": (_anhydrous, _in_parts),
    "nitre": (_less("nitre"),),
    "arsenic-fume": (_more("soda"),),
    "lead-fume": (_cooler,),
    "zinc-fume": (_cooler,),
    "iron-bullion": (_less_reducer, _less_iron),
    "cold-pour": (_hotter,),
    "short-hold": (_longer,),
    "roast-short": (_roast_longer,),
}


def mends(cause: str, figures: Figures) -> tuple[Mend, ...]:
    """Edits that make the change a cause asks for, as far as the recipe and the shelf allow it; the first is the one
    to try first."""
    made = (mender(figures) for mender in MENDERS.get(cause, ()))
    return tuple(mend for mend in made if mend is not None)
