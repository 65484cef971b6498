"""The changes offered for a cause: each helps against it and harms nothing, on every recipe that it is offered for."""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from fluxlab.design import edits
from fluxlab.design.diagnosis import apply_mend, diagnose, judged, mends_for
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.mends import CANDIDATES
from fluxlab.design.diagnosis.prior import LEAST
from fluxlab.design.diagnosis.priors import prior
from fluxlab.design.diagnosis.reducer_changes import reduce_iron
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.report_types import Mend, Report
from fluxlab.design.start import demo_work
from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from tests.design.diagnosis_works import (
    ALL,
    BASIC,
    BORAX,
    COPPERY,
    HYDRATED,
    IRONY,
    LEAD,
    NITRE,
    RAW,
    SAND,
    SODA,
    TROUBLES,
)
from tests.works import CLEAN, musts_broken, with_lines, with_target, work_of

HIDDEN_IN_LAYERS = ("matte", "speiss", "sulphur-button", "soda-sulphide")


@cache
def offered(name: str) -> tuple[tuple[str, Mend, Report], ...]:
    """Cause, change and what the recipe comes to with it, of everything that is offered on a recipe."""
    work, made = ALL[name], dict[Work, Report]()

    def remembered(each: Work) -> Report:
        if each not in made:
            made[each] = evaluate(each)
        return made[each]

    report = report_of(name)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("fluxlab.design.evaluate.evaluate", remembered)
        found = [(cause, mend) for cause in CANDIDATES for mend in mends_for(report, cause)]
    return tuple((cause, mend, remembered(apply_mend(work, mend)[1])) for cause, mend in found)


@cache
def report_of(name: str) -> Report:
    return evaluate(ALL[name])


def blocks(report: Report) -> set[str]:
    return {caution.rule for caution in report.cautions if caution.level == "block"}


def back(report: Report, metal: str) -> float:
    assert report.pot is not None
    button = report.pot.button
    found = button.silver_recovery_percent if metal == "silver" else button.gold_recovery_percent
    return 0.0 if found is None else found.value


def base_metal(report: Report) -> float:
    assert report.pot is not None
    metals = sum(row.grams.value for row in report.pot.button.metals if row.symbol not in ("Ag", "Au"))
    return metals / (report.ore.charge or 1.0)


def of_charge(report: Report, measure: Callable[[Report], float]) -> float:
    return measure(report) / (report.ore.charge or 1.0)


def button(report: Report) -> float:
    return 0.0 if report.pot is None else report.pot.button.mass.value


def layers(report: Report) -> float:
    return 0.0 if report.pot is None else report.pot.sulphur.matte.value + report.pot.sulphur.speiss.value


def lead_aim(report: Report) -> tuple[bool, float]:
    aims = [target.off_by for target in report.targets if target.key == "lead_button" and target.on]
    return bool(aims), sum(aims)


@pytest.mark.parametrize("name", ALL)
def test_a_mend_changes_the_recipe_and_leaves_one_that_can_be_weighed(name: str) -> None:
    for cause, mend, then in offered(name):
        label, mended = apply_mend(ALL[name], mend)
        assert label
        assert mended != ALL[name], (cause, mend)
        assert math.isfinite(then.ore.charge), (cause, mend)
        assert all(math.isfinite(line.grams) and line.grams >= 0.0 for line in then.lines), (cause, mend)


@pytest.mark.parametrize("name", ALL)
def test_a_mend_makes_its_cause_less_likely_or_says_why_it_helps(name: str) -> None:
    figures = Figures(report_of(name))
    for cause, mend, then in offered(name):
        before, after = prior(cause, figures), prior(cause, Figures(then))
        why = [each.unseen for each in CANDIDATES[cause] if each.mender(figures) == mend]
        assert before.odds > LEAST, (cause, mend)
        assert after.odds <= before.odds * 1.00001, (cause, mend)
        assert after.odds < 0.995 * before.odds or after.lean < before.lean - 0.005 or any(why), (cause, mend)


@pytest.mark.parametrize("name", ALL)
def test_a_mend_brings_no_block(name: str) -> None:
    for cause, mend, then in offered(name):
        assert blocks(then) <= blocks(report_of(name)), (cause, mend)


