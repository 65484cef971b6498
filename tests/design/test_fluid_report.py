"""The melt as a liquid in the report: the same figures as the slag room, derivatives, odd melts and the answer."""

from dataclasses import replace
from itertools import pairwise
from math import log10

import numpy as np
import pytest

from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.fluid_report import LIMIT, fluid_report
from fluxlab.design.odds import by_chance
from fluxlab.design.recipe import Target, Work
from fluxlab.design.start import demo_work
from fluxlab.design.target_report import value_of
from fluxlab.materials.oxides import MASS
from fluxlab.slag.interval import LEVELS, chance_below
from fluxlab.slag.viscosity import log_viscosity, viscosity


def poured_at(work: Work, temperature: float) -> Work:
    return replace(work, recipe=replace(work.recipe, pour_temperature=temperature))


def limited(work: Work, most: float | None) -> Work:
    targets = tuple(
        replace(t, hi=most if most is not None else t.hi, on=most is not None) if t.key == "viscosity" else t
        for t in work.recipe.targets
    )
    return replace(work, recipe=replace(work.recipe, targets=targets))


def answer(work: Work) -> str:
    return next(v.answer for v in evaluate(work).verdicts if v.key == "melt")


def test_the_curve_and_the_pour_are_those_of_the_slag_room() -> None:
    work = poured_at(demo_work(), 1000.0)
    found = balance(work)
    fluid = fluid_report(work, found)
    assert fluid.curve is not None
    assert fluid.at_pour is not None
    assert fluid.at_pour.value == pytest.approx(10.0 ** float(log_viscosity(found.n, 1000.0)), rel=1e-12)
    logs = [log10(point.value) for point in fluid.curve.viscosity]
    assert logs == pytest.approx(log_viscosity(found.n, np.array(fluid.curve.temperatures)).tolist(), abs=1e-12)
    assert all(a > b for a, b in pairwise(logs)), "a melt gets thinner as it gets hotter"


def test_ranges_lie_inside_each_other_around_the_figure() -> None:
    fluid = fluid_report(demo_work(), balance(demo_work()))
    assert fluid.curve is not None
    told = [*fluid.curve.viscosity, fluid.at_pour, fluid.leaves_pot, fluid.liquidus, fluid.density, fluid.heat]
    for likely in told:
        assert likely is not None
        assert likely.low90 < likely.low50 < likely.value < likely.high50 < likely.high90


@pytest.mark.parametrize("most", [0.01, 0.05, 0.3, 2.0])
def test_the_chance_grows_with_the_limit_and_is_even_at_the_figure(most: float) -> None:
    work = demo_work()
    plain = fluid_report(work, balance(work))
    assert plain.at_pour is not None
    at, chance = plain.at_pour.value, fluid_report(limited(work, most), balance(limited(work, most))).chance
    assert chance is not None
    # where the figure is the larger the solver thins the slag to the limit, if it can
    assert (chance > 0.5 + 1e-9) == (most > at)
    even = fluid_report(limited(work, at), balance(limited(work, at))).chance
    assert even == pytest.approx(0.5, abs=0.02)


def test_nine_in_ten_of_the_range_is_nine_in_ten_of_the_chance() -> None:
    work = demo_work()
    found = balance(work)
    told = viscosity(found.n, work.recipe.pour_temperature)
    wide = float(told.half_widths[LEVELS.index(90)])
    low, high = (float(chance_below(told.log10, told.half_widths, float(told.log10) + s * wide)) for s in (-1, 1))
    assert (low, high) == pytest.approx((0.05, 0.95), abs=1e-9)


def test_the_answer_goes_from_yes_to_no_as_the_pour_gets_colder() -> None:
    answers = [answer(poured_at(demo_work(), t)) for t in (1150.0, 850.0, 700.0)]
    assert answers == ["yes", "close", "no"]


def test_a_thin_liquid_between_crystals_does_not_pour() -> None:
    work = poured_at(limited(demo_work(), 500.0), 700.0)
    verdict = next(v for v in evaluate(work).verdicts if v.key == "melt")
    assert verdict.answer == "no"
    assert "crystals are likely left: the last go near" in verdict.reason


def test_a_recipe_on_its_limit_is_close_on_whichever_side_the_last_digit_falls() -> None:
    assert [by_chance(0.5 + off) for off in (-1e-4, -1e-12, 0.0, 1e-12)] == ["no", "close", "close", "close"]


def test_a_cold_pour_offers_the_hotter_one_and_that_mends_it() -> None:
    cold = poured_at(demo_work(), 700.0)
    verdict = next(v for v in evaluate(cold).verdicts if v.key == "melt")
    assert verdict.mend is not None
    assert verdict.mend.edit == "set_pour_temperature"
    (hotter,) = verdict.mend.arguments
    assert isinstance(hotter, float)
    assert answer(poured_at(cold, hotter)) in ("yes", "close")


def test_without_a_target_the_limit_is_the_usual_one() -> None:
    work = limited(demo_work(), None)
    assert fluid_report(work, balance(work)).limit == LIMIT


@pytest.mark.parametrize("temperature", [300.0, 3000.0, float("nan")])
def test_an_absurd_pour_tells_no_viscosity_but_why(temperature: float) -> None:
    work = poured_at(demo_work(), temperature)
    fluid = fluid_report(work, balance(demo_work()))
    assert fluid.at_pour is None
    assert fluid.chance is None
    assert any("temperature" in i.sentence or "°C" in i.sentence for i in fluid.issues)


def test_no_slag_tells_nothing_and_says_so() -> None:
    work = demo_work()
    empty = replace(balance(work), n=np.zeros(len(MASS)))
    fluid = fluid_report(work, empty)
    assert (fluid.curve, fluid.at_pour, fluid.density, fluid.heat, fluid.moves) == (None, None, None, None, ())
    assert any("no slag" in i.sentence for i in fluid.issues)


def test_what_a_flux_moves_is_the_slope_of_the_ratios_and_of_the_viscosity() -> None:
    work = poured_at(demo_work(), 1000.0)
    found = balance(work)
    part = 0.01 * float(MASS @ found.n)
    asked = next(t for t in found.targets if t.key == "degree")
    for i, component in enumerate(found.fluxes.components):
        move = next((m for m in fluid_report(work, found).moves if m.name == component.name), None)
        if move is None:
            assert not found.fluxes.Y[:, i].any()
            continue
        small = 1e-5 * part
        x = found.x.copy()
        x[i] += small
        n = found.n + found.fluxes.Y[:, i] * small
        for said, t in ((move.degree, asked), (move.basicity, Target("basicity"))):
            now, then = value_of(found, t), value_of(found, t, n, x)
            assert said is not None
            assert now is not None
            assert then is not None
            assert said == pytest.approx((then - now) / small * part, rel=1e-3, abs=1e-9)
        thicker = float(log_viscosity(n, 1000.0) - log_viscosity(found.n, 1000.0)) / small * part
        assert move.viscosity == pytest.approx(thicker, rel=1e-3, abs=1e-7)


def test_silica_stiffens_and_soda_thins_the_demo_slag() -> None:
    moves = {m.name: m for m in fluid_report(demo_work(), balance(demo_work())).moves}
    assert moves["SiO2"].viscosity is not None
    assert moves["Na2O"].viscosity is not None
    assert moves["SiO2"].viscosity > 0.0 > moves["Na2O"].viscosity
    assert moves["SiO2"].degree is not None
    assert moves["SiO2"].degree > 0.0
