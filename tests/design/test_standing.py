"""How small a miss counts as standing on the limit: what one step of the balance moves, and never what can be read."""

from dataclasses import replace

import pytest

from fluxlab.design.balance import balance
from fluxlab.design.chance import chance, held, pour_of_recipe
from fluxlab.design.evaluate import evaluate
from fluxlab.design.likely import likely
from fluxlab.design.odds import by_chance
from fluxlab.design.offers import offers
from fluxlab.design.recipe import Kind, Line, Target, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.report_types import Report, TargetReport
from fluxlab.design.standing import Standing, margin, one_step, standing
from fluxlab.design.target_report import value_of
from fluxlab.design.windows import words
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.samples import CHECK
from tests.works import with_lines, with_target, with_targets, work_of

ORE = OreType("q", "Quartz and lime", minerals=(Share("Quartz", 85.0), Share("Calcite", 15.0)))
ROWS = (Line("borax-glass", 40.0), Line("soda-ash-dense", 90.0), Line("silica-sand", 10.0))
KEYS = (
    "degree",
    "borate",
    "basicity",
    "optical",
    "viscosity",
    "cap:Na2O",
    "cap:Al2O3",
    "cover",
    "parts",
    "flux_to_ore",
)


def by_hand(step: float = 0.1, *targets: Target) -> Work:
    """Every weight fixed, so that a figure is what it is, whatever is asked."""
    work = with_targets(with_lines(work_of(ORE), *ROWS), *targets)
    return replace(work, shelf=replace(work.shelf, balance_step=step))


def figure(key: str, work: Work | None = None) -> float:
    target = Target(key, lo=0.0, hi=1e9, convention="SB" if key == "degree" else None)
    value = value_of(balance(work or by_hand()), target)
    assert value is not None
    return value


def missed_by(off: float, step: float = 0.1, kind: Kind = "must") -> Report:
    """A borate share that must be more than it is, and a melt that is surely thin enough."""
    return evaluate(
        by_hand(step, Target("borate", lo=figure("borate") + off, lo_kind=kind), Target("viscosity", hi=1e3))
    )


def row(report: Report, key: str = "borate") -> TargetReport:
    return next(t for t in report.targets if t.key == key)


def answer(report: Report, key: str) -> str:
    return next(v.answer for v in report.verdicts if v.key == key)


@pytest.mark.parametrize("key", KEYS)
def test_the_margin_is_what_one_step_of_the_balance_moves(key: str) -> None:
    """Each row weighed a little heavier, and the whole recipe worked out anew."""
    target, more, step = Target(key, convention="SB" if key == "degree" else None), 1e-3, 0.1
    value, moved = figure(key), []
    for i, line in enumerate(ROWS):
        heavier = replace(line, grams=(line.grams or 0.0) + more)
        moved.append(abs(figure(key, with_lines(by_hand(), *ROWS[:i], heavier, *ROWS[i + 1 :])) - value))
    found = balance(by_hand(step))
    # the density of the melt, and with it its height in the pot, follows the weights a little besides
    bent = 0.12 if key == "cover" else 0.05
    assert one_step(found, target, value) == pytest.approx(max(moved) * step / more, rel=bent)
    assert one_step(balance(by_hand(2.0 * step)), target, value) == pytest.approx(2.0 * one_step(found, target, value))


@pytest.mark.parametrize("key", sorted({*KEYS} - {"cap:Al2O3"}))
def test_what_can_be_read_off_the_figure_is_a_miss_however_coarse_the_balance(key: str) -> None:
    coarse, value, convention = balance(by_hand(50.0)), figure(key), "SB" if key == "degree" else None
    place = 10.0 ** -int(words(key)["decimals"])
    assert margin(coarse, Target(key), value) <= 0.5 * place
    for off, state in ((0.51 * place, "below"), (0.49 * place, "at lo")):
        found = standing(coarse, Target(key, lo=value + off, convention=convention), value)  # type: ignore[arg-type]
        assert found == Standing(state, pytest.approx(off))  # type: ignore[arg-type]
    above = standing(coarse, Target(key, hi=value - 0.51 * place, convention=convention), value)  # type: ignore[arg-type]
    assert above.state == "above"


def test_a_miss_within_a_step_of_the_balance_stands_on_its_limit_and_shows_its_figure() -> None:
    report = missed_by(2e-4)
    assert row(report).state == "at lo"
    assert row(report).off_by == pytest.approx(2e-4)
    share = figure("borate")
    told = f"Borate share {share:.4f}, at least {share + 2e-4:.4f} asked: on its limit, as near as the balance weighs"
    assert row(report).sentence == told
    assert report.solve.gave_way == ()
    assert report.solve.status == "ok"
    assert answer(report, "melt") == "close"
    assert answer(report, "sure") == "close"
    assert told in next(v.reason for v in report.verdicts if v.key == "sure")
    assert report.solve.sentences == (told,)
    assert told in " ".join(text_of(report).split())


