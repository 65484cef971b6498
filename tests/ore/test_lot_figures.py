"""The operator's own figures of the lot: each moves what it should, and the senseless are refused."""

from dataclasses import replace
from math import log, sqrt

import pytest

from fluxlab.materials.estimate import NINE_IN_TEN, Estimate
from fluxlab.ore.lot import lot_balance
from fluxlab.ore.lot_figures import figures_of, lot_figures
from fluxlab.ore.lot_types import LotBalance, MetalBalance
from fluxlab.ore.ore_types import Grade, Lot, OreType
from fluxlab.ore.own_figures import named, refusal

CHANGE, LOSS = Estimate(-10.0, -10.0, -10.0), Estimate(1.0, 1.0, 1.0)
LOT = Lot(10_000.0, 500.0, silver=Grade(300.0), tail_silver=Grade(60.0), sample=800.0, top_size=2.0)
ORE = OreType("o", "Ore", silver=Grade(5000.0), lot=LOT)


def balance(**own: float) -> LotBalance:
    return lot_balance(replace(ORE, lot=replace(LOT, figures=tuple(own.items()))), CHANGE, LOSS)


def silver(**own: float) -> MetalBalance:
    return balance(**own).metals[0]


def width(found: Estimate | None) -> float:
    assert found is not None
    return found.high / found.low


def variance(found: Estimate | None) -> float:
    """Square of the relative standard deviation [%²] behind a log-normal nine-in-ten range."""
    return (100.0 * log(width(found)) / (2.0 * NINE_IN_TEN)) ** 2


def said(**own: float) -> str:
    return " ".join(issue.sentence for issue in balance(**own).issues)


def off(**own: float) -> float:
    found = silver(**own).sampling
    assert found is not None
    return found.value


def test_shipped_figures_given_as_own_change_no_number() -> None:
    shipped = {key: figure.shipped for key, figure in lot_figures(ORE).items()}
    same, usual = balance(**shipped), balance()
    for one, other in zip(same.metals, usual.metals, strict=True):
        assert one.two_product is not None
        assert other.two_product is not None
        assert (one.two_product.low, one.two_product.high) == (other.two_product.low, other.two_product.high)
        assert one.sampling == other.sampling
    assert (same.ratio, same.issues) == (usual.ratio, usual.issues)


def test_every_figure_stands_inside_its_limits_with_its_source() -> None:
    for figure in lot_figures(ORE).values():
        assert figure.least < figure.shipped <= figure.most
        assert figure.source
        assert figure.group


def test_the_sampling_error_is_that_of_a_sum_by_hand() -> None:
    """300 g/t of silver is 344.5 g/t of Ag2S (87.06 % silver): a = 0.0003446, c = 7.22 (1 - a)^2/a + 2.65 (1 - a).

    c = 20 940; variance = 0.5 x 0.25 x 20 940 x 1 x 0.2^3 x (1/800 - 1/10 000) = 0.02408; its root is 15.5 %.
    """
    assert off() == pytest.approx(15.52, abs=0.02)
    found = silver().sampling
    assert found is not None
    assert found.low == pytest.approx(found.value / 2.0)
    assert found.high == pytest.approx(found.value * 2.0)
    assert "from memory" in found.source


def test_own_errors_widen_what_they_enter_and_nothing_else() -> None:
    """Small errors of c(h - t)/(h(c - t)): the tailing counts with t/(c - t) - t/(h - t)."""
    shipped = silver()
    counts = 60.0 / (5000.0 - 60.0) - 60.0 / (300.0 - 60.0)
    sure = {"head": 0.01, "concentrate": 0.01, "shape": 0.01, "grading": 0.01, "liberation": 0.001}
    for off in (0.5, 1.0):
        assert variance(silver(tail=off, **sure).two_product) == pytest.approx(counts**2 * off**2, rel=0.05)
    assert width(silver(tail=30.0).by_weight) == width(shipped.by_weight)
    assert variance(silver(concentrate=12.0).in_concentrate) == pytest.approx(12.0**2 + 0.5**2)
    assert variance(silver(weighing=3.0).in_concentrate) == pytest.approx(4.0**2 + 3.0**2)
    assert width(silver(head=40.0).in_concentrate) == width(shipped.in_concentrate)
    assert variance(shipped.in_lot) - variance(silver(head=6.0).in_lot) == pytest.approx(10.0**2 - 6.0**2)


