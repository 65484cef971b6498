"""A weighed roast: raw material, silver and gold go by the weights, and nothing is created or lost on the way."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fluxlab.ore.feed import feed
from fluxlab.ore.feed_types import Feed
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.ore.roast_types import RoastPlan
from fluxlab.ore.unit_feed import unit_feed
from tests.ore.roasts import assert_all_accounted_for

NAMES = ("Galena", "Pyrite", "Sphalerite (pure)", "Arsenopyrite", "Calcite", "Siderite", "Chalcopyrite", "Quartz")
NOT_SOLID = ("S", "As", "C", "H", "O", "Sb")
"""Elements of which the roast takes some."""


def ore_of(shares: dict[str, float], silver: float = 900.0, moisture: float = 0.0) -> OreType:
    minerals = tuple(Share(name, share, 0.8 * share, 1.2 * share) for name, share in shares.items())
    return OreType("o", "Ore", minerals=minerals, silver=Grade(silver), moisture=moisture, stage="concentrate")


def weighed(ore: OreType, after: float, before: float = 100.0) -> Feed:
    return feed(ore, "calcine", 100.0, plan=RoastPlan("weighed", before=before, after=after))


def is_explained(found: Feed) -> bool:
    reading = found.roast.figures.reading if found.roast else None
    return reading is not None and reading.explained


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(st.sampled_from(NAMES), st.floats(2.0, 60.0), min_size=2, max_size=6),
    st.floats(70.0, 112.0),
    st.floats(0.0, 12.0),
)
def test_raw_material_silver_and_mass_close_whatever_the_weights(
    shares: dict[str, float], after: float, moisture: float
) -> None:
    ore = ore_of(shares, moisture=moisture)
    found = weighed(ore, after)
    assume(is_explained(found))
    assert found.roast is not None
    left = after / (100.0 - moisture)
    assert found.raw == pytest.approx(100.0 / left, rel=1e-9)
    assert found.raw_as_weighed == pytest.approx(10_000.0 / after, rel=1e-9)
    # all silver of the raw material is in the charge: 900 g/t of it
    assert found.silver == pytest.approx(900e-6 * found.raw, rel=1e-3)
    assert found.raw_elements["Ag"] == pytest.approx(900e-6 * found.raw, rel=1e-9)
    assert_all_accounted_for(found)
    # no element that stays in the roast, save silver, is there in other proportion than the ore has it
    counts = np.array(unit_feed(ore, "calcine", RoastPlan("weighed", before=100.0, after=after)).counts)
    other = counts[counts != 1.0]
    assert len(other) == 0 or other == pytest.approx(other[0])
    for symbol, grams in found.raw_elements.items():
        if symbol not in (*NOT_SOLID, "Ag"):
            factor = float(other[0]) if len(other) else 1.0
            assert found.elements[symbol] == pytest.approx(factor * grams, rel=1e-3), symbol


def test_a_weight_on_the_reckoned_roast_changes_nothing() -> None:
    """Where the reckoned state weighs what was weighed the charge is that of the state."""
    ore = ore_of({"Pyrite": 50.0, "Quartz": 50.0})
    low, high = 80.0, 100.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        found = weighed(ore, middle)
        assert found.roast is not None
        solids = sum(found.roast.solids.values())
        low, high = (middle, high) if solids > found.dry else (low, middle)
    counts = unit_feed(ore, "calcine", RoastPlan("weighed", before=100.0, after=low)).counts
    assert counts == pytest.approx(np.ones(len(counts)), abs=2e-2)


def test_weights_that_nothing_explains_leave_the_charge_as_planned() -> None:
    ore = ore_of({"Galena": 40.0, "Pyrite": 20.0, "Quartz": 40.0})
    grown, planned = weighed(ore, 150.0), feed(ore, "calcine", 100.0, plan=RoastPlan("planned"))
    assert not is_explained(grown)
    assert grown.raw == pytest.approx(planned.raw, rel=1e-12)
    assert grown.oxides == pytest.approx(planned.oxides, rel=1e-12)
    assert grown.elements == pytest.approx(dict(planned.elements), rel=1e-12)


def test_a_gram_more_or_less_on_the_balance_changes_little() -> None:
    ore = ore_of({"Galena": 40.0, "Pyrite": 20.0, "Calcite": 5.0, "Quartz": 35.0})
    found = [weighed(ore, after) for after in np.arange(86.0, 102.0, 0.25)]
    assert all(is_explained(f) for f in found)
    steps = [np.abs(b.percent - a.percent).max() for a, b in pairwise(found)]
    assert max(steps) < 1.0, steps