def test_the_same_miss_is_a_miss_where_the_balance_tells_it() -> None:
    report = missed_by(2e-4, step=0.001)
    assert row(report).state == "below"
    assert "asked: on its limit" not in row(report).sentence
    assert f"{figure('borate'):.4f}" in row(report).sentence
    assert report.solve.gave_way == (row(report).sentence,)
    assert answer(report, "melt") == answer(report, "sure") == "no"


def test_a_miss_of_more_is_a_miss() -> None:
    report = missed_by(6e-3, step=50.0)
    assert row(report).state == "below"
    assert report.solve.status == "relaxed"
    assert answer(report, "melt") == answer(report, "sure") == "no"


@pytest.mark.parametrize("off", [-2e-4, 0.0, 2e-4])
def test_a_limit_that_is_met_or_just_missed_is_no_reason_for_ways_out(off: float) -> None:
    work = by_hand(0.1, Target("borate", lo=figure("borate") + off))
    assert offers(work, balance(work)) == ()


def test_ways_out_are_offered_where_a_limit_is_missed() -> None:
    work = by_hand(0.1, Target("borate", lo=figure("borate") + 0.01))
    assert offers(work, balance(work))


def test_a_limit_just_missed_holds_in_the_likely_ore_as_one_that_is_just_met() -> None:
    """The ore itself moves the share from one side to the other; the last digit of a weight does not."""
    wide = replace(ORE, minerals=(Share("Quartz", 85.0, 80.0, 90.0), Share("Calcite", 15.0, 10.0, 20.0)))
    chances = []
    for off in (0.0, 2e-4, 5e-3):
        work = by_hand(0.1, Target("borate", lo=figure("borate") + off))
        work = replace(work, recipe=replace(work.recipe, ore=wide))
        chances.append(chance(work, balance(work)).musts or 0.0)
    assert chances[0] == pytest.approx(0.5, abs=0.05)
    assert chances[1] == pytest.approx(chances[0], abs=0.002)
    assert chances[2] < 0.2


@pytest.mark.parametrize("key", ["cover", "viscosity", "cap:Na2O", "parts"])
def test_every_kind_of_limit_is_allowed_its_margin_in_the_likely_ores(key: str) -> None:
    """Melt for a cover and the logarithm of a viscosity are the solver's own units of these targets."""
    value = figure(key)
    off = 0.9 * margin(balance(by_hand(0.2)), Target(key), value)
    ends = {"hi": value - off} if key in ("viscosity", "cap:Na2O") else {"lo": value + off}
    work = by_hand(0.2, Target(key, **ends))  # type: ignore[arg-type]
    found = balance(work)
    assert row(evaluate(work), key).state in ("at lo", "at hi")
    sure = replace(pour_of_recipe(found), half_width=0.0) if key == "viscosity" else None  # type: ignore[type-var]
    drawn = likely(work, found, CHECK, sure)
    assert held(found, found.result.x, drawn, sure).together == 1.0
    assert held(found, found.result.x, replace(drawn, allowed=0.0 * drawn.allowed), sure).together == 0.0


@pytest.mark.parametrize("mineral", ["Pyrite", "Galena", "Chalcopyrite", "Arsenopyrite"])
def test_a_recipe_that_leans_on_one_limit_is_even_and_not_a_plain_no(mineral: str) -> None:
    """A thousand drawn ores tell a chance of a half to 1.6 in a hundred: 49 of 100 is no less than even."""
    ore = OreType("o", "Ore", minerals=(Share(mineral, 30.0, 25.0, 35.0), Share("Quartz", 70.0, 60.0, 80.0)))
    work = with_target(work_of(ore, "iron"), Target("viscosity", on=False))
    report = evaluate(work)
    musts = [t.key for t in report.targets if t.state in ("at lo", "at hi") and t.key in ("borate", "cap:Na2O")]
    assert musts
    assert report.chance is not None
    assert report.chance.musts == pytest.approx(0.5, abs=0.032)
    assert answer(report, "sure") == "close"


def test_a_chance_that_is_less_than_even_by_more_than_the_count_can_err_is_a_no() -> None:
    assert [by_chance(p, 1000) for p in (0.5, 0.47, 0.467, 0.1)] == ["close", "close", "no", "no"]
    assert [by_chance(p, 100_000) for p in (0.498, 0.496)] == ["close", "no"]
    assert [by_chance(p, 1000) for p in (0.9, 0.899)] == ["yes", "close"]
    assert by_chance(0.499) == "no"


def test_a_wish_just_missed_is_no_complaint() -> None:
    report = missed_by(2e-4, kind="wish")
    assert row(report).state == "at lo"
    assert report.solve.gave_way == ()
    assert answer(report, "melt") != "no"
