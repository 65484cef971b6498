"""From lot to calcine: the sums of the trade, their errors against simulation, and contradictions in words."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.lot import (
    calcine_grade,
    concentration_ratio,
    lot_balance,
    ratio_by_grades,
    two_product_recovery,
)
from fluxlab.ore.lot_types import MetalBalance
from fluxlab.ore.ore_types import Grade, GradeUnit, Lot, OreType

OUNCES: GradeUnit = "oz/short ton"
CHANGE, LOSS = Estimate(-25.1, -27.0, -23.0), Estimate(1.0, 0.5, 1.5, "memory and judgement")
UNROASTED = Estimate(0.0, 0.0, 0.0)
ORE = OreType(
    "o",
    "Ore",
    silver=Grade(620.0, OUNCES),
    lot=Lot(18_400.0, 663.0, silver=Grade(25.0, OUNCES), tail_silver=Grade(2.5, OUNCES)),
)


def silver_of(ore: OreType) -> MetalBalance:
    return next(m for m in lot_balance(ore, CHANGE, LOSS).metals if m.metal == "silver")


def with_own(**figures: float) -> OreType:
    """The ore with own figures of its lot."""
    assert ORE.lot is not None
    return replace(ORE, lot=replace(ORE.lot, figures=tuple(figures.items())))


@given(st.floats(0.001, 0.2), st.floats(1.5, 100.0), st.floats(0.05, 0.95))
def test_two_product_recovery_is_what_a_closed_balance_gives(head: float, ratio: float, recovery: float) -> None:
    """One part of lot, 1/ratio of it concentrate: the grades that follow give the recovery and the ratio back."""
    product = head * recovery * ratio
    tail = head * (1.0 - recovery) / (1.0 - 1.0 / ratio)
    if product <= tail * 1.001 or tail >= head * 0.999:
        return
    assert two_product_recovery(head, product, tail) == pytest.approx(recovery, rel=1e-6)
    assert ratio_by_grades(head, product, tail) == pytest.approx(ratio, rel=1e-6)


def test_ratio_enrichment_and_recovery_hang_together() -> None:
    found = lot_balance(ORE, CHANGE, LOSS)
    silver = found.metals[0]
    assert found.ratio == pytest.approx(concentration_ratio(18_400.0, 663.0))
    assert silver.enrichment is not None
    assert silver.by_weight is not None
    assert silver.enrichment.value == pytest.approx(24.8)
    assert silver.by_weight.value == pytest.approx(100.0 * silver.enrichment.value / (found.ratio or 0.0))
    assert silver.two_product is not None
    assert silver.two_product.value == pytest.approx(100.0 * 620.0 * 22.5 / (25.0 * 617.5))


def test_the_grade_rises_as_the_mass_falls() -> None:
    assert calcine_grade(620.0, -0.251, 0.01) == pytest.approx(620.0 * 0.99 / 0.749)
    silver = silver_of(ORE)
    assert silver.calcine is not None
    assert silver.calcine.value == pytest.approx(620.0 * 0.99 / 0.749)
    assert silver.calcine.low < silver.calcine.value < silver.calcine.high
    assert silver.unit == OUNCES


def test_silver_is_followed_in_grams_to_the_calcine() -> None:
    found = lot_balance(ORE, CHANGE, LOSS)
    silver = found.metals[0]
    assert silver.in_lot is not None
    assert silver.in_concentrate is not None
    assert silver.in_calcine is not None
    assert silver.in_lot.value == pytest.approx(25.0 * 34.285714e-6 * 18_400.0, rel=1e-6)
    assert silver.in_concentrate.value == pytest.approx(620.0 * 34.285714e-6 * 663.0, rel=1e-6)
    assert silver.in_calcine.value == pytest.approx(0.99 * silver.in_concentrate.value)
    assert found.calcine == pytest.approx(663.0 * 0.749)
    assert silver.recovery is not None
    assert silver.overall is not None
    assert silver.overall.value == pytest.approx(0.99 * silver.recovery.value)
    assert "memory and judgement" in silver.overall.source


def test_the_surer_recovery_is_the_one_from_three_grades_where_the_tailing_is_poor() -> None:
    silver = silver_of(ORE)
    assert silver.recovery == silver.two_product
    without = silver_of(replace(ORE, lot=replace(ORE.lot, tail_silver=None)))  # type: ignore[type-var]
    assert without.two_product is None
    assert without.recovery == without.by_weight


def test_ranges_agree_with_simulation() -> None:
    rng, n = np.random.default_rng(5), 200_000
    silver = silver_of(with_own(head=8.0, concentrate=4.0, tail=6.0, weighing=0.5))

    def drawn(value: float, error: float) -> np.ndarray:
        return value * np.exp(error / 100.0 * rng.standard_normal(n))

    h, c, t = drawn(25.0, 8.0), drawn(620.0, 4.0), drawn(2.5, 6.0)
    weights = np.exp(0.005 * np.sqrt(2.0) * rng.standard_normal(n))
    for estimate, sample in (
        (silver.two_product, 100.0 * two_product_recovery(h, c, t)),  # type: ignore[arg-type]
        (silver.by_weight, 100.0 * c / h * 663.0 / 18_400.0 * weights),
        (silver.enrichment, c / h),
    ):
        assert estimate is not None
        low, high = np.quantile(sample, (0.05, 0.95))
        assert estimate.low == pytest.approx(low, rel=0.01)
        assert estimate.high == pytest.approx(high, rel=0.01)


def test_a_very_unsure_head_gives_a_lopsided_range_between_nothing_and_all() -> None:
    """A head that may be out by 60 %, its tailing by 8 %: the range of the recovery against a simulation of its own."""
    rng, n = np.random.default_rng(7), 200_000
    silver = silver_of(with_own(head=60.0))
    assert silver.two_product is not None
    h = 25.0 * np.exp(0.60 * rng.standard_normal(n))
    c, t = (value * np.exp(off * rng.standard_normal(n)) for value, off in ((620.0, 0.04), (2.5, 0.08)))
    drawn = np.clip(100.0 * c * (h - t) / (h * (c - t)), 0.0, 100.0)
    low, high = np.quantile(drawn, (0.05, 0.95))
    assert silver.two_product.low == pytest.approx(low, abs=1.0)
    assert silver.two_product.high == pytest.approx(high, abs=1.0)
    assert silver.two_product.value - low > 2.0 * (high - silver.two_product.value)


@given(st.floats(1.0, 400.0), st.floats(1.0, 400.0), st.floats(1.0, 400.0), st.floats(0.01, 100.0))
def test_no_recovery_by_three_grades_is_less_than_nothing_or_more_than_all(
    head: float, concentrate: float, tail: float, off: float
) -> None:
    lot = Lot(silver=Grade(head), tail_silver=Grade(tail), figures=(("head", off), ("tail", off)))
    ore = OreType("o", "Ore", silver=Grade(concentrate), lot=lot)
    for metal in lot_balance(ore, UNROASTED, UNROASTED).metals:
        found = metal.two_product
        assert found is None or 0.0 <= found.low <= found.value <= found.high <= 100.0


def test_a_small_sample_of_coarse_grain_widens_the_head() -> None:
    assert ORE.lot is not None
    told = replace(ORE, lot=replace(ORE.lot, sample=50.0, top_size=5.0))
    plain, wide = silver_of(ORE), silver_of(told)
    assert plain.in_lot is not None
    assert wide.in_lot is not None
    assert wide.in_lot.high - wide.in_lot.low > 1.5 * (plain.in_lot.high - plain.in_lot.low)
    assert any("by chance alone" in issue.sentence for issue in lot_balance(told, CHANGE, LOSS).issues)


def test_a_head_grade_that_chance_alone_may_treble_tells_no_recovery_by_weight() -> None:
    lot = Lot(18_400.0, 663.0, gold=Grade(0.02, OUNCES), sample=400.0, top_size=1.0)
    found = lot_balance(replace(ORE, gold=Grade(0.35, OUNCES), lot=lot), CHANGE, LOSS)
    (gold,) = [m for m in found.metals if m.metal == "gold"]
    assert gold.in_lot is not None
    assert gold.by_weight is None
    assert gold.recovery is None
    assert any("too unsure" in issue.sentence for issue in found.issues)
    finer = replace(lot, top_size=0.1)
    (told,) = [m for m in lot_balance(replace(ORE, gold=Grade(0.35, OUNCES), lot=finer), CHANGE, LOSS).metals
               if m.metal == "gold"]  # fmt: skip
    assert told.by_weight is not None


def test_an_ore_described_raw_gives_the_head_grade() -> None:
    silver = silver_of(replace(ORE, stage="ore", silver=Grade(30.0, OUNCES), lot=Lot(1000.0, 50.0)))
    assert silver.head == pytest.approx(30.0)
    assert silver.concentrate is None
    assert silver.recovery is None


def test_gold_stays_in_the_roast() -> None:
    ore = replace(ORE, gold=Grade(100.0), lot=Lot(18_400.0, 663.0, gold=Grade(4.0)))
    gold = next(m for m in lot_balance(ore, CHANGE, LOSS).metals if m.metal == "gold")
    assert gold.kept.value == 100.0
    assert "common practice, no source" in gold.kept.source


CONTRADICTIONS = [
    (Lot(600.0, 663.0, silver=Grade(25.0, OUNCES)), "weighs more than the lot"),
    (Lot(18_400.0, 663.0, silver=Grade(700.0, OUNCES)), "no richer than the lot"),
    (Lot(18_400.0, 663.0, silver=Grade(25.0, OUNCES), tail_silver=Grade(26.0, OUNCES)), "no poorer than the lot"),
    (Lot(18_400.0, 663.0, silver=Grade(15.0, OUNCES)), "that the lot is said to hold"),
    (Lot(18_400.0, 663.0, silver=Grade(25.0, OUNCES), tail_silver=Grade(14.0, OUNCES)), "do not go together"),
    (Lot(0.0, 663.0), "A lot of 0 g is not possible"),
    (Lot(float("nan"), 663.0), "A lot of nan g is not possible"),
    (Lot(18_400.0, -1.0), "A concentrate of -1 g is not possible"),
    (Lot(18_400.0, 663.0, silver=Grade(400.0, "%")), "is not possible; it is left out"),
]


@pytest.mark.parametrize(("lot", "words"), CONTRADICTIONS, ids=lambda case: case if isinstance(case, str) else "")
def test_what_contradicts_itself_is_said(lot: Lot, words: str) -> None:
    found = lot_balance(replace(ORE, lot=lot), CHANGE, LOSS)
    said = [issue for issue in found.issues if words in issue.sentence]
    assert said
    assert said[0].severity in (Severity.WARNING, Severity.ERROR)
    assert said[0].remedy
    for metal in found.metals:
        for estimate in (metal.in_lot, metal.in_concentrate, metal.recovery, metal.overall, metal.calcine):
            assert estimate is None or np.isfinite([estimate.value, estimate.low, estimate.high]).all()


def test_a_sound_lot_has_nothing_said_against_it() -> None:
    assert lot_balance(ORE, CHANGE, LOSS).issues == ()
    assert lot_balance(replace(ORE, lot=Lot()), UNROASTED, UNROASTED).ratio is None
