"""A limit on the viscosity and the thinnest slag, in the recipe as the operator asks for them."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate, rounded_weights
from fluxlab.design.melt_law import law, log_tolerance, pour_viscosity
from fluxlab.design.offers import offers
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.report_types import TargetReport
from fluxlab.design.why_report import why_report
from tests.works import DIRTY, with_lines, with_target, work_of


def limited(most: float, **recipe: object) -> Work:
    return with_target(work_of(**recipe), Target("viscosity", hi=most))  # type: ignore[arg-type]


def viscosity_row(work: Work) -> TargetReport:
    return next(t for t in evaluate(work).targets if t.key == "viscosity")


def thinnest(work: Work) -> Work:
    return replace(work, recipe=replace(work.recipe, goal="thinnest slag"))


def test_a_wide_limit_leaves_the_recipe_as_it_is() -> None:
    off = with_target(work_of(), Target("viscosity", on=False))
    assert balance(limited(2.0)).x == pytest.approx(balance(off).x, abs=1e-9)
    assert viscosity_row(limited(2.0)).state == "inside"


@pytest.mark.parametrize("most", [0.25, 0.18, 0.12])
def test_a_narrow_limit_is_met_exactly_and_is_named_as_the_reason(most: float) -> None:
    work = limited(most)
    report = evaluate(work)
    row = next(t for t in report.targets if t.key == "viscosity")
    assert report.solve.status == "ok"
    assert row.value == pytest.approx(most, rel=1e-5)
    assert row.state == "at hi"
    assert row.value == pytest.approx(pour_viscosity(balance(work).n, 1150.0))
    assert any(line.why == f"Thins the melt to {most:.2f} Pa·s" for line in report.lines)


@pytest.mark.parametrize(
    ("work", "most", "degree"),
    [
        (work_of(route="iron", pot_feed="calcine", charge=20.0, pour_temperature=950.0), 0.2, (1.29, 3.29)),
        (work_of(DIRTY, "iron", pot_feed="calcine", charge=20.0, pour_temperature=1050.0), 0.2, (1.75, 3.75)),
    ],
    ids=["clean", "dirty"],
)
def test_passes_that_circle_round_the_optimum_end_on_the_limit(
    work: Work, most: float, degree: tuple[float, float]
) -> None:
    """These two ended 2.2 and 0.8 % above it, called "ok" by the solver and missed by the report."""
    asked = with_target(work, Target("viscosity", hi=most))
    report = evaluate(with_target(asked, Target("degree", lo=degree[0], hi=degree[1])))
    row = next(t for t in report.targets if t.key == "viscosity")
    assert report.solve.status == "ok"
    assert row.state == "at hi"
    assert row.value == pytest.approx(most, rel=1e-5)
    assert report.solve.gave_way == ()


def test_a_hotter_pour_needs_less_to_thin_the_melt() -> None:
    cold, hot = balance(limited(0.2)), balance(limited(0.2, pour_temperature=1250.0))
    off = balance(with_target(work_of(), Target("viscosity", on=False)))
    assert np.abs(hot.x - off.x).max() < np.abs(cold.x - off.x).max()


def test_a_limit_out_of_reach_gives_way_and_every_offer_ends_the_complaint() -> None:
    work = limited(0.01)
    report = evaluate(work)
    assert report.solve.status == "relaxed"
    assert any("Viscosity at the pour" in sentence for sentence in report.solve.gave_way)
    made = offers(work, balance(work))
    assert made
    for offer in made:
        _, after = getattr(edits, offer.mend.edit)(work, *offer.mend.arguments)
        assert evaluate(after).solve.gave_way == (), offer.sentence


def test_opening_the_limit_is_told_in_pascal_seconds() -> None:
    work = limited(0.2)
    row = next(w for w in why_report(work, balance(work)).limits if w.limit == "viscosity#hi")
    assert row.sentence.startswith("Opening viscosity at the pour at most 0.20 Pa·s by 0.1 Pa·s: ")
    assert 10.0 ** (np.log10(0.2) + log_tolerance(0.2, 0.1)) == pytest.approx(0.3)


def test_a_lower_end_and_a_limit_of_nothing_are_no_limits() -> None:
    plain = balance(with_target(work_of(), Target("viscosity", on=False))).x
    for target in (Target("viscosity", lo=5.0), Target("viscosity", hi=0.0), Target("viscosity", hi=-1.0)):
        assert balance(with_target(work_of(), target)).x == pytest.approx(plain)


def test_fixed_rows_stay_fixed_while_the_melt_is_thinned() -> None:
    lines = (Line("borax-glass"), Line("soda-ash-dense"), Line("silica-sand", 45.0))
    found = balance(with_lines(limited(0.15), *lines))
    assert found.x[2] == 45.0
    assert pour_viscosity(found.n, 1150.0) == pytest.approx(0.15, rel=1e-4)


def test_no_ore_and_no_flux_have_no_viscosity_and_no_fault() -> None:
    for work in (with_lines(limited(0.5)), limited(0.5, charge=0.0), thinnest(limited(0.5, charge=0.0))):
        report = evaluate(work)
        assert report.solve.status in ("ok", "undefined", "relaxed")


def test_the_thinnest_slag_is_thinner_than_any_nearby_recipe_that_keeps_the_targets() -> None:
    for base in (work_of(), work_of(DIRTY)):
        work = thinnest(base)
        found = balance(work)
        assert found.result.status == "ok"
        best = pour_viscosity(found.n, 1150.0)
        assert best is not None
        assert best < pour_viscosity(balance(base).n, 1150.0)  # type: ignore[operator]
        c, rng = found.compiled, np.random.default_rng(3)
        checked = 0
        for _ in range(3000):
            x = found.result.x + rng.normal(0.0, 3.0, len(found.result.x)) * c.is_free
            if (x < c.low).any() or (x > c.high).any() or not keeps(c, x):
                continue
            other = pour_viscosity(c.b + c.problem.Y @ x, 1150.0)
            # No recipe gains more than the little that a gram of flux must be worth.
            assert other is not None
            assert np.log10(other) >= np.log10(best) - 0.01
            checked += 1
        assert checked > 20


def keeps(c: object, x: np.ndarray) -> bool:
    both = c.G @ x + c.U @ c.b + c.C  # type: ignore[attr-defined]
    value = both[: c.count] / both[c.count :]  # type: ignore[attr-defined]
    room = 1e-6 * c.tol  # type: ignore[attr-defined]
    return bool((value >= c.window_lo - room).all() and (value <= c.window_hi + room).all())  # type: ignore[attr-defined]


def test_the_thinnest_slag_can_be_asked_for_and_is_rounded_and_explained() -> None:
    work = edits.set_goal(work_of(), "thinnest slag")[1]
    report = evaluate(work)
    assert report.solve.status == "ok"
    assert all(line.why for line in report.lines)
    assert why_report(work, balance(work)).lines


@pytest.mark.parametrize("goal", ["least flux", "thinnest slag"])
def test_the_recipe_never_jumps(goal: str) -> None:
    def at(t: float) -> np.ndarray:
        work = limited(0.1 + 0.3 * t)
        return np.array(balance(replace(work, recipe=replace(work.recipe, goal=goal))).x)  # type: ignore[arg-type]

    ts = np.linspace(0.0, 1.0, 15)
    found = [at(float(t)) for t in ts]
    steps = [float(np.abs(b - a).max()) for a, b in pairwise(found)]
    i = int(np.argmax(steps))
    (ta, a), (tb, b) = (float(ts[i]), found[i]), (float(ts[i + 1]), found[i + 1])
    for _ in range(20):
        t = 0.5 * (ta + tb)
        x = at(t)
        if np.abs(x - a).max() >= np.abs(b - x).max():
            tb, b = t, x
        else:
            ta, a = t, x
    assert np.abs(b - a).max() < 1e-3


def test_the_law_has_the_derivative_that_small_steps_show() -> None:
    found = balance(work_of())
    value, slopes = law(1150.0)(found.n)
    for i in np.flatnonzero(found.n > 0.0)[:6].tolist():
        more = found.n.copy()
        more[i] += 1e-6
        assert (law(1150.0)(more)[0] - value) / 1e-6 == pytest.approx(slopes[i], abs=1e-4)


@pytest.mark.parametrize("most", [0.25, 0.2, 0.15, 0.12])
def test_rounded_weights_keep_the_melt_as_thin(most: float) -> None:
    work = limited(most)
    rounded = rounded_weights(work)
    assert rounded.kept
    found = balance(work)
    weighed = np.array([rounded.grams[line.flux] for line in found.fluxes.lines])
    assert weighed == pytest.approx(found.x, abs=3.0)
    thick = pour_viscosity(found.feed.oxides + found.fluxes.Y @ weighed, 1150.0)
    assert thick is not None
    assert thick <= most * (1.0 + 1e-4)
