"""Ores and weights that no workshop has: a plain sentence each, and no figure that is not a number."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from math import isfinite

import pytest

from fluxlab.design.ore_report import ore_report
from fluxlab.design.report_types import OreReport
from fluxlab.issue import Issue, Severity
from fluxlab.ore.feed import feed
from fluxlab.ore.ore_types import Grade, Lot, OreType, Share
from fluxlab.ore.roast_types import RoastPlan

LOT = Lot(18_400.0, 663.0, silver=Grade(20.0, "oz/short ton"), tail_silver=Grade(1.5, "oz/short ton"), sample=300.0,
          top_size=4.0)  # fmt: skip
PLANS = {
    "perfect": RoastPlan(),
    "planned": RoastPlan("planned"),
    "grown by 40 %": RoastPlan("weighed", before=100.0, after=140.0),
    "gone": RoastPlan("weighed", before=100.0, after=0.0),
    "cold": RoastPlan("planned", start_temperature=20.0, finish_temperature=20.0, minutes=0.0),
    "white hot": RoastPlan("planned", start_temperature=20.0, finish_temperature=1300.0, minutes=10_000.0),
}
ORES = {
    "pyrite": {"Pyrite": 100.0},
    "galena": {"Galena": 100.0},
    "quartz": {"Quartz": 100.0},
    "arsenopyrite": {"Arsenopyrite": 100.0},
    "native arsenic": {"Native arsenic": 100.0},
    "cinnabar": {"Cinnabar": 100.0},
    "mercury in pyrite": {"Cinnabar": 5.0, "Pyrite": 40.0, "Quartz": 55.0},
    "calcite": {"Calcite": 100.0},
    "nothing": {},
}


def told(shares: dict[str, float], plan: RoastPlan, **more: object) -> tuple[OreReport, tuple[Issue, ...]]:
    """The report of the ore with its lot, and all that is said."""
    minerals = tuple(Share(name, share) for name, share in shares.items())
    ore = replace(OreType("o", "Ore", minerals=minerals, silver=Grade(500.0), lot=LOT), **more)  # type: ignore[arg-type]
    found = feed(ore, "calcine", 100.0, plan=plan)
    report = ore_report(found, ore)
    lot = () if report.lot is None else report.lot.issues
    return report, (*found.issues, *(report.roast.warnings if report.roast else ()), *lot)


def numbers(value: object, path: str = "") -> Iterator[tuple[str, float]]:
    if is_dataclass(value):
        for field in fields(value):
            yield from numbers(getattr(value, field.name), f"{path}.{field.name}")
    elif isinstance(value, tuple):
        for i, each in enumerate(value):
            yield from numbers(each, f"{path}[{i}]")
    elif isinstance(value, float):
        yield path, value


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("ore", ORES)
@pytest.mark.parametrize("moisture", [0.0, 99.0, 100.0, 150.0, float("nan")])
def test_no_figure_is_other_than_a_number(ore: str, plan: str, moisture: float) -> None:
    report, said = told(ORES[ore], PLANS[plan], moisture=moisture)
    assert [path for path, value in numbers(report) if not isfinite(value)] == []
    assert not any("nan %" in issue.sentence for issue in said if issue.where.startswith("roast"))
    for issue in said:
        if issue.severity is Severity.ERROR:
            assert issue.remedy, issue.sentence


SAID = [
    ("pyrite", "planned", "tends to run away"),
    ("pyrite", "grown by 40 %", "The weight grew by 40.0 %; no roast of this ore as described ends there"),
    ("quartz", "gone", "The weight shrank by 100.0 %"),
    ("quartz", "planned", "Hardly anything in this ore burns"),
    ("cinnabar", "planned", "86 % mercury; all of it leaves the roast as vapour"),
    ("mercury in pyrite", "perfect", "4.3 % mercury; all of it leaves the roast as vapour"),
    ("native arsenic", "perfect", "The roast leaves 0.05 % of this ore: 100 g of calcine stand for 200 kg of it"),
    ("nothing", "planned", "nothing is known of this ore"),
    ("galena", "white hot", "A finish at 1300 °C is above 800 °C"),
]


@pytest.mark.parametrize(("ore", "plan", "words"), SAID)
def test_what_is_wrong_is_said_plainly(ore: str, plan: str, words: str) -> None:
    _, said = told(ORES[ore], PLANS[plan])
    assert any(words in issue.sentence for issue in said), [issue.sentence for issue in said]


@pytest.mark.parametrize("ore", ["pyrite", "arsenopyrite", "calcite", "mercury in pyrite"])
def test_an_ore_of_which_the_roast_leaves_a_good_part_is_not_doubted(ore: str) -> None:
    _, said = told(ORES[ore], PLANS["perfect"])
    assert not any("The roast leaves" in issue.sentence for issue in said)


def test_nothing_but_arsenopyrite_gives_its_arsenic_to_the_flue() -> None:
    """60.76 g of As2O3 and 39.34 g of SO2 to 100 g, 49.04 g left: FeAsS is 162.83 g/mol, As2O3 197.84 for two."""
    report, _ = told({"Arsenopyrite": 100.0}, RoastPlan(), silver=None)
    roast = report.roast
    assert roast is not None
    gases = {gas: 100.0 * grams / roast.raw_mass for gas, grams, _ in roast.gases}
    assert gases["As4O6"] == pytest.approx(100.0 * 197.84 / 2.0 / 162.83, abs=0.05)
    assert gases["SO2"] == pytest.approx(100.0 * 64.06 / 162.83, abs=0.05)
    assert roast.mass_change_percent.value == pytest.approx(100.0 * (159.69 / 2.0 / 162.83 - 1.0), abs=0.05)


@pytest.mark.parametrize(
    ("moisture", "words"),
    [(50.0, ""), (51.0, "51 % moisture 100 g of calcine"), (99.9, "99.9 % moisture 100 g of calcine stand for 150 kg")],
)
def test_an_ore_that_would_be_mostly_water_is_asked_about_even_before_a_roast(moisture: float, words: str) -> None:
    _, issues = told(ORES["pyrite"], PLANS["perfect"], moisture=moisture)
    said = [issue for issue in issues if issue.where == "ore.moisture"]
    assert [issue.severity for issue in said] == [Severity.WARNING] * bool(words)
    assert all(words in issue.sentence for issue in said)


@pytest.mark.parametrize("moisture", [100.0, 150.0, -1.0])
def test_an_impossible_moisture_is_said_and_the_roast_is_that_of_dry_ore(moisture: float) -> None:
    dry, _ = told(ORES["pyrite"], PLANS["planned"])
    wet, said = told(ORES["pyrite"], PLANS["planned"], moisture=moisture)
    assert wet.roast == dry.roast
    assert [issue.severity for issue in said if issue.where == "ore.moisture"] == [Severity.ERROR]
