"""The ends of every roast of an ore are those between which the reading of the weights finds an explanation."""

from dataclasses import replace

import pytest

from fluxlab.ore.analysis import mix
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.roast_figures import roast_of
from fluxlab.ore.roast_possible import possible_change
from fluxlab.ore.roast_types import RoastPlan

PYRITIC = OreType(
    "p",
    "Pyrite ore",
    minerals=(Share("Pyrite", 50.0, 46.0, 54.0), Share("Quartz", 45.0, 41.0, 49.0), Share("Chalcopyrite", 5.0)),
)
LEADEN = OreType("l", "Lead ore", minerals=(Share("Galena", 70.0, 65.0, 75.0), Share("Quartz", 30.0, 25.0, 35.0)))
HAIR = 0.01


def explained(ore: OreType, percent: float, plan: RoastPlan) -> bool:
    """Whether the Ore place finds a roast for this change of the weight on the tray [%]; read without error."""
    weighed = replace(plan, kind="weighed", before=200.0, after=200.0 * (1.0 + percent / 100.0), balance_error=0.0)
    reading = roast_of(mix(ore), weighed, ore.moisture / 100.0).figures.reading
    assert reading is not None
    return reading.explained


@pytest.mark.parametrize("moisture", [0.0, 8.0])
@pytest.mark.parametrize("ore", [PYRITIC, LEADEN], ids=["pyrite", "lead"])
@pytest.mark.parametrize(
    "plan", [RoastPlan(), RoastPlan("planned", 650.0, 40.0), RoastPlan(figures=(("weight_worst", 1.5),))]
)
def test_just_inside_a_roast_explains_the_weight_and_just_outside_none(
    ore: OreType, plan: RoastPlan, moisture: float
) -> None:
    wet = replace(ore, moisture=moisture)
    ends = possible_change(wet, plan)
    assert ends is not None
    low, high = ends
    assert explained(wet, low + HAIR, plan)
    assert explained(wet, high - HAIR, plan)
    assert not explained(wet, low - HAIR, plan)
    assert not explained(wet, high + HAIR, plan)


def test_water_is_lost_before_anything_burns() -> None:
    """8 g of water in 100 g: what ends dry at x % ends at 0.92 (100 + x) - 100 % of the tray."""
    dry, wet = possible_change(PYRITIC), possible_change(replace(PYRITIC, moisture=8.0))
    assert dry is not None
    assert wet is not None
    assert wet == pytest.approx(tuple(0.92 * (100.0 + end) - 100.0 for end in dry))


def test_galena_can_gain_no_more_than_its_sulphate_weighs() -> None:
    """PbS 239.26 to PbSO4 303.26 g/mol, 26.75 % of at most 75 % galena, and 0.9 % for what the states leave out."""
    ends = possible_change(LEADEN)
    assert ends is not None
    assert 0.0 < ends[1] < 0.75 * 26.75 + 0.9


def test_where_nothing_is_known_to_burn_nothing_is_said() -> None:
    assert possible_change(replace(PYRITIC, stage="calcine")) is None
    assert possible_change(replace(PYRITIC, minerals=())) is None
    assayed = OreType("a", "Assayed", known_by="oxides", as_is=True, oxides=(Share("SiO2", 60.0), Share("FeO", 40.0)))
    assert possible_change(assayed) is None
