"""What C. and J. J. Beringer say of roasting, against the program.

A Text-book of Assaying, 9th edition, 1904. The statements are told in our words; the numbers are the program's.
"""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.materials.minerals import minerals
from fluxlab.ore.analysis import mix
from fluxlab.ore.feed import feed
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.partial_roast import PartialRoast, partial_roast
from fluxlab.ore.roast_figures import roast_of
from fluxlab.ore.roast_phases import burning_share, meltings
from fluxlab.ore.roast_stages import stages
from fluxlab.ore.roast_types import RoastPlan, RoastState

PLAN = RoastPlan("planned")
COPPERY = OreType(
    "c", "Copper ore", minerals=(Share("Chalcopyrite", 30.0), Share("Pyrite", 20.0), Share("Quartz", 50.0))
)
LEADEN = OreType("l", "Lead ore", minerals=(Share("Galena", 60.0), Share("Quartz", 40.0)))


def left_of(ore: OreType, **changes: object) -> PartialRoast:
    left = roast_of(mix(ore), replace(PLAN, **changes)).left  # type: ignore[arg-type]
    assert left is not None
    return left


def test_pyrite_gives_up_half_of_its_sulphur_as_flame_first() -> None:
    """P. 139: at the first heat about half the sulphur burns off as a flame."""
    assert stages(minerals()["Pyrite"]).turn == 0.5
    half = partial_roast([minerals()["Pyrite"]], [1.0], RoastState((("Pyrite", 0.5),)))
    assert half.sulphide_sulphur == pytest.approx(0.5 * minerals()["Pyrite"].read.mass_fractions["S"])
    assert set(half.roasted.solids) == {"FeS"}


def test_sulphur_and_arsenic_of_mispickel_leave_as_dioxide_and_white_arsenic() -> None:
    """P. 23: the sulphur and arsenic of mispickel and pyrites leave as sulphur dioxide and white arsenic."""
    left = left_of(OreType("m", "Mispickel", minerals=(Share("Arsenopyrite", 50.0), Share("Pyrite", 50.0))))
    assert {"SO2", "As4O6"} <= left.roasted.gases.keys()


def test_oxides_stay_with_some_sulphate_and_arsenate() -> None:
    """P. 23: the metals mostly stay as oxide, mixed with some sulphate and arsenate."""
    ore = OreType("m", "Ore", minerals=(Share("Arsenopyrite", 20.0), Share("Galena", 20.0), Share("Pyrite", 60.0)))
    solids = left_of(ore).roasted.solids
    assert solids["Fe2O3"] > 0.5 * sum(solids.values())
    assert solids["PbSO4"] > 0.0
    assert solids["As2O5"] > 0.0


def test_a_low_heat_favours_sulphates_and_a_red_heat_at_the_end_splits_them() -> None:
    """P. 23: a low temperature favours the formation of sulphates; a higher one towards the end decomposes them."""
    cold, red = left_of(COPPERY, finish_temperature=550.0), left_of(COPPERY, finish_temperature=780.0)
    print(
        f"sulphate sulphur after 550 degC {100 * cold.sulphate_sulphur / cold.roasted.mass:.2f} %,"
        f" after 780 degC {100 * red.sulphate_sulphur / red.roasted.mass:.2f} % of the calcine"
    )
    assert red.sulphate_sulphur < 0.1 * cold.sulphate_sulphur


def test_sulphates_that_stay_can_come_back_as_sulphide_in_a_reducing_fusion() -> None:
    """P. 23: sulphates that are not removed appear again as sulphides in a reduction. The feed lists them for it."""
    f = feed(LEADEN, "calcine", 100.0, 1.0, PLAN)
    assert f.reducible["PbSO4"] > 0.0
    assert f.sulphur > 10.0 * f.sulphide_sulphur


def test_what_has_clotted_burns_badly() -> None:
    """P. 23: fusible minerals want a low heat, since arsenic and sulphur are hard to burn out of what has clotted."""
    fusible = mix(OreType("s", "Ore", minerals=(Share("Stibnite", 40.0), Share("Galena", 30.0), Share("Quartz", 30.0))))
    found = meltings(tuple(e.mineral for e in fusible.entries), np.array([e.likely for e in fusible.entries]))
    cool, hot = burning_share(found, np.array([430.0, 600.0]))
    assert cool > 0.99
    assert hot < 0.2


def test_a_wide_and_often_stirred_bed_roasts_best() -> None:
    """P. 23: as large a surface as possible is to be exposed to the air."""
    thin = left_of(COPPERY, minutes=40.0, finish_temperature=650.0)
    deep = left_of(COPPERY, minutes=40.0, finish_temperature=650.0, bed_depth=40.0, rabbled=False)
    assert deep.sulphide_sulphur > 5.0 * thin.sulphide_sulphur


def test_silver_stays_as_metal_below_a_red_heat() -> None:
    """Of the oxide of silver: it falls apart below a red heat (no page noted). The roast leaves metal."""
    assert set(stages(minerals()["Acanthite/argentite"]).burnt.solids) == {"Ag"}
