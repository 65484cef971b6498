"""How the charge stands in the pot, for the report."""

import math

from fluxlab.design.balance import Balance
from fluxlab.design.report_types import FillReport, Stage
from fluxlab.design.resolve import gas_formers
from fluxlab.fusion.foam import Swelling, foam_volume, ore_swell
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.materials.oxides import INDEX, MASS
from fluxlab.vessel.feeding import MOST_STAGES, Charge, plan_feeds
from fluxlab.vessel.filling import marks, stand

LOOSE_LIMIT, GAS_LIMIT, MELT_LIMIT = 2.0 / 3.0, 0.5, 0.5
_DIOXIDE = "MnO2"


def fill_report(found: Balance, tables: Tables | None = None) -> FillReport | None:
    """The heap, the foam line and the quiet melt in the pot; None without a pot. `tables` hold own swell factors."""
    s, x = found.setting, found.x
    pot = s.pot
    if pot is None:
        return None
    loose_parts = found.fluxes.loose * x
    loose = s.heap + float(loose_parts.sum())
    melt = float(s.volumes @ found.n) + s.metal_and_more
    with_gas = gas_formers(found.fluxes) and any(
        "gas-former" in y.tags and grams > 0.0 for y, grams in zip(found.fluxes.yields, x, strict=True)
    )
    swellings = [Swelling(float(v), y.swell) for v, y in zip(loose_parts, found.fluxes.yields, strict=True)]
    foam = foam_volume([*swellings, Swelling(s.heap, _ore_swell(found, tables or shipped_tables()))])
    feeds = s.feeds
    heap, foam_stand = stand(pot, _fullest(loose, melt, feeds)), stand(pot, _fullest(foam, melt, feeds))
    quiet, metal, at = stand(pot, melt), stand(pot, s.metal_volume), marks(pot)
    cover_melt = float(s.cover_volumes @ found.n)
    limit = GAS_LIMIT if with_gas else LOOSE_LIMIT
    mass = s.charge + float(x.sum())
    per_gram = Charge(mass, loose / mass, (melt - s.metal_volume) / mass, s.metal_volume) if mass > 0.0 else _NOTHING
    plan = plan_feeds(pot, per_gram, limit)
    return FillReport(
        brim=pot.brim,
        loose_volume=loose,
        loose_fraction=heap.fraction,
        loose_level=heap.level,
        loose_from_rim=heap.from_rim,
        foam_volume=foam,
        foam_fraction=foam_stand.fraction,
        foam_level=foam_stand.level,
        melt_volume=melt,
        melt_fraction=quiet.fraction,
        melt_level=quiet.level,
        melt_from_rim=quiet.from_rim,
        metal_volume=s.metal_volume,
        metal_level=metal.level,
        cover=pot.level(s.cover_metal + cover_melt) - pot.level(s.cover_metal),
        half_level=at.half,
        two_thirds_level=at.two_thirds,
        gas_formers=with_gas,
        feeds=feeds,
        feeds_needed=_feeds_needed(loose, melt, limit * pot.brim),
        stages=_stages(found, mass, loose, melt),
        melts_needed=plan.melts,
    )


_NOTHING = Charge(0.0, 0.0, 0.0)


def _fullest(loose: float, melt: float, feeds: int) -> float:
    """Volume in the pot when the last of equal feeds lies on the melt of those before it [cm3]."""
    return (loose + (feeds - 1) * melt) / feeds


def _feeds_needed(loose: float, melt: float, room: float) -> int:
    """Fewest equal feeds that stay within the room [cm3]; 0 if no number of them does."""
    if loose <= room:
        return 1
    if melt >= room or loose <= melt:
        return 0
    needed = math.ceil((loose - melt) / (room - melt) - 1e-9)
    return needed if needed <= MOST_STAGES else 0


def _stages(found: Balance, mass: float, loose: float, melt: float) -> tuple[Stage, ...]:
    pot, feeds = found.setting.pot, found.setting.feeds
    if pot is None or mass <= 0.0:
        return ()
    stages = []
    for before in range(feeds):
        there = before * melt / feeds + loose / feeds
        stages.append(Stage(mass / feeds, loose / feeds, stand(pot, there).from_rim))
    return tuple(stages)


def _ore_swell(found: Balance, tables: Tables) -> float:
    feed = found.feed
    if feed.charge <= 0.0:
        return ore_swell(0.0, 0.0, 0.0, False, tables.foam)
    ferric = float(feed.oxides[INDEX["Fe2O3"]] * MASS[INDEX["Fe2O3"]]) / feed.charge
    carbon = bool((found.fluxes.content("reducer") * found.x).sum() > 0.0)
    dioxide = feed.reducible.get(_DIOXIDE, 0.0) / feed.charge
    return ore_swell(feed.carbonate / feed.charge, dioxide, ferric, carbon, tables.foam)
