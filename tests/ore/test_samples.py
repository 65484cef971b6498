"""Samples of the ore: they pass through the same pot as the ore itself, and lie where their ranges say."""

from dataclasses import replace
from time import perf_counter
from typing import Any

import numpy as np
import pytest

from fluxlab.materials.oxides import INDEX, MASS
from fluxlab.ore.analysis import mix
from fluxlab.ore.demo import demo_ores
from fluxlab.ore.feed import feed
from fluxlab.ore.ore_types import OreType, Share, Stage
from fluxlab.ore.roast_types import RoastPlan
from fluxlab.ore.samples import CHECK, TRAIN, drawn_shares, of_shares, pot_samples

MINERALS, MIDDLINGS, ASSAYED = demo_ores()[:3]
OXIDES = OreType(
    "oxides",
    "Oxide assay used as it is",
    known_by="oxides",
    as_is=True,
    stage="calcine",
    oxides=(
        Share("SiO2", 30, 27, 33),
        Share("Fe2O3", 35, 32, 38),
        Share("CaO", 12, 10, 14),
        Share("F", 3, 2, 4),
        Share("PbO", 8, 7, 9),
    ),
)
TURNED = replace(OXIDES, as_is=False, ticked=("Quartz", "Hematite", "Calcite", "Galena", "Fluorite"))
PLANNED = RoastPlan("planned", finish_temperature=600.0, minutes=30.0)
CASES: list[tuple[OreType, Stage, RoastPlan]] = [
    (MINERALS, "calcine", RoastPlan()),
    (MINERALS, "concentrate", RoastPlan()),
    (MINERALS, "calcine", PLANNED),
    (MIDDLINGS, "calcine", RoastPlan("weighed", before=100.0, after=88.0)),
    (ASSAYED, "calcine", RoastPlan()),
    (ASSAYED, "concentrate", RoastPlan()),
    (OXIDES, "calcine", RoastPlan()),
    (TURNED, "calcine", RoastPlan()),
]


def certain(ore: OreType) -> OreType:
    """The ore with every range taken away."""

    def points(shares: tuple[Share, ...]) -> tuple[Share, ...]:
        return tuple(Share(s.what, s.likely) for s in shares)

    return replace(ore, minerals=points(ore.minerals), oxides=points(ore.oxides), elements=points(ore.elements))


@pytest.mark.parametrize(("ore", "stage", "plan"), CASES)
def test_likely_shares_give_what_the_feed_gives(ore: OreType, stage: Stage, plan: RoastPlan) -> None:
    likely = np.array([[e.likely for e in mix(ore).entries]])
    found = feed(ore, stage, 150.0, 1.0, plan)
    slag, weights = of_shares(ore, stage, likely, plan)
    iron = slag[0].copy()
    iron[INDEX["Fe2O3"]], iron[INDEX["FeO"]] = iron[INDEX["FeO"]] / 2.0, 0.0
    assert np.abs(iron * found.dry - found.oxides).max() < 1e-9
    assert weights[0].sum() * found.dry == pytest.approx(sum(m.grams for m in found.minerals), rel=1e-12)


@pytest.mark.parametrize(("ore", "stage", "plan"), CASES)
@pytest.mark.parametrize("ferric", [0.0, 0.4, 1.0])
def test_an_ore_without_ranges_has_one_sample_only(ore: OreType, stage: Stage, plan: RoastPlan, ferric: float) -> None:
    sure = certain(ore)
    found = feed(sure, stage, 80.0, ferric, plan)
    drawn = pot_samples(sure, stage, found.dry, ferric, plan, count=5)
    assert np.abs(drawn.oxides - found.oxides).max() < 1e-9
    assert not drawn.ranged


