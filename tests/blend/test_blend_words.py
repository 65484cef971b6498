"""The sentences that an operator reads."""

from dataclasses import replace

import numpy as np

from fluxlab.blend.explain import conflict, effects, limit_effects, why
from fluxlab.blend.problem import compile
from fluxlab.blend.rounding import round_recipe
from fluxlab.blend.solve import solve
from fluxlab.blend.types import (
    HOUSE,
    LEAST,
    LOCKED,
    STOCK,
    UNUSED,
    Chance,
    Effect,
    Goal,
    Note,
    Relief,
    Rounded,
    WindowState,
)
from fluxlab.blend.words import (
    chance_sentence,
    conflict_sentence,
    effect_sentence,
    note_issue,
    offered_limit,
    rounding_sentence,
    sentences,
    why_sentence,
    window_sentence,
)
from fluxlab.issue import Severity
from tests.blend.cases import case
from tests.blend.cases import problem as case_problem
from tests.blend.test_closed_forms import degree, problem, total

INF = float("inf")


def test_a_recipe_that_meets_everything_says_so_in_one_sentence() -> None:
    p = problem("s", (0.1, 0, 1), (degree(1.5, 2.0, 1),))
    assert sentences(p, solve(compile(p)[0])) == ("Every target holds.",)


def test_a_target_that_gave_way_says_what_was_asked_and_what_is_got() -> None:
    p = problem("s", (0.5, 0, 0.5), (total(40.0, INF, 1, 1), replace(total(-INF, 30.0, 1, 2), key="cap", label="cap")))
    c, _ = compile(p)
    said = sentences(p, solve(c), conflict(c))
    assert said[0] == "The targets cannot all hold together; this is the nearest recipe."
    assert said[1] == (
        "Cap: at most 30.00 g was asked for; the recipe gives 40.00 g, 10.000 g too much (10.0 tolerances)."
    )
    assert said[2] == (
        "These cannot all hold together: flux and cap. Enough on its own: flux down to 30.00 g, or cap up to 40.00 g."
    )


def test_a_limit_reached_says_what_opening_it_changes() -> None:
    p = problem("s", (0.1, 0, 1), (total(40.0, INF, 1, 1),))
    c, _ = compile(p)
    r = solve(c)
    text = window_sentence(p.windows[0], r.windows[0], limit_effects(c, r)[0], p.components)
    assert text == "Flux is at its lower limit 40.00 g. Opening it by 1.000 g changes: s -1.00 g."


def test_the_reason_of_a_component_names_the_limit_and_the_direction() -> None:
    up = problem("s", (0.1, 0, 1), (degree(1.5, INF, 1),))
    down = problem("c", (1.0, 0, 0.2), (degree(-INF, 1.6, 1),))
    kept = problem("s", (0.1, 0, 1), (total(-INF, 30.0, 1),), house=(50.0,))
    said = []
    for p in (up, down, kept):
        c, _ = compile(p)
        r = solve(c)
        said.append(why_sentence(p, r, why(c, r)[0]))
    assert said == [
        "Brings silicate degree up to its lower limit.",
        "Brings silicate degree down to its upper limit.",
        "Kept down by the upper limit of flux.",
    ]


def test_every_mark_has_its_sentence() -> None:
    p = problem("s", (0.1, 0, 1), ())
    r = solve(compile(p)[0])
    said = [why_sentence(p, r, mark) for mark in (LOCKED, LEAST, STOCK, UNUSED, HOUSE)]
    assert len(set(said)) == 5
    assert all(s.endswith(".") for s in said)


def test_one_more_gram_is_told_with_the_amount_it_holds_for() -> None:
    p = case_problem(case("S10")["data"], Goal("cost"))
    c, _ = compile(p)
    text = effect_sentence(p, effects(c, solve(c), ("Fe2O3",))[0])
    assert text.startswith("One more gram of Fe2O3 in the charge needs: nitre +1.16 g, soda ash -0.99 g, ")
    assert text.endswith(" (holds for the next 2.16 g).")


def test_an_effect_of_nothing_says_nothing() -> None:
    p = problem("s", (0.1, 0, 1), ())
    assert effect_sentence(p, Effect("S", "mol", np.zeros(1), 0.0, INF)) == (
        "One more mole of S in the charge needs: nothing."
    )


def test_an_offered_limit_is_rounded_outwards() -> None:
    w = degree(1.0, 2.0, 1)
    assert offered_limit(w, Relief("degree", "hi", 2.0, 2.0312)) == 2.04
    assert offered_limit(w, Relief("degree", "lo", 1.0, 0.9388)) == 0.93
    assert offered_limit(w, Relief("degree", "hi", 2.0, 2.03)) == 2.03


def test_a_conflict_of_one_is_told_as_one() -> None:
    p = problem("s", (0.5, 0, 0.5), (total(2000.0, INF, 1, 1),))
    found = conflict(compile(p)[0])
    assert found is not None
    assert conflict_sentence(p, found) == (
        "Flux cannot be met, whatever the free fluxes weigh. Enough on its own: flux down to 1000.00 g."
    )


def test_used_up_stock_is_named() -> None:
    p = replace(problem("s", (0.1, 0, 1), (degree(3.0, INF, 1, 2),)), hi=np.array([12.0]))
    said = sentences(p, solve(compile(p)[0]))
    assert "All 12.0 g of s that may be used are used." in said


def test_a_failed_rounding_is_honest_and_a_good_one_silent() -> None:
    p = problem("s", (0.1, 0, 0.3), (replace(total(10.02, 10.06, 1), tol=0.01),))
    c, _ = compile(p)
    assert rounding_sentence(p, round_recipe(c, solve(c).x)) == (
        "No weights on this balance's steps keep the targets that must hold. Flux leaves the least room."
    )
    fine, _ = compile(replace(p, windows=(total(10.0, 11.0, 1),)))
    assert rounding_sentence(p, round_recipe(fine, solve(fine).x)) == ""
    gave = WindowState("total", 10.0, 10.02, 10.06, "below", 0.02, 2.0)
    wish = Rounded(np.array([10.0]), "corner", False, True, (gave,), 0.0, 10.0)
    assert rounding_sentence(p, wish) == (
        "Rounding to the balance moves this out of its band: flux. What must hold still holds."
    )


def test_a_chance_is_told_in_ores_of_a_hundred() -> None:
    p = problem("s", (0.1, 0, 1), (degree(1.5, 2.0, 1),))
    assert chance_sentence(p, Chance(0.5, 0.62, np.array([0.62]), "degree", 1000)) == (
        "All targets that must hold do so in 62 of 100 likely ores; silicate degree fails most often."
    )
    assert chance_sentence(p, Chance(1.0, 1.0, np.array([1.0]), "degree", 1000)).endswith("in 100 of 100 likely ores.")


def test_every_note_becomes_an_issue_with_a_place_and_a_sentence() -> None:
    p = problem("s", (0.1, 0, 1), (degree(1.5, 2.0, 1),))
    refusals = {"not_a_number", "empty_window", "bad_tolerance", "bad_scale"}
    for code in Note.__dataclass_fields__["code"].type.__args__:
        issue = note_issue(p, Note(code, "degree", 1.0))
        assert issue.sentence.endswith(".")
        assert issue.where
        assert (issue.severity is Severity.ERROR) == (code in refusals)
