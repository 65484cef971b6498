"""The way to the calcine, for the report: the lot on the table, and the roast."""

from functools import lru_cache

from fluxlab.design.ore_own import figure_rows
from fluxlab.design.pot_types import FigureRow
from fluxlab.design.report_types import Amount, LotReport, MetalReport, RoastReport, RoastStep
from fluxlab.fusion.gas import ROOM, gas_volume
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import formula
from fluxlab.ore.feed_types import Feed, RoastBalance
from fluxlab.ore.lot import lot_balance
from fluxlab.ore.lot_figures import lot_figures, own_of
from fluxlab.ore.lot_types import MetalBalance
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.roast_figure_list import IGNITION, MINUTES, roast_figures
from fluxlab.ore.roast_tables import settings
from fluxlab.ore.roast_types import Pairs, RoastReading

OXYGEN_IN_AIR = 0.2095
"""Oxygen in dry air [mol/mol]: from memory, a natural constant."""
_NOTHING = Estimate(0.0, 0.0, 0.0)


def roast_report(feed: Feed, roast: RoastBalance) -> RoastReport:
    """The roast behind the charge, with its ranges, programme and warnings [g, %, L]."""
    figures = roast.figures
    fixed = figures.kind == "perfect" or figures.state.conversion == ()
    gases = tuple(
        (species, grams, gas_volume(grams / formula(species).mass, ROOM))
        for species, grams in sorted(roast.gases.items(), key=lambda each: -each[1])
        if grams > 0.0
    )
    change = Amount(roast.change, roast.change_low, roast.change_high) if fixed else _amount(figures.ranges.change)

    def left(estimate: Estimate) -> Amount:
        return Amount(estimate.value) if fixed else _amount(estimate)

    reading = figures.reading
    return RoastReport(
        raw_mass=roast.raw,
        calcine_mass=roast.calcine,
        mass_change_percent=change,
        oxygen_needed=roast.oxygen,
        gases=gases,
        sulphur_left=feed.sulphur,
        arsenic_left=feed.arsenic,
        perfect=fixed,
        kind=figures.kind,
        sulphur_percent=left(figures.ranges.sulphur),
        sulphide_sulphur_percent=left(figures.ranges.sulphide_sulphur),
        sulphate_sulphur_percent=left(figures.ranges.sulphate_sulphur),
        arsenic_percent=left(figures.ranges.arsenic),
        silver_loss_percent=_amount(figures.silver_loss),
        air_litres=_air(roast.oxygen, figures.own),
        weighed_change_percent=reading.weighed if reading is not None and reading.error > 0.0 else None,
        weight_explained=None if reading is None or not reading.error > 0.0 else reading.explained,
        explained_by=() if reading is None else _explained(reading),
        programme=tuple(
            RoastStep(s.title, s.low, s.high, s.minutes, s.action, s.source) for s in roast.programme.steps
        ),
        warnings=roast.programme.warnings,
        sources=tuple(
            dict.fromkeys((figures.ranges.sulphur.source, _air_source(figures.own), figures.silver_loss.source))
        ),
        figures=_figure_rows(tuple(m.name for m in feed.minerals), figures.own),
    )


@lru_cache(maxsize=16)
def _figure_rows(minerals: tuple[str, ...], own: Pairs) -> tuple[FigureRow, ...]:
    """The figures of the programme that speak of these minerals or of every ore, and those that the operator set."""
    there, set_before = frozenset(minerals), dict(own)
    known = {
        key: figure
        for key, figure in roast_figures().items()
        if key in set_before or not key.startswith((MINUTES, IGNITION)) or key.partition(":")[2] in there
    }
    return figure_rows(known, set_before)


def lot_report(feed: Feed, ore: OreType) -> LotReport:
    """The lot behind the concentrate, and its metals down to the calcine [g, %]."""
    figures = None if feed.roast is None else feed.roast.figures
    change = (
        _NOTHING if feed.roast is None else Estimate(feed.roast.change, feed.roast.change_low, feed.roast.change_high)
    )
    found = lot_balance(ore, change, _NOTHING if figures is None else figures.silver_loss)
    told = [e.source for m in found.metals for e in (m.recovery, m.kept) if e is not None and e.source]
    return LotReport(
        lot_mass=found.lot,
        concentrate_mass=found.concentrate,
        calcine_mass=found.calcine if feed.roast is not None else None,
        ratio=found.ratio,
        ratio_by_grades=found.ratio_by_grades,
        metals=tuple(_metal(m) for m in found.metals),
        sources=tuple(dict.fromkeys(told)),
        issues=found.issues,
        figures=figure_rows(lot_figures(ore), own_of(ore)[0]),
    )


def _metal(m: MetalBalance) -> MetalReport:
    return MetalReport(
        metal=m.metal,
        unit=m.unit,
        head=m.head,
        concentrate=m.concentrate,
        tail=m.tail,
        calcine=_maybe(m.calcine),
        in_lot=_maybe(m.in_lot),
        in_concentrate=_maybe(m.in_concentrate),
        in_calcine=_maybe(m.in_calcine),
        enrichment=_maybe(m.enrichment),
        by_weight_percent=_maybe(m.by_weight),
        two_product_percent=_maybe(m.two_product),
        recovery_percent=_maybe(m.recovery),
        kept_percent=_amount(m.kept),
        overall_percent=_maybe(m.overall),
        sampling_percent=_maybe(m.sampling),
    )


def _explained(reading: RoastReading) -> tuple[str, ...]:
    return tuple(
        f"{e.words}: {e.likely:.0f} in 100, sulphur {e.sulphur.low:.1f} to {e.sulphur.high:.1f} %"
        for e in reading.explanations
    )


def _air(oxygen: float, own: Pairs) -> Amount:
    """Air that an open tray wants for so much oxygen [g] [L at 25 degC]."""
    air = settings(own)["air"]
    just = gas_volume(oxygen / formula("O2").mass, ROOM) / OXYGEN_IN_AIR
    low, high = just * air["excess_low"], just * air["excess_high"]
    return Amount(0.5 * (low + high), low, high)


def _air_source(own: Pairs) -> str:
    """Where the air of an open tray is from."""
    air = settings(own)["air"]
    told = {air.get(f"{end}_source", air["source"]) for end in ("excess_low", "excess_high")}
    return f"air: {'; '.join(sorted(told))}"


def _amount(e: Estimate) -> Amount:
    return Amount(e.value, e.low, e.high)


def _maybe(e: Estimate | None) -> Amount | None:
    return None if e is None else _amount(e)
