"""The caution rules: which of them a plan meets, how grave, and why.

Words, sources and who may lift a block are data (resources/cautions.toml); the condition of each rule stands here.
"""

from collections.abc import Callable
from functools import cache

from fluxlab import resources
from fluxlab.design.facts import Facts
from fluxlab.design.report_types import Caution, CautionLevel

Finding = tuple[CautionLevel, str] | None

MOISTURE_LIMIT = 0.5  # mass %, judgement
MOULD_LIMIT = 120.0  # degC, judgement: moisture is off the wall above it
HEAP_LIMIT = 2 / 3  # of the brim, judgement
FOAM_LIMIT = 0.9  # of the brim, judgement
NITRE_SHARE_LIMIT = 12.0  # mass % of one feed, judgement
NITRE_SHARE_LIMIT_LITHARGE = 15.0  # with twice its weight of litharge in a clay pot, in feeds; judgement
NITRE_ENERGY_LIMIT = 0.30  # kJ/g of one feed, judgement
NITRE_WITH_FUEL_LIMIT = 2.0  # mass %, judgement
SULPHIDE_LIMIT = 10.0  # mass % of the charge, judgement
ARSENIC_BLOCK, ARSENIC_WARN = 0.5, 0.05  # g in a batch, judgement
FLUORSPAR_LIMIT = 10.0  # mass % of the flux, judgement


def _damp(f: Facts) -> Finding:
    if f.moisture > MOISTURE_LIMIT:
        return "block", f"the charge holds {f.moisture:.3g} % moisture"
    return None if f.dry else ("block", "not confirmed dry")


def _mould(f: Facts) -> Finding:
    if f.mould_preheat is None:
        return "block", "the mould's temperature is not confirmed"
    if f.mould_preheat < MOULD_LIMIT:
        return "block", f"the mould is planned at {f.mould_preheat:.0f} °C"
    return None


def _heap(f: Facts) -> Finding:
    if f.heap_fraction is not None and f.heap_fraction > HEAP_LIMIT + 1e-9:
        return "block", f"the heap fills {100 * f.heap_fraction:.0f} % of the pot"
    return None


def _foam(f: Facts) -> Finding:
    if f.foam_fraction is not None and f.foam_fraction > FOAM_LIMIT:
        return "block", f"the swelling charge needs {100 * f.foam_fraction:.0f} % of the pot"
    return None


def _litharge_cools(f: Facts) -> bool:
    # Much litharge takes up the heat and the charge melts early; only then are larger doses of nitre usual.
    routes = ("nitre", "lead collection")
    enough = f.litharge >= 2 * (f.nitre + f.raw_sulphide)
    return f.route in routes and enough and f.pot_material == "clay" and f.feeds > 1


def _nitre_load(f: Facts) -> Finding:
    if f.nitre <= 0:
        return None
    over = f.nitre_share > NITRE_SHARE_LIMIT or f.nitre_energy > NITRE_ENERGY_LIMIT
    because = f"{f.nitre_share:.1f} % nitrate in one feed, {f.nitre_energy:.2f} kJ per gram"
    if not over:
        return None
    if _litharge_cools(f) and f.nitre_share <= NITRE_SHARE_LIMIT_LITHARGE:
        return "warn", because
    return "block", because


def _nitre_with_fuel(f: Facts) -> Finding:
    if f.nitre_share > NITRE_WITH_FUEL_LIMIT and f.reducers:
        return "block", f"{f.nitre_share:.1f} % nitrate beside {', '.join(f.reducers)}"
    return None


def _nitre_on_sulphide(f: Facts) -> Finding:
    if f.nitre <= 0 or f.raw_sulphide_share <= SULPHIDE_LIMIT:
        return None
    because = f"{f.raw_sulphide_share:.0f} % raw sulphide with {f.nitre:.3g} g nitrate"
    if f.route in ("nitre", "lead collection"):
        load = _nitre_load(f)
        return None if load is None else (load[0], because)
    return "block", because


def _forbidden(f: Facts) -> Finding:
    return ("block", ", ".join(f.forbidden)) if f.forbidden else None


def _mercury(f: Facts) -> Finding:
    return ("block", f"{f.mercury:.3g} g mercury in this batch") if f.mercury > 0 else None


def _arsenic(f: Facts) -> Finding:
    because = f"{f.arsenic:.2g} g arsenic in this batch"
    if f.arsenic > ARSENIC_BLOCK:
        return "block", because
    return ("warn", because) if f.arsenic > ARSENIC_WARN else None


def _lead(f: Facts) -> Finding:
    return ("warn", f"{f.lead:.3g} g lead in the charge") if f.lead > 0 else None


def _fluoride(f: Facts) -> Finding:
    if f.fluorspar_share <= 0:
        return None
    if f.hydrated_with_fluoride:
        return "block", f"fluorspar beside {', '.join(f.hydrated_with_fluoride)}"
    if not f.dry or f.moisture > MOISTURE_LIMIT:
        return "block", "fluorspar in a charge that is not confirmed dry"
    if f.fluorspar_share > FLUORSPAR_LIMIT:
        return "warn", f"{f.fluorspar_share:.1f} % of the flux is fluorspar"
    return None


def _scrap(f: Facts) -> Finding:
    return ("block", "scrap is noted in the charge") if f.scrap else None


CONDITIONS: dict[str, Callable[[Facts], Finding]] = {
    "R01": _damp,
    "R02": _mould,
    "R05": _heap,
    "R07": _foam,
    "R09": _nitre_load,
    "R11": _nitre_with_fuel,
    "R12": _nitre_on_sulphide,
    "R14": _forbidden,
    "R15": _mercury,
    "R16": _arsenic,
    "R18": _lead,
    "R20": _fluoride,
    "R44": _scrap,
}

_GRAVITY = {"block": 0, "warn": 1, "caution": 2}


@cache
def _words(rule: str) -> dict[str, str]:
    table = resources.toml("cautions.toml")[rule]
    return {key: str(value) for key, value in table.items()}


def cautions(facts: Facts) -> tuple[Caution, ...]:
    """The rules that a plan meets, the gravest first."""
    found = []
    for rule, condition in CONDITIONS.items():
        finding = condition(facts)
        if finding is None:
            continue
        level, because = finding
        words = _words(rule)
        lift = words["lift"] if level == "block" else "cause"
        assert lift in ("never", "operator", "cause")
        found.append(
            Caution(rule, level, words["title"], words["sentence"], because, lift, words["source"])  # type: ignore[arg-type]
        )
    return tuple(sorted(found, key=lambda c: (_GRAVITY[c.level], c.rule)))


def outstanding(found: tuple[Caution, ...], confirmed: frozenset[str] = frozenset()) -> tuple[Caution, ...]:
    """Blocks that stand: those that nobody may lift, and those the operator has not confirmed."""
    return tuple(c for c in found if c.level == "block" and not (c.lift == "operator" and c.rule in confirmed))