@pytest.mark.parametrize("name", ALL)
def test_a_mend_breaks_no_hard_limit_and_none_further(name: str) -> None:
    report = report_of(name)
    before = {target.key: target.off_by for target in report.targets if target.key in musts_broken(report)}
    for cause, mend, then in offered(name):
        for target in then.targets:
            if target.key in musts_broken(then):
                assert target.off_by <= before.get(target.key, 0.0) + 1e-4, (cause, mend, target.key)


@pytest.mark.parametrize("name", ALL)
def test_a_mend_turns_no_answer_to_no(name: str) -> None:
    before = {verdict.key: verdict.answer for verdict in report_of(name).verdicts}
    for cause, mend, then in offered(name):
        for verdict in then.verdicts:
            assert verdict.answer != "no" or before[verdict.key] == "no", (cause, mend, verdict)


@pytest.mark.parametrize("name", ALL)
def test_a_mend_costs_no_silver_and_makes_no_other_button(name: str) -> None:
    report = report_of(name)
    wanted, off = lead_aim(report)
    room = max(0.25 * of_charge(report, button), 0.01)
    for cause, mend, then in offered(name):
        for metal in ("silver", "gold"):
            assert back(then, metal) >= back(report, metal) - 2.0, (cause, mend)
        hidden = of_charge(report, layers) if cause in HIDDEN_IN_LAYERS else 0.0
        grown = base_metal(then) - base_metal(report)
        nearer = wanted and lead_aim(then)[1] < off
        assert nearer or grown <= room + hidden + 1e-9, (cause, mend, grown)
        assert nearer or not wanted or grown >= -room, (cause, mend, grown)


def test_every_change_of_the_table_is_offered_by_one_of_the_recipes() -> None:
    never = {(cause, k) for cause, each in CANDIDATES.items() for k in range(len(each))}
    for name in ALL:
        figures, found = Figures(report_of(name)), {(cause, mend) for cause, mend, _ in offered(name)}
        for cause, k in tuple(never):
            if (cause, CANDIDATES[cause][k].mender(figures)) in found:
                never.discard((cause, k))
    assert never == set()


def offers(work: Work, *causes: str) -> list[Mend]:
    report = evaluate(work)
    return [mend for cause in causes for mend in mends_for(report, cause)]


@pytest.mark.parametrize("work", [demo_work(), HYDRATED, COPPERY], ids=["demo", "hydrated", "coppery"])
def test_no_charcoal_is_offered_against_ferric_iron_where_it_would_pay_for_lead_and_copper_first(work: Work) -> None:
    assert offers(work, "ferric-iron") == []


def test_where_lead_is_wanted_the_charcoal_for_ferric_iron_pays_for_the_lead_before_it() -> None:
    aimed = with_target(with_lines(work_of(CLEAN), SODA, SAND, BORAX), Target("lead_button", 5.0, 40.0, "wish", "wish"))
    figures = Figures(evaluate(aimed))
    mend = reduce_iron(figures)
    assert mend is not None
    litharge = sum(oxygen for name, oxygen in figures.unmet_up_to(frozenset({"litharge"})))
    both = sum(oxygen for name, oxygen in figures.unmet_up_to(frozenset({"ferric oxide"})))
    charcoal = aimed.shelf.flux("charcoal")
    assert charcoal is not None
    assert 0.0 < litharge < both
    assert mend.arguments == ("charcoal", pytest.approx(both * LEAD_PER_OXYGEN / charcoal.lead_power, abs=0.101))


def test_reducer_for_ferric_iron_brings_it_down() -> None:
    (charcoal,) = offers(IRONY, "ferric-iron")
    before, after = evaluate(IRONY), evaluate(apply_mend(IRONY, charcoal)[1])
    assert Figures(after).oxide("Fe2O3") < 0.2 * Figures(before).oxide("Fe2O3")


@pytest.mark.parametrize("name", ALL)
def test_borax_is_not_offered_against_too_much_acid(name: str) -> None:
    assert not any(cause == "too-acid" and mend.arguments[:1] == ("borax-glass",) for cause, mend, _ in offered(name))


@pytest.mark.parametrize(
    "name", [name for name, work in ALL.items() if any(x.flux == "nitre" for x in work.recipe.lines)]
)
def test_no_reducer_is_offered_beside_nitre(name: str) -> None:
    given = {line.flux: line.grams for line in report_of(name).lines}
    for _, mend, then in offered(name):
        if mend.arguments[:1] == ("charcoal",):
            assert next(line.grams for line in then.lines if line.flux == "charcoal") <= given.get("charcoal", 0.0)


