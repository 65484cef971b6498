"""How the charge stands in the pot, for the report."""

import math

from fluxlab.design.balance import Balance
from fluxlab.design.report_types import FillReport, Stage
from fluxlab.design.resolve import gas_formers, gas_of_ore
from fluxlab.design.rising import SWELL_LIMIT
from fluxlab.fusion.foam import Swelling, ore_swell, swollen_volume
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.materials.oxides import INDEX, MASS
from fluxlab.vessel.feeding import MOST_STAGES, Charge, plan_feeds
from fluxlab.vessel.filling import marks, stand

LOOSE_LIMIT, GAS_LIMIT, MELT_LIMIT = 2.0 / 3.0, 0.5, 0.5
_DIOXIDE = "MnO2"


def fill_report(found: Balance, tables: Tables | None = None) -> FillReport | None:
    """The heap as it lies and as it swells, and the quiet melt in the pot; None without a pot.

    `tables` hold own swell factors.
    """
    s, x = found.setting, found.x
    pot = s.pot
    if pot is None:
        return None
    loose_parts = found.fluxes.loose * x
    loose = s.heap + float(loose_parts.sum())
    melt = float(s.volumes @ found.n) + s.metal_and_more
    gassy = _gassy(found)
    swellings = [Swelling(float(v), y.swell) for v, y in zip(loose_parts, found.fluxes.yields, strict=True)]
    swollen = swollen_volume([*swellings, Swelling(s.heap, _ore_swell(found, tables or shipped_tables()))])
    feeds = s.feeds
    heap, risen = stand(pot, _fullest(loose, melt, feeds)), stand(pot, _fullest(swollen, melt, feeds))
    quiet, metal, at = stand(pot, melt), stand(pot, s.metal_volume), marks(pot)
    cover_melt = float(s.cover_volumes @ found.n)
    limit = LOOSE_LIMIT - gassy * (LOOSE_LIMIT - GAS_LIMIT)
    mass = s.charge + float(x.sum())
    per_gram = Charge(mass, loose / mass, (melt - s.metal_volume) / mass, s.metal_volume) if mass > 0.0 else _NOTHING
    plan = plan_feeds(pot, per_gram, limit)
    return FillReport(
        brim=pot.brim,
        loose_volume=loose,
        loose_fraction=heap.fraction,
        loose_level=heap.level,
        loose_from_rim=heap.from_rim,
        swollen_volume=swollen,
        swollen_fraction=risen.fraction,
        swollen_level=risen.level,
        swollen_from_rim=risen.from_rim,
        melt_volume=melt,
        melt_fraction=quiet.fraction,
        melt_level=quiet.level,
        melt_from_rim=quiet.from_rim,
        metal_volume=s.metal_volume,
        metal_level=metal.level,
        cover=pot.level(s.cover_metal + cover_melt) - pot.level(s.cover_metal),
        half_level=at.half,
        two_thirds_level=at.two_thirds,
        gas_formers=gassy >= 1.0,
        feeds=feeds,
        feeds_needed=_both(
            _feeds_needed(loose, melt, limit * pot.brim), _feeds_needed(swollen, melt, SWELL_LIMIT * pot.brim)
        ),
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


def _both(heap: int, swelling: int) -> int:
    """Feeds that keep the heap as it lies and as it swells within the limits; 0 if no number does."""
    return max(heap, swelling) if heap and swelling else 0


def _gassy(found: Balance) -> float:
    """How much the charge counts as one that gives off gas [-]: in full with any flux that does, else by the ore."""
    weighed = zip(found.fluxes.yields, found.x.tolist(), strict=True)
    if gas_formers(found.fluxes) and any("gas-former" in y.tags and grams > 0.0 for y, grams in weighed):
        return 1.0
    return gas_of_ore(found.feed)


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
