"""The pot as the sharing out of elements sees it, with the figures that decide where silver ends."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from fluxlab.fusion.brought_down import bare_iron, free_metals
from fluxlab.fusion.currency import LITHARGE_PER_LEAD
from fluxlab.fusion.deportment import TO_METAL, PotState, regime_value
from fluxlab.fusion.losses import Settling
from fluxlab.fusion.matte import dissolved_sulphide
from fluxlab.fusion.melt import ALKALIS, melt_of
from fluxlab.fusion.ranges import KnobRanges
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.role import BRINGS
from fluxlab.fusion.sulphur_fate import matte_sulphur
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.fusion.where import NOBLE, Bases, Pot, where_bases
from fluxlab.fusion.where_types import Knobs, Where
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec

ALKALI = [INDEX[symbol] for symbol in ALKALIS]
"""Where the alkalis stand in the basis."""
NOTHING = Estimate(0.0, 0.0, 0.0)


def pot_of(
    elements: Mapping[str, float],
    charge: float,
    slag: Vec,
    redox: Redox,
    iron_wanted: float,
    state: PotState,
    *,
    flux_lead: float = 0.0,
    native: Mapping[str, float] | None = None,
    sulphate_sulphur: float = 0.0,
    sulphide_doubt: float = 0.0,
    tables: Tables | None = None,
) -> tuple[Pot, Estimate, Estimate]:
    """The pot of a charge, the sulphur for a matte [g S] and the iron sulphide that its slag dissolves [g].

    `elements` [g] by symbol; `slag` [mol] of the whole charge, without the alkali that sulphate took; `flux_lead` [g]
    is the lead of litharge; `iron_wanted` [g] would bind the sulphur; `sulphide_doubt` [g S] is how much
    more of it there may be.
    """
    held = {s: g for s, g in elements.items() if s not in ("S", "O")}
    lead, figures = held.get("Pb", 0.0), tables or shipped_tables()
    left, alkalinity = max(float(MASS @ slag) - redox.lead * LITHARGE_PER_LEAD, 0.0), melt_of(slag).alkalinity
    pot = Pot(
        elements=held,
        state=state,
        slag=left,
        charge=charge,
        free=free_metals(redox, native or {}, iron_wanted),
        litharge=min(flux_lead / lead, 1.0) if lead > 0.0 else 0.0,
        bare_iron=bare_iron(redox),
        tables=figures,
    )
    sulphur = matte_sulphur(redox, sulphate_sulphur, figures, sulphide_doubt)
    # what button, matte and speiss take is no slag; it hardly hangs on how much sulphide the slag dissolves
    bases = bases_of(pot, sulphur.value, dissolved_sulphide(left, alkalinity, figures.sulphur).value)
    left = float(MASS @ (slag * kept_oxides(slag_keeps(bases.elements, bare_iron(redox)))))
    return replace(pot, slag=left), sulphur, dissolved_sulphide(left, alkalinity, figures.sulphur)


def without_salt(slag: Vec, held: float) -> Vec:
    """Oxides [mol] without so much alkali [mol] that is sulphate, each alkali giving its part."""
    alkali = melt_of(slag).alkali
    left = np.array(slag, dtype=float)
    left[ALKALI] *= 1.0 - min(held / alkali, 1.0) if alkali > 0.0 else 1.0
    return left


def bases_of(pot: Pot, sulphur: float, dissolves: float) -> Bases:
    """Where the base metals of a pot end [g]; `sulphur` [g S] and `dissolves` [g] are those of `pot_of`."""
    knobs = Knobs(**dict.fromkeys(Knobs.__dataclass_fields__, 0.0) | {"sulphur": sulphur, "dissolves": dissolves})
    return where_bases(pot, knobs, pot.shares())


def slag_keeps(ends: Mapping[str, Where], no_oxide: float) -> Mapping[str, float]:
    """Share of each base metal that the slag holds as oxide [0..1]: not metal, matte, speiss, nor sulphide in it.

    What may go off as fume, and what of iron, zinc or arsenic may dissolve in the metal, is left in it: both are wide
    priors. `no_oxide` [g] of the iron is none either: metal, or of a sulphide that nothing burnt.
    """
    stays = {s: w.slag + w.fume + (0.0 if s in TO_METAL else w.button) for s, w in ends.items()}
    kept = {s: grams / ends[s].total for s, grams in stays.items() if ends[s].total > 0.0}
    if "Fe" in kept:
        iron = ends["Fe"]
        bare = max(no_oxide - iron.matte - iron.speiss, 0.0)
        kept["Fe"] = max(iron.slag + iron.fume + iron.button - bare, 0.0) / iron.total
    return {symbol: share for symbol, share in kept.items() if symbol not in NOBLE}


def kept_oxides(keeps: Mapping[str, float]) -> Vec:
    """Share of each oxide that stays in the slag (oxides) [mol/mol], by the shares of base metals that it keeps."""
    kept = np.ones(SIZE)
    for oxide, (symbol, _) in BRINGS.items():
        kept[INDEX[oxide]] = keeps.get(symbol, 1.0)
    return kept


def shipped_knobs(
    state: PotState,
    sulphur: Estimate,
    dissolves: Estimate = NOTHING,
    drops: Settling | None = None,
    figures: Mapping[str, Estimate] | None = None,
    tables: Tables | None = None,
) -> KnobRanges:
    """The figures for silver as shipped, in a pot of this state with so much sulphur for matte [g].

    The slag `dissolves` so much iron sulphide [g]. `figures` replace any figure by name.
    """
    rows = tables or shipped_tables()
    table, hang = rows.sulphur["silver"], rows.losses["unknown"]
    open_air = regime_value({**table["slag"], "neutral": 1.0}, state, rows.deportment)
    known = {
        "matte_ratio": _range(table["matte"]),
        "dissolved_ratio": _range(table["dissolved"]),
        "speiss_ratio": _range(table["speiss"]),
        "slag_ratio": _range(table["slag"], open_air),
        "trapped": Estimate(drops.trapped, drops.trapped_low, drops.trapped_high) if drops else _range(hang),
        "handling": _range(rows.deportment["handling"]),
        "sulphur": sulphur,
        "dissolves": Estimate(dissolves.value, dissolves.high, dissolves.low),
    }
    known |= {name: found for name, found in (figures or {}).items() if name in known}
    return KnobRanges(
        Knobs(**{name: each.value for name, each in known.items()}),
        Knobs(**{name: each.low for name, each in known.items()}),
        Knobs(**{name: each.high for name, each in known.items()}),
    )


def _range(row: Mapping[str, float], times: float = 1.0) -> Estimate:
    return Estimate(row["likely"] * times, row["low"] * times, row["high"] * times)