def test_fluorspar_is_not_offered_beside_hydrated_borax() -> None:
    told = offers(HYDRATED, "chromite", "stiff-slag", "lime-alumina", "phosphate", "milky-solids")
    assert all(mend.arguments[:1] != ("fluorspar",) for mend in told)


@pytest.mark.parametrize("name", [name for name in ALL if name != "short roast"])
def test_a_roast_that_is_taken_as_perfect_is_not_made_longer(name: str) -> None:
    assert all(mend.edit != "plan_roast" for _, mend, _ in offered(name))


def test_a_roast_that_was_short_is_made_longer() -> None:
    assert [mend.edit for mend in offers(TROUBLES["short roast"], "roast-short")] == ["plan_roast"]


@pytest.mark.parametrize("work", [NITRE, BASIC, HYDRATED], ids=["nitre", "basic", "hydrated"])
def test_a_larger_charge_is_not_offered_where_pot_or_mould_has_no_room(work: Work) -> None:
    assert offers(work, "small-collector") == []


def test_a_larger_charge_is_offered_where_there_is_room() -> None:
    assert [mend.words for mend in offers(TROUBLES["roomy"], "small-collector")] == ["Charge 60 → 90 g"]


WITHOUT_LITHARGE = [name for name, work in ALL.items() if all(line.flux != "litharge" for line in work.recipe.lines)]


@pytest.mark.parametrize("name", WITHOUT_LITHARGE)
def test_no_litharge_is_offered_where_there_is_none(name: str) -> None:
    assert all(mend.arguments[:1] != ("litharge",) for _, mend, _ in offered(name))


def test_a_lead_button_that_lacks_lead_is_offered_the_flour_for_it() -> None:
    starved = TROUBLES["starved lead"]
    (flour,) = offers(starved, "under-reduced")
    then = evaluate(apply_mend(starved, flour)[1])
    assert flour.arguments[0] == "wheat-flour"
    assert lead_aim(then)[1] == 0.0 < lead_aim(evaluate(starved))[1]


def test_no_reducer_is_offered_for_a_larger_button_where_no_base_metal_is_wanted() -> None:
    assert offers(demo_work(), "under-reduced") == []


def test_nothing_is_offered_for_a_cause_that_the_recipe_all_but_rules_out() -> None:
    report = evaluate(IRONY)
    assert prior("nitre", Figures(report)).odds == LEAST
    assert mends_for(report, "nitre") == ()


def test_iron_for_a_matte_takes_its_sulphur_and_the_rule_goes_quiet() -> None:
    (iron,) = (mend for mend in offers(RAW, "matte") if mend.edit == "fix_weight")
    _, mended = apply_mend(RAW, iron)
    assert "R23" in {c.rule for c in evaluate(RAW).cautions}
    assert "R23" not in {c.rule for c in evaluate(mended).cautions}


def test_a_roast_first_takes_the_sulphide_out_of_the_pot() -> None:
    raw = with_lines(RAW, *(Line(flux) for flux in ("soda-ash-dense", "silica-sand", "borax-glass")))
    (roast,) = (mend for mend in offers(raw, "matte") if mend.edit == "set_pot_feed")
    assert Figures(evaluate(apply_mend(raw, roast)[1])).sulphide_sulphur == 0.0


def test_no_iron_is_offered_beside_nitre() -> None:
    both = edits.fix_weight(RAW, "nitre", 5.0)[1]
    assert all(mend.arguments[:1] != ("iron-filings",) for mend in offers(both, "matte"))


def test_a_flux_that_the_shelf_has_not_is_not_offered() -> None:
    bare = replace(IRONY, shelf=replace(IRONY.shelf, fluxes=IRONY.shelf.fluxes[:1]))
    assert offers(bare, "ferric-iron") == []


def test_what_is_judged_comes_one_at_a_time_with_none_for_what_does_not_help() -> None:
    causes = [cause.key for cause in diagnose(evaluate(LEAD), ("button-small",)).causes]
    told = list(judged(evaluate(LEAD), causes))
    assert any(mend is None for _, mend in told)
    assert [cause for cause, _ in told] == sorted((cause for cause, _ in told), key=causes.index)


def test_a_mend_that_is_no_edit_is_a_fault_of_ours() -> None:
    with pytest.raises(ValueError):
        apply_mend(demo_work(), Mend("Show", "show_cautions"))
