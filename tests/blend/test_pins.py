"""Recipes with windows held at values: against the same problem with those limits, and against what can be reached."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.pins import Pins
from fluxlab.blend.problem import compile, update
from fluxlab.blend.solve import solve, strict
from fluxlab.blend.types import Goal, KernelChoice
from tests.blend.cases import case
from tests.blend.cases import problem as case_problem
from tests.blend.instances import realistic
from tests.blend.test_closed_forms import degree, problem, share, total

DEGREE, BORATE = "silicate degree", "borate fraction"


@pytest.mark.parametrize("kernel", ["auto", "numpy"])
def test_where_all_can_hold_it_is_the_recipe_with_those_limits(kernel: KernelChoice) -> None:
    for seed in range(4):
        c, _ = compile(realistic(seed, 8), kernel)
        v = {w.key: w.value for w in solve(c).windows}
        d, _ = compile(realistic(seed, 8), kernel)
        update(c, limits={DEGREE: (-np.inf, np.inf), BORATE: (-np.inf, np.inf)})
        pins = Pins(c, (DEGREE, BORATE))
        for shift in (0.0, 0.01, -0.01):
            at = (v[DEGREE] + shift, v[BORATE])
            update(d, limits={DEGREE: (at[0], at[0]), BORATE: (at[1], at[1])})
            found = pins.recipe(at)
            if strict(d.system(), kernel).status > 0 and solve(d).status == "ok":
                assert found is not None
                np.testing.assert_allclose(found, solve(d).x, atol=2e-6 * c.scale.max())


def test_a_pin_out_of_reach_has_no_recipe_and_one_in_reach_holds() -> None:
    c, _ = compile(problem("sb", (0.1, 0.0, 1.0), (degree(1.0, 2.0, 2), share(0.0, 1.0, 2), total(0.0, 45.0, 2))))
    pins = Pins(c, ("degree", "share"))
    inside = pins.recipe((1.5, 0.4))
    assert inside is not None
    update(c, bounds=(inside, inside))
    values = {w.key: w.value for w in solve(c).windows}
    assert (values["degree"], values["share"]) == pytest.approx((1.5, 0.4))
    # All the silica of the charge keeps the share under one.
    assert pins.recipe((1.5, 1.5)) is None


def test_windows_that_give_way_leave_the_pins_where_they_are() -> None:
    p = case_problem(case("S09")["data"], Goal("cost"))
    c, _ = compile(replace(p, windows=tuple(replace(w, priority=max(w.priority, 1)) for w in p.windows)))
    pins = Pins(c, (DEGREE, BORATE))
    found = pins.recipe((4.0, 0.05))
    assert found is not None
    d, _ = compile(replace(c.problem, lo=found, hi=found))
    values = {w.key: w.value for w in solve(d).windows}
    assert (values[DEGREE], values[BORATE]) == pytest.approx((4.0, 0.05), abs=1e-6)


def test_two_pins_on_one_sum_hold_only_together() -> None:
    """Grams of all the flux asked for twice: once as they are, once as a second window of the same quantity."""
    twice = (degree(0.1, 9.0, 2), total(0.0, 90.0, 2), replace(total(0.0, 90.0, 2), key="again"))
    c, _ = compile(problem("sb", (0.1, 0.0, 1.0), twice))
    pins = Pins(c, ("total", "again"))
    assert pins.recipe((40.0, 41.0)) is None
    both = pins.recipe((40.0, 40.0))
    assert both is not None
    assert both.sum() == pytest.approx(40.0)


def test_a_problem_that_cannot_be_solved_has_no_recipes() -> None:
    c, _ = compile(problem("sb", (0.1, 0.0, 1.0), (degree(1.0, 2.0, 2), share(0.0, 1.0, 2))))
    update(c, b=np.array([np.nan, 0.0, 1.0]))
    assert Pins(c, ("degree", "share")).recipe((1.5, 0.4)) is None