def test_each_sample_is_what_the_feed_of_such_an_ore_would_be() -> None:
    """The whole chain by another way: an ore described by the drawn shares, fed alone."""
    ore = replace(MIDDLINGS, silver=None, gold=None)
    entries = mix(ore).entries
    drawn = pot_samples(ore, "calcine", 100.0, 0.3, count=6, seed=9)
    ends = np.array([[e.low, e.likely, e.high] for e in entries]).T
    for line, shares in zip(drawn.oxides, drawn_shares(*ends, 6, 9), strict=True):
        such = replace(
            ore, minerals=tuple(Share(e.mineral.name, 100 * s) for e, s in zip(entries, shares, strict=True))
        )
        assert np.abs(feed(such, "calcine", 100.0, 0.3).oxides - line).max() < 1e-9


def test_oxides_of_one_mineral_keep_their_ratio() -> None:
    """Only orthoclase brings potash and alumina: three silica, one alumina, one potash for each."""
    ore = OreType("o", "o", minerals=(Share("Orthoclase", 30, 10, 50), Share("Magnetite", 70)))
    drawn = pot_samples(ore, "ore", 100.0, seed=3).oxides
    assert drawn[:, INDEX["K2O"]].std() > 0.01
    assert np.allclose(drawn[:, INDEX["Al2O3"]], drawn[:, INDEX["K2O"]], rtol=1e-12)
    assert np.allclose(drawn[:, INDEX["SiO2"]], 6 * drawn[:, INDEX["K2O"]], rtol=1e-12)


def test_a_mineral_more_is_another_one_less() -> None:
    ore = OreType("o", "o", minerals=(Share("Quartz", 50, 30, 70), Share("Hematite", 50, 30, 70)))
    drawn = pot_samples(ore, "ore", 100.0).oxides
    masses = drawn * MASS
    assert np.allclose(masses.sum(axis=1), 100.0, rtol=1e-9)
    assert np.corrcoef(drawn[:, INDEX["SiO2"]], drawn[:, INDEX["Fe2O3"]])[0, 1] == pytest.approx(-1.0, abs=1e-9)


def test_a_triangle_has_its_mean_and_variance() -> None:
    """Mean a third of the corners; variance (a2 + b2 + c2 - ab - ac - bc) / 18: the textbook moments."""
    a, c, b = 0.10, 0.15, 0.40
    drawn = drawn_shares(np.array([a]), np.array([c]), np.array([b]), 200_000, 5)
    assert drawn.min() >= a
    assert drawn.max() <= b
    assert drawn.mean() == pytest.approx((a + b + c) / 3, rel=2e-3)
    assert drawn.var() == pytest.approx((a * a + b * b + c * c - a * b - a * c - b * c) / 18, rel=1e-2)


def test_the_two_sets_are_reproducible_and_independent() -> None:
    one, again = (pot_samples(MINERALS, "calcine", 50.0, seed=TRAIN).oxides for _ in range(2))
    other = pot_samples(MINERALS, "calcine", 50.0, seed=CHECK).oxides
    assert np.array_equal(one, again)
    silica = INDEX["SiO2"]
    assert abs(np.corrcoef(one[:, silica], other[:, silica])[0, 1]) < 0.1


def test_no_sample_holds_less_than_nothing() -> None:
    for ore, stage, plan in CASES:
        assert (pot_samples(ore, stage, 100.0, 0.5, plan).oxides > -1e-15).all()


@pytest.mark.parametrize("broken", [OreType("n", "nothing"), replace(OXIDES, oxides=())])
def test_an_ore_of_which_nothing_is_known_gives_empty_samples(broken: OreType) -> None:
    drawn = pot_samples(broken, "ore", 100.0, count=7)
    assert drawn.oxides.shape == (7, len(MASS))
    assert not drawn.oxides.any()
    assert not drawn.ranged


def test_a_thousand_samples_take_no_time() -> None:
    pot_samples(MINERALS, "calcine", 50.0)
    times: list[Any] = []
    for charge in (60.0, 70.0, 80.0):
        began = perf_counter()
        pot_samples(MINERALS, "calcine", charge, 0.2)
        times.append(perf_counter() - began)
    assert min(times) < 5e-3
