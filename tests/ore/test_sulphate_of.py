"""Sulphate of likely ores: that of the likely one is what the charge has."""

import numpy as np
import pytest

from fluxlab.materials.formulas import formula
from fluxlab.ore.ore_types import OreType, Share, Stage
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan
from fluxlab.ore.sulphate_of import sulphate_of
from fluxlab.ore.unit_feed import unit_feed

_SHARES = (("Pyrite", 30.0), ("Galena", 15.0), ("Calcite", 10.0), ("Barite", 5.0), ("Anglesite", 5.0), ("Quartz", 35.0))
ORE = OreType("o", "Odd", minerals=tuple(Share(name, percent) for name, percent in _SHARES))
SHORT = RoastPlan("planned", finish_temperature=620.0, minutes=40.0)


@pytest.mark.parametrize(
    ("feed", "plan"), [("calcine", PERFECT_PLAN), ("calcine", SHORT), ("concentrate", PERFECT_PLAN)]
)
def test_the_likely_ore_has_the_sulphate_of_the_charge(feed: Stage, plan: RoastPlan) -> None:
    unit = unit_feed(ORE, feed, plan)
    whole = sum(g / formula(s).mass for s, g in unit.reducible.items() if formula(s).atoms.get("S"))
    weights = np.array(unit.weights)
    found = sulphate_of(unit, np.array([weights, 3.0 * weights]))
    assert found == pytest.approx([whole, 3.0 * whole], rel=1e-9)
    assert whole > 1e-4
