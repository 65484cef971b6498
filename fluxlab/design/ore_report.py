"""The ore as it goes into the pot, for the report."""

from fluxlab.design.report_types import Amount, OreReport, ShareRow
from fluxlab.design.roast_report import lot_report, roast_report
from fluxlab.materials.oxides import MASS, OXIDES
from fluxlab.ore.feed_types import Feed
from fluxlab.ore.ore_types import OreType


def ore_report(feed: Feed, ore: OreType) -> OreReport:
    """Shares [mass %] and masses [g] of minerals, oxides and of what stands apart, metals, roast, lot."""
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
        roast=None if feed.roast is None else roast_report(feed, feed.roast),
        lot=None if ore.lot is None else lot_report(feed, ore),
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
