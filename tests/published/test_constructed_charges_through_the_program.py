"""Constructed cases A10 and A11 solved by the program itself, from ore assay to weights.

Source: computed by hand from the rules of the assay texts (silicate degree by oxygen, reducing power of flour 11,
litharge 1.0772 g per gram of lead) with IUPAC atomic weights; charges of one assay ton (29.17 g). Masses in grams.
"""

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Convention, Line, Target, Work
from fluxlab.ore.ore_types import OreType, Share
from tests.works import grams, pure_shelf, with_lines, with_targets, work_of

SILICEOUS = OreType(
    "a10",
    "Siliceous",
    known_by="oxides",
    as_is=True,
    stage="calcine",
    oxides=(Share("SiO2", 85), Share("Al2O3", 5), Share("Fe2O3", 4), Share("CaO", 3), Share("MgO", 1)),
)
LIMESTONE = OreType(
    "a11",
    "Limestone",
    minerals=(Share("Calcite", 70), Share("Quartz", 20), Share("Hematite", 5), Share("Magnesite", 5)),
)


def charge_of(ore: OreType, *lines: Line) -> Work:
    work = work_of(ore, "lead collection", charge=29.17)
    return with_lines(Work(work.recipe, pure_shelf(work.shelf, wheat_flour=11.0)), *lines)


def lead_targets(degree: float, convention: Convention) -> tuple[Target, ...]:
    return (
        Target("degree", lo=degree, hi=degree, convention=convention),
        Target("litharge_left", lo=20.0, hi=20.0),
        Target("lead_button", lo=28.0, hi=28.0),
    )


@pytest.mark.parametrize(
    ("degree", "convention", "soda", "bicarbonate"),
    [
        (2.0, "SBA base", 25.7, 40.8),
        (2.0, "S", 30.3, 48.0),
        (2.0, "SBA acid", 32.5, 51.6),
        (1.5, "SBA base", 40.3, None),
        (1.5, "S", 44.8, None),
        (1.5, "SBA acid", 47.9, None),
    ],
)
def test_soda_for_a_siliceous_ore(
    degree: float, convention: Convention, soda: float, bicarbonate: float | None
) -> None:
    for flux, expected in (("soda-ash-dense", soda), ("sodium-bicarbonate", bicarbonate)):
        if expected is None:
            continue
        work = charge_of(SILICEOUS, Line(flux), Line("litharge"), Line("wheat-flour"))
        report = evaluate(with_targets(work, *lead_targets(degree, convention)))
        weights = grams(work, report)
        assert report.solve.status == "ok"
        assert weights[flux] == pytest.approx(expected, abs=0.06)
        assert weights["litharge"] == pytest.approx(50.2, abs=0.06)
        assert weights["wheat-flour"] == pytest.approx(2.68, abs=0.006)


@pytest.mark.parametrize(("degree", "silica"), [(1.0, 12.6), (1.5, 21.8), (2.0, 31.0)])
def test_silica_for_a_limestone_ore(degree: float, silica: float) -> None:
    work = charge_of(
        LIMESTONE, Line("soda-ash-dense", 30.0), Line("silica-sand"), Line("litharge"), Line("wheat-flour")
    )
    report = evaluate(with_targets(work, *lead_targets(degree, "S")))
    weights = grams(work, report)
    assert weights["silica-sand"] == pytest.approx(silica, abs=0.06)
    assert weights["wheat-flour"] == pytest.approx(2.72, abs=0.006)
    assert weights["litharge"] == pytest.approx(50.2, abs=0.06)


@pytest.mark.parametrize(("degree", "silica"), [(1.0, 5.1), (1.5, 15.0), (2.0, 25.0)])
def test_ten_grams_of_borax_glass_counted_as_acid_save_silica(degree: float, silica: float) -> None:
    work = charge_of(
        LIMESTONE,
        Line("soda-ash-dense", 30.0),
        Line("borax-glass", 10.0),
        Line("silica-sand"),
        Line("litharge"),
        Line("wheat-flour"),
    )
    report = evaluate(with_targets(work, *lead_targets(degree, "SB")))
    assert grams(work, report)["silica-sand"] == pytest.approx(silica, abs=0.06)
