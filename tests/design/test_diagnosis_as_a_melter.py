"""The order of causes is the one that a melter would have: he looks at what comes down, and at how hot the slag runs.

All of it is judgement, but for what stands beside a check.
"""

from dataclasses import replace

import pytest

from fluxlab.design import edits
from fluxlab.design.diagnosis import Cause, diagnose, judged, observations
from fluxlab.design.diagnosis.charge_figures import must_missed
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.mends import CANDIDATES
from fluxlab.design.diagnosis.prior import LEAST
from fluxlab.design.diagnosis.priors import prior
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.report_types import Report
from fluxlab.design.start import demo_work
from tests.design.diagnosis_works import (
    ALL,
    BASIC,
    BORAX,
    COPPERY,
    HYDRATED,
    IRONY,
    LEAD,
    RAW,
    SODA,
    SULPHATE,
    TROUBLES,
    ZINCKY,
    ore,
)
from tests.works import with_lines, with_target, work_of

DEMO = demo_work()
LITHARGE = with_lines(
    work_of(ore(("Pyrite", 10.0), ("Quartz", 70.0), ("Hematite", 20.0)), "lead collection"),
    SODA, BORAX, Line("litharge", 150.0), Line("wheat-flour", 4.0),
)  # fmt: skip
ROASTED_ARSENIC = work_of(ore(("Arsenopyrite", 40.0), ("Quartz", 60.0)))
RAW_LEAD = work_of(ore(("Galena", 40.0), ("Pyrite", 30.0), ("Quartz", 30.0)), pot_feed="concentrate")
BY_IRON = work_of(ore(("Galena", 40.0), ("Pyrite", 20.0), ("Quartz", 40.0)), "iron")
BY_NITRE = with_lines(work_of(ore(("Chalcopyrite", 20.0), ("Quartz", 80.0)), "nitre"), SODA, BORAX, Line("nitre", 60.0))
CHARCOALED = TROUBLES["copper with charcoal"]
WITHOUT_IRON = {"demo": DEMO, "lead": LEAD, "litharge": LITHARGE, "arsenic": ROASTED_ARSENIC, "hematite": IRONY}


def causes(work: Work, *seen: str) -> dict[str, Cause]:
    """Causes by key, the likeliest first."""
    return {cause.key: cause for cause in diagnose(evaluate(work), seen).causes}


def order(work: Work, *seen: str) -> list[str]:
    return list(causes(work, *seen))


def odds(work: Work, cause: str) -> float:
    return prior(cause, Figures(evaluate(work))).odds


# What comes down


@pytest.mark.parametrize("name", WITHOUT_IRON)
def test_a_large_button_of_a_recipe_without_iron_and_reducer_is_not_first_of_all_iron(name: str) -> None:
    found = causes(WITHOUT_IRON[name], "button-large")
    assert next(iter(found)) != "iron-bullion"
    assert found["iron-bullion"].share < 20.0


def test_iron_comes_first_where_metallic_iron_finds_no_sulphur() -> None:
    work = TROUBLES["iron in it"]
    assert order(work, "layer-two-metals")[0] == "iron-bullion"
    assert odds(work, "iron-bullion") > 10.0 * odds(DEMO, "iron-bullion")
    assert "10.0 g metallic iron that no sulphur takes" in causes(work, "layer-two-metals")["iron-bullion"].why


def test_iron_that_the_sulphur_asks_for_does_not_speak_for_iron_in_the_button() -> None:
    for work in (BY_IRON, TROUBLES["arsenide"]):
        assert Figures(evaluate(work)).tagged("iron") >= 10.0
        assert odds(work, "iron-bullion") == pytest.approx(LEAST)


def test_the_pot_wall_alone_brings_no_iron_down() -> None:
    gold = work_of(ore(("Quartz", 92.0), ("Pyrite", 8.0)))
    assert (Figures(evaluate(gold)).budget or 0.0) > 1.5
    assert odds(gold, "iron-bullion") == pytest.approx(LEAST)


def test_lead_of_litharge_is_lead_of_the_pot() -> None:
    soft, fume = causes(LITHARGE, "button-soft"), causes(LITHARGE, "fume-white")
    assert "of 139 g in the pot" in soft["lead-button"].why
    assert next(iter(fume)) == "lead-fume"
    assert fume["lead-fume"].share > 80.0


def test_a_lead_button_larger_than_aimed_at_is_over_reduced_before_all_else() -> None:
    found = causes(LITHARGE, "button-large")
    assert next(iter(found)) == "over-reduced"
    assert found["over-reduced"].share > 80.0
    assert "lead more than asked for" in found["over-reduced"].why
    assert found["lead-button"].why.endswith("and is wanted")


