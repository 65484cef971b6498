"""What lies in the mould: volumes add up, levels are those of the vessel, and the pot tells what is metal."""

from dataclasses import replace

import pytest

from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.mould_report import mould_report
from fluxlab.design.report_text import text_of
from fluxlab.design.report_types import Amount, Report
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.profile import Profile
from tests.works import CLEAN, DIRTY, work_of


def inside_of(report: Report) -> Profile:
    mould = report.work.shelf.mould(report.work.recipe.mould)
    assert mould is not None
    profile, _ = mould_profile(mould)
    assert profile is not None
    return profile


@pytest.mark.parametrize("route", ["roast and melt", "nitre", "iron", "lead collection"])
@pytest.mark.parametrize("ore", [CLEAN, DIRTY])
def test_each_level_holds_the_volumes_under_it(ore: object, route: str) -> None:
    report = evaluate(work_of(ore, route))
    inside, poured = inside_of(report), report.mould
    volume = 0.0
    for more, level in (
        (poured.metal_volume, poured.metal_level),
        (poured.speiss_volume, poured.speiss_level),
        (poured.matte_volume, poured.matte_level),
        (poured.slag_volume, poured.slag_level),
    ):
        volume += more
        assert inside.volume(level) == pytest.approx(min(volume, inside.brim), rel=1e-6, abs=1e-6)


def test_the_button_is_the_metal_that_the_pot_predicts() -> None:
    report = evaluate(work_of(CLEAN))
    assert report.mould.metal_name == "button"
    assert report.mould.metal_mass == report.pot.button.mass.value
    assert 5.0 < report.mould.metal_mass / report.mould.metal_volume < 19.0


def test_collected_lead_is_no_slag_as_well() -> None:
    report = evaluate(work_of(CLEAN, "lead collection"))
    poured = report.mould
    assert poured.metal_name == "lead"
    assert 9.0 < poured.metal_mass / poured.metal_volume < 11.0
    whole = poured.metal_volume + poured.speiss_volume + poured.matte_volume + poured.slag_volume
    assert whole == pytest.approx(poured.aimed_volume, rel=1e-9)
    assert poured.slag_volume < 0.6 * whole


def test_matte_and_speiss_lie_between_metal_and_slag() -> None:
    report = evaluate(work_of(CLEAN))
    sulphur = replace(report.pot.sulphur, matte=Amount(9.2), speiss=Amount(6.5))
    pot = replace(report.pot, sulphur=sulphur)
    poured = mould_report(report.work, balance(report.work), pot)
    assert (poured.matte_volume, poured.speiss_volume) == pytest.approx((2.0, 1.0))
    assert poured.metal_level < poured.speiss_level < poured.matte_level < poured.slag_level
    words = text_of(replace(report, mould=poured))
    assert "Matte                     9.20 g, 2.00 cm³" in words
    assert "Speiss                    6.50 g, 1.00 cm³" in words


def test_without_the_pot_the_metal_is_that_of_the_assay() -> None:
    work = work_of(CLEAN)
    found = balance(work)
    poured = mould_report(work, found)
    assert (poured.metal_name, poured.metal_mass) == ("metal", None)
    assert poured.metal_volume == found.setting.metal_volume
    assert poured.matte_level == poured.speiss_level == poured.metal_level


def test_where_no_metal_comes_down_none_lies_in_the_mould() -> None:
    report = evaluate(work_of(CLEAN))
    bare = replace(report.pot, button=replace(report.pot.button, metals=()))
    poured = mould_report(report.work, balance(report.work), bare)
    assert (poured.metal_mass, poured.metal_volume, poured.metal_level) == (0.0, 0.0, 0.0)