@pytest.mark.parametrize(
    ("key", "own", "times"),
    [("shape", 1.0, 2.0), ("grading", 0.5, 2.0), ("liberation", 25.0, 0.5), ("silver_density", 14.44, 2.0)],
)
def test_own_factors_of_gy_scale_the_variance_of_the_sample(key: str, own: float, times: float) -> None:
    """The variance goes with shape, grading and density of the mineral, and with the root of the free size."""
    assert off(**{key: own}) == pytest.approx(sqrt(times) * off(), rel=1e-3)


def test_a_heavier_rock_counts_as_little_as_the_mineral_is_rare() -> None:
    assert off(gangue_density=8.0) == pytest.approx(off() * sqrt(1.0 + (8.0 - 2.65) / 20_940.0), rel=1e-5)


def test_the_density_of_the_gold_carrier_moves_gold_and_not_silver() -> None:
    ore = replace(ORE, gold=Grade(50.0), lot=replace(LOT, gold=Grade(3.0), figures=(("gold_density", 4.825),)))
    usual = replace(ore, lot=replace(LOT, gold=Grade(3.0)))
    (ag, au), (ag_usual, au_usual) = (lot_balance(o, CHANGE, LOSS).metals for o in (ore, usual))
    assert ag == ag_usual
    assert au.sampling is not None
    assert au_usual.sampling is not None
    assert au.sampling.value == pytest.approx(au_usual.sampling.value / 2.0, rel=1e-4)


def test_own_limits_and_the_factor_move_what_is_said() -> None:
    assert "by chance alone" not in said()
    assert "by chance alone" in said(much=5.0)
    assert "too unsure" not in said()
    assert "too unsure" in said(untold=10.5)
    sure = {"head": 0.01, "tail": 0.01, "concentrate": 0.01, "shape": 0.01}
    assert "do not go together" in said(apart=0.5, **sure)
    assert "do not go together" not in said(apart=10.0)
    found = silver(factor=3.0).sampling
    assert found is not None
    assert found.high == pytest.approx(3.0 * found.value)


@pytest.mark.parametrize("value", [0.0, -3.0, 1e9, float("nan"), float("inf")])
def test_a_senseless_figure_is_refused_in_words_and_the_shipped_one_counts(value: float) -> None:
    known = lot_figures(ORE)
    for key in known:
        assert "program's own figure is used" in refusal(known, key, value)
        found = balance(**{key: value})
        assert found.metals == balance().metals
        assert any(issue.where == "ore.lot.figures" for issue in found.issues)


def test_an_unknown_figure_is_named() -> None:
    assert "no figure called “colour”" in said(colour=3.0)
    assert named(lot_figures(ORE), "colour") == "colour"


def test_ranges_say_whether_their_errors_are_the_operators() -> None:
    def source(**own: float) -> str:
        found = silver(**own).by_weight
        assert found is not None
        return found.source

    assert "memory and judgement" in source()
    assert "Gy, from memory" in source()
    assert "own in part" in source(tail=6.0)
    assert "the operator's own" in source(head=9.0, concentrate=3.0, tail=6.0, weighing=0.1)


def test_a_carrier_that_is_not_known_counts_with_the_density_of_a_sulphide() -> None:
    strange = replace(ORE, silver_carrier="Unheard of")
    assert lot_figures(strange)["silver_density"].shipped == 4.0
    assert "judgement" in lot_figures(strange)["silver_density"].source
    assert figures_of(strange)[0].silver_density == 4.0
