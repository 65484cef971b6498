"""Figures of cautions and answers are written as an operator writes them, however small or large the melt."""

import re
from collections.abc import Iterator
from itertools import product

import pytest

from fluxlab.design import edits
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from fluxlab.design.workshop import Workshop
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import work_of

POWER_OF_TEN = re.compile(r"\de[+-]?\d", re.IGNORECASE)
NO_FIGURE = re.compile(r"\b(nan|inf|none)\b", re.IGNORECASE)
CHARGES = (0.05, 100.0, 25_000.0)
ORES: tuple[tuple[tuple[str, float], ...], ...] = (
    (("Galena", 60.0), ("Arsenopyrite", 20.0), ("Cinnabar", 20.0)),
    (("Stibnite", 50.0), ("Calaverite", 10.0), ("Greenockite", 10.0), ("Anglesite", 30.0)),
    (("Cinnabar", 0.001), ("Calcite", 49.999), ("Barite", 50.0)),
    (("Pyrolusite", 40.0), ("Chromite", 30.0), ("Chlorargyrite (horn silver)", 30.0)),
    (("Pyrite", 100.0),),
    (("Pyrite", 2.0), ("Quartz", 98.0)),
)
WEIGHTS = {"nitre": 1.5, "charcoal": 0.1, "iron-filings": 0.4, "fluorspar": 0.5, "litharge": 1.0}


def works() -> Iterator[Work]:
    """Works of every route, from a button's weight to a sack, with what calls the rules up."""
    routes = ("roast and melt", "nitre", "iron", "lead collection")
    for minerals, charge, (route, feed) in product(
        ORES, CHARGES, zip(routes, ("calcine", "concentrate") * 2, strict=True)
    ):
        ore = OreType("o", "Ore", minerals=tuple(Share(*m) for m in minerals), silver=Grade(500.0), moisture=7.0)
        work = work_of(ore, route, charge=charge, pot_feed=feed)
        work = edits.set_workshop(work, Workshop(indoors=True, air_ratio=0.5, mould_opened_after=3.0))[1]
        if feed == "concentrate" and charge == CHARGES[-1]:
            yield work_of(ore, charge=charge, pot_feed=feed)
        for flux, part in WEIGHTS.items():
            work = edits.fix_weight(work, flux, part * charge)[1]
        yield work


@pytest.fixture(scope="module")
def texts() -> list[str]:
    said = []
    for work in works():
        report = evaluate(work)
        said += [f"{c.rule} {c.because}" for c in report.cautions]
        said += [f"{v.key} {v.figure} {v.reason}" for v in report.verdicts]
    return said


def test_no_figure_is_written_as_a_power_of_ten(texts: list[str]) -> None:
    assert [words for words in texts if POWER_OF_TEN.search(words)] == []


def test_no_figure_is_missing(texts: list[str]) -> None:
    assert [words for words in texts if NO_FIGURE.search(words)] == []


def test_the_sample_calls_up_most_rules_that_tell_a_figure(texts: list[str]) -> None:
    rules = {words[:3] for words in texts if words.startswith("R")}
    told = {"R01", "R05", "R09", "R11", "R12", "R13", "R15", "R16", "R17", "R18", "R19", "R20", "R22", "R23", "R25"}
    assert told | {"R26", "R28", "R34", "R35", "R36", "R37", "R42", "R46"} <= rules
