"""The operator's own figures of the roast's programme: each is read from the tables, moves the roast, or is refused."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.design.roast_report import roast_report
from fluxlab.ore.analysis import mix
from fluxlab.ore.feed import feed
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.roast_arrays import arrays
from fluxlab.ore.roast_figure_list import refused_by_roast, roast_figures, sensible_roast
from fluxlab.ore.roast_figures import roast_of
from fluxlab.ore.roast_kinetics import course, ramps
from fluxlab.ore.roast_state import sound_plan
from fluxlab.ore.roast_tables import burning, first_liquids, settings
from fluxlab.ore.roast_types import Pairs, RoastPlan

PLAN = RoastPlan("planned")
WEIGHED = RoastPlan("weighed", before=100.0, after=84.0, rabbled=False)
ORE = OreType(
    "o",
    "Ore",
    minerals=(
        Share("Pyrite", 45.0),
        Share("Galena", 20.0),
        Share("Stibnite", 5.0),
        Share("Acanthite/argentite", 2.0),
        Share("Smithsonite", 5.0),
        Share("Chalcopyrite", 8.0),
        Share("Quartz", 15.0),
    ),
)
COARSE = replace(ORE, minerals=tuple(replace(s, low=0.7 * s.likely, high=1.3 * s.likely) for s in ORE.minerals))


def own(**figures: float) -> Pairs:
    return tuple(figures.items())


def said(figures: Pairs) -> object:
    """All that the roast says with these figures: cold and hot, stirred and not, planned and weighed."""
    plans = (
        replace(PLAN, finish_temperature=600.0, bed_depth=20.0, particle_size=0.15),
        replace(PLAN, finish_temperature=820.0, rabbled=False),
        WEIGHED,
        replace(WEIGHED, after=104.0),
    )
    return [
        replace(report, figures=())
        for plan in plans
        for fed in (feed(COARSE, "calcine", 100.0, plan=replace(plan, figures=figures)),)
        if fed.roast is not None
        for report in (roast_report(fed, fed.roast),)
    ]


ACROSS = {"liquid_share": 4.0, "weak_finish": 550.0, "lasting": 99.0, "weight_worst": 10.0, "little_sulphur": 4.0}
"""Values of limits beyond which something else is said of this ore."""


def near(key: str) -> float:
    """Another value of a figure, not far from the shipped one and within its limits."""
    if key in ACROSS:
        return ACROSS[key]
    figure = roast_figures()[key]
    other = 1.25 * figure.shipped
    return other if other <= figure.most else 0.8 * figure.shipped


SHOWN = [key for key in roast_figures() if ":" not in key]


@pytest.mark.parametrize("key", [*SHOWN, "minutes:Galena", "ignition:Stibnite", "liquid:PbS Sb2S3"])
def test_every_figure_moves_something_that_is_said(key: str) -> None:
    assert said(own(**{key: near(key)})) != said(())


def test_shipped_figures_given_as_own_leave_the_roast_as_it_was() -> None:
    shipped = tuple((key, figure.shipped) for key, figure in roast_figures().items() if not key.startswith("ignition:"))
    one, other = (roast_of(mix(COARSE), replace(WEIGHED, figures=figures)) for figures in (shipped, ()))
    assert one.figures.state == other.figures.state
    assert one.figures.ranges == other.figures.ranges
    assert [(s.low, s.high, s.minutes, s.action) for s in one.programme.steps] == [
        (s.low, s.high, s.minutes, s.action) for s in other.programme.steps
    ]


def test_every_figure_stands_inside_its_limits_with_its_flag() -> None:
    for figure in roast_figures().values():
        assert figure.least <= figure.shipped <= figure.most, figure.key
        assert "memory" in figure.source or "judgement" in figure.source, figure.key


def test_own_figures_say_in_the_tables_whose_they_are() -> None:
    figures = own(**{"doubling": 40.0, "minutes:Pyrite": 9.0, "ignition:Pyrite": 380.0, "liquid:PbO SiO2": 700.0})
    assert settings(figures)["kinetics"]["doubling"] == 40.0
    assert settings(figures)["kinetics"]["doubling_source"] == "the operator's own"
    assert settings()["kinetics"]["doubling"] == 60.0
    row = burning(figures)["Pyrite"]
    assert (row.tau, row.ignition, row.ignition_source) == (9.0, (380.0, 380.0), "the operator's own")
    assert burning(figures)["Galena"] == burning()["Galena"]
    liquid = next(one for one in first_liquids(figures) if one.phases == ("PbO", "SiO2"))
    assert (liquid.low, liquid.high, liquid.source) == (700.0, 700.0, "the operator's own")


def test_a_percentage_is_turned_into_the_share_of_the_table() -> None:
    assert settings(own(clot_share=10.0))["clotting"]["half_share"] == pytest.approx(0.10)
    assert settings(own(dust=2.0))["dust"]["likely"] == pytest.approx(0.02)


def test_own_minutes_of_a_mineral_and_own_parts_of_the_time_count_as_they_stand() -> None:
    """Pyrite at 600 degC: twice the minutes to burn through, half the progress. Parts 1, 1, 2: half is finish."""
    one = mix(OreType("o", "Ore", minerals=(Share("Pyrite", 30.0), Share("Quartz", 70.0))))
    a, x = arrays(tuple(e.mineral for e in one.entries)), np.array([e.likely for e in one.entries])
    usual = course(a, x, PLAN).progress[0]
    slow = course(a, x, replace(PLAN, figures=own(**{"minutes:Pyrite": 30.0}))).progress[0]
    assert slow == pytest.approx(usual / 2.0)
    parts = ramps(replace(PLAN, figures=own(low_share=1.0, main_share=1.0, finish_share=2.0)), 0.0)
    assert [r.minutes for r in parts] == pytest.approx([22.5, 22.5, 45.0])


@pytest.mark.parametrize("value", [-1.0, 1e9, float("nan"), float("inf")])
def test_a_senseless_figure_is_refused_in_words_and_the_shipped_one_counts(value: float) -> None:
    for key in roast_figures():
        assert "program's own figure is used" in refused_by_roast({}, key, value)
    plan, issues = sound_plan(replace(PLAN, figures=own(doubling=value)))
    assert plan.figures == ()
    assert [issue.where for issue in issues] == ["roast.figures"]


def test_figures_that_contradict_each_other_are_said_and_both_left_out() -> None:
    kept, issues = sensible_roast({"air_least": 5.0, "doubling": 40.0})
    assert kept == {"doubling": 40.0}
    assert "is above “air of an open tray" in issues[0].sentence
    assert refused_by_roast({"air_most": 6.0}, "air_least", 5.0) == ""
    assert "is above" in refused_by_roast({}, "air_least", 5.0)


def test_an_unknown_figure_is_named() -> None:
    _, issues = sound_plan(replace(PLAN, figures=own(colour=3.0)))
    assert "no figure called “colour”" in issues[0].sentence


def test_a_refusal_names_the_figure_as_its_field_does() -> None:
    said = refused_by_roast({}, "ignition:Galena", 3.0)
    assert said == "“Galena takes fire at” cannot be 3 °C; the program's own figure is used. Give 50 to 1300 °C."