def test_a_large_button_of_a_lead_ore_may_be_lead() -> None:
    assert order(TROUBLES["lead with charcoal"], "button-large")[0] == "lead-button"


def test_copper_that_stays_in_the_slag_makes_no_base_button() -> None:
    assert odds(BY_NITRE, "base-button") < 0.31 < 2.0 < odds(CHARCOALED, "base-button")
    assert order(BY_NITRE, "button-brittle")[0] != "base-button"
    assert order(CHARCOALED, "button-brittle")[0] == "base-button"


def test_antimony_of_which_the_pot_makes_no_speiss_speaks_for_it_less_than_speiss_that_it_makes() -> None:
    grey = work_of(ore(("Tetrahedrite-(Fe)", 25.0), ("Quartz", 75.0)))
    assert LEAST < odds(grey, "speiss") <= 1.0 < odds(TROUBLES["arsenide"], "speiss")
    assert order(grey, "layer-white")[0] == "speiss"
    assert order(grey, "button-brittle")[0] == "base-button"


def test_a_small_button_is_want_of_reducer_where_metal_is_asked_for_and_ferric_iron_where_it_is_not() -> None:
    """A. and J. J. Beringer, A Text-book of Assaying, 1904, p. 91 (oxides take the flour) and p. 138 (hematite)."""
    assert order(TROUBLES["starved lead"], "button-small")[0] == "under-reduced"
    assert order(IRONY, "button-small")[0] == "ferric-iron"


def test_a_small_button_under_a_stiff_slag_is_the_slag_and_not_the_wait() -> None:
    found = order(ZINCKY, "button-small")
    assert found.index("stiff-slag") < found.index("short-hold")


# How hot the slag runs


def at(work: Work, celsius: float) -> Work:
    return edits.set_pour_temperature(work, celsius)[1]


def test_too_cold_is_told_by_what_this_slag_needs_and_not_by_the_degrees() -> None:
    assert DEMO.recipe.pour_temperature == IRONY.recipe.pour_temperature
    assert odds(DEMO, "cold-pour") == pytest.approx(LEAST)
    assert odds(IRONY, "cold-pour") > 1.0
    assert "hotter than this slag needs" in causes(DEMO, "slag-prills")["cold-pour"].why
    assert "colder than this slag needs" in causes(IRONY, "slag-prills")["cold-pour"].why


def test_the_same_slag_poured_near_its_melting_was_too_cold() -> None:
    spare = Figures(evaluate(DEMO)).spare_heat
    assert spare is not None
    near = at(DEMO, DEMO.recipe.pour_temperature - spare + 20.0)
    assert order(near, "pour-stiff")[0] == "cold-pour"
    assert odds(near, "unfinished") > 2.0 * odds(DEMO, "unfinished")


def test_where_the_melting_is_not_known_the_pour_alone_speaks() -> None:
    report = replace(evaluate(DEMO), fluid=None)
    assert Figures(report).spare_heat is None
    assert "needs" not in prior("cold-pour", Figures(report)).why
    assert "needs" not in prior("unfinished", Figures(report)).why


def test_no_hotter_pour_is_offered_for_a_slag_with_heat_to_spare() -> None:
    pours = [m.arguments[0] for _, m in judged(evaluate(DEMO), CANDIDATES) if m and m.edit == "set_pour_temperature"]
    assert all(isinstance(pour, float) and pour < DEMO.recipe.pour_temperature for pour in pours)
    (hotter,) = (m.arguments[0] for _, m in judged(evaluate(IRONY), ("cold-pour",)) if m is not None)
    assert isinstance(hotter, float)
    assert hotter > IRONY.recipe.pour_temperature


@pytest.mark.parametrize("look", ["slag-prills", "slag-streaked", "slag-dull", "pour-stiff", "false-quiet"])
def test_no_change_is_offered_twice_and_no_longer_wait_than_the_drops_want(look: str) -> None:
    for work in (DEMO, COPPERY, ZINCKY, TROUBLES["small pour"]):
        report = evaluate(work)
        found = [mend for _, mend in judged(report, causes(work, look)) if mend is not None]
        assert len(found) == len(set(found))
    waits = [mend for _, mend in judged(evaluate(DEMO), ("short-hold", "cold-pour", "stiff-slag")) if mend is not None]
    assert waits == []


