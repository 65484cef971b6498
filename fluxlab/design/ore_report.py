"""The ore as it goes into the pot, for the report."""

from fluxlab.design.report_types import Amount, OreReport, RoastReport, ShareRow
from fluxlab.fusion.gas import ROOM, gas_volume
from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import MASS, OXIDES
from fluxlab.ore.feed_types import Feed, RoastBalance


def ore_report(feed: Feed) -> OreReport:
    """Shares [mass %] and masses [g] of minerals, oxides and of what stands apart, metals, roast."""
    return OreReport(
        feed=feed.stage,
        charge=feed.charge,
        minerals=tuple(ShareRow(m.name, Amount(m.likely, m.low, m.high), m.grams, m.flag) for m in feed.minerals),
        oxides=_oxides(feed),
        apart=apart_rows(feed),
        silver=feed.silver,
        gold=feed.gold,
        lead=feed.lead,
        copper=feed.copper,
        sulphur=feed.sulphur,
        arsenic=feed.arsenic,
        antimony=feed.antimony,
        silver_grade_gpt=feed.silver_grade,
        gold_grade_gpt=feed.gold_grade,
        residual_percent=feed.residual_percent,
        earthy_gangue=feed.earthy_gangue,
        bulk_density=feed.bulk_density,
        bulk_density_known=feed.bulk_known,
        roast=None if feed.roast is None else _roast(feed, feed.roast),
    )


def apart_rows(feed: Feed) -> tuple[ShareRow, ...]:
    """What the slag model does not hold [g], the most first."""
    total = feed.charge or 1.0
    rows = [
        ShareRow(name, Amount(100.0 * grams / total), grams, "not in the slag model")
        for name, grams in feed.apart.items()
        if grams > 0.0
    ]
    if feed.unnamed > 0.0:
        rows.append(ShareRow("not named by the assay", Amount(100.0 * feed.unnamed / total), feed.unnamed, "unknown"))
    return tuple(sorted(rows, key=lambda row: -row.grams))


def _oxides(feed: Feed) -> tuple[ShareRow, ...]:
    grams = feed.oxides * MASS
    rows = [
        ShareRow(OXIDES[i], Amount(float(feed.percent[i]), float(feed.low[i]), float(feed.high[i])), float(grams[i]))
        for i in range(len(OXIDES))
        if grams[i] > 0.0
    ]
    return tuple(sorted(rows, key=lambda row: -row.grams))


def _roast(feed: Feed, roast: RoastBalance) -> RoastReport:
    gases = tuple(
        (species, grams, gas_volume(grams / formula(species).mass, ROOM))
        for species, grams in sorted(roast.gases.items(), key=lambda each: -each[1])
        if grams > 0.0
    )
    return RoastReport(
        raw_mass=roast.raw,
        calcine_mass=roast.calcine,
        mass_change_percent=Amount(roast.change, roast.change_low, roast.change_high),
        oxygen_needed=roast.oxygen,
        gases=gases,
        sulphur_left=feed.sulphur,
        arsenic_left=feed.arsenic,
    )