def test_a_short_hold_is_mended_by_what_the_drops_want() -> None:
    report = evaluate(edits.set_hold(COPPERY, 2.0)[1])
    assert report.pot is not None
    assert report.pot.drops is not None
    (hold,) = (mend.arguments[0] for _, mend in judged(report, ("short-hold",)) if mend is not None)
    assert isinstance(hold, float)
    assert 0.0 <= hold - report.pot.drops.advised < 1.0


# What the recipe rules out


@pytest.mark.parametrize(
    ("work", "ruled_out"),
    [
        (DEMO, ("barite", "hydrated", "nitre", "litharge-spent", "chloride-cover", "phosphate", "chromite", "nickel")),
        (DEMO, ("arsenic-fume", "antimony-fume", "speiss", "iron-bullion", "cold-pour", "stiff-slag", "free-lime")),
        (RAW_LEAD, ("roast-short", "roast-hot", "sulphate-left", "under-reduced", "copper-slag", "zinc-fume")),
        (BASIC, ("lead-fume", "lead-button", "base-button", "alkali-sulphate", "roast-short", "too-acid")),
    ],
    ids=["demo", "demo again", "raw lead", "lime"],
)
def test_what_a_recipe_has_nothing_of_has_the_same_least_odds_whatever_it_is(
    work: Work, ruled_out: tuple[str, ...]
) -> None:
    told = {cause: round(odds(work, cause), 2) for cause in ruled_out}
    assert told == dict.fromkeys(ruled_out, LEAST)


def test_barite_is_not_first_where_no_barite_is_described() -> None:
    for work in (DEMO, COPPERY, ZINCKY, IRONY, LITHARGE):
        assert order(work, "slag-smells")[0] == "soda-sulphide"
    there = causes(TROUBLES["barite"], "slag-smells")
    assert list(there).index("barite") == 1
    assert there["barite"].share > 30.0


def test_another_flux_is_no_cause_of_a_boil_over() -> None:
    """Beringer 1904, pp. 20, 136: bicarbonate, water, heat that comes too fast."""
    for work in (RAW_LEAD, BY_IRON, BASIC):
        assert "wrong-flux" not in order(work, "boil-over")
        assert order(work, "boil-over")[0] == "gas-formers"
    assert order(HYDRATED, "boil-over")[0] == "hydrated"


def test_a_wish_that_is_missed_speaks_for_no_other_flux_and_a_limit_of_the_slag_does() -> None:
    lime = Target("cap:CaO", None, 0.5, "wish", "wish")
    wish, must = (with_target(DEMO, replace(lime, key="cap:ZnO", hi=1.0, hi_kind=kind)) for kind in ("wish", "must"))
    missed = [t.key for t in evaluate(must).targets if must_missed(t)]
    assert missed == ["cap:ZnO"]
    assert "missed" not in causes(wish, "slag-pasty")["wrong-flux"].why
    assert "missed" in causes(must, "slag-pasty")["wrong-flux"].why


# What a roast that is taken as perfect may have left


def test_arsenic_that_a_roast_is_taken_to_have_driven_off_is_thought_of_first() -> None:
    for look, first in (("fume-white", "arsenic-fume"), ("smell-garlic", "arsenic-fume"), ("layer-white", "speiss")):
        assert order(ROASTED_ARSENIC, look)[0] == first
    assert "% before the roast" in causes(ROASTED_ARSENIC, "smell-garlic")["arsenic-fume"].why


def test_matte_of_a_lead_ore_taken_as_dead_roasted_is_sulphate() -> None:
    """Beringer 1904, pp. 23, 178: what was roasted dead and makes matte all the same held sulphate."""
    for work in (DEMO, SULPHATE):
        assert order(work, "layer-matte-dead")[0] == "sulphate-left"
        assert "taken as perfect" in causes(work, "layer-matte-dead")["sulphate-left"].why
    assert order(RAW, "layer-matte-dead")[0] == "matte"


# Colours


def test_sealing_wax_and_liver_are_two_looks() -> None:
    """T. K. Rose, The Metallurgy of Gold, p. 499: sealing-wax red is copper. Liver brown: from memory."""
    assert order(DEMO, "slag-red")[0] == "copper-slag"
    assert order(DEMO, "slag-liver")[0] == "ferric-iron"
    assert order(CHARCOALED, "slag-liver")[0] == "copper-slag"


def test_no_reason_writes_a_figure_as_a_power_of_ten() -> None:
    for work in ALL.values():
        report: Report = evaluate(work)
        for look in observations():
            for cause in diagnose(report, (look.key,)).causes:
                assert "e+" not in cause.why, cause
                assert "e-0" not in cause.why, cause
