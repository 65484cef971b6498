"""What predicts the melts of the map's field: the curve's own viscosity, and crystals where a trigger is passed."""

import numpy as np
import pytest

from fluxlab.design.balance import balance
from fluxlab.design.field_melts import crystals_expected, field_melts
from fluxlab.design.fluid_report import fluid_report
from fluxlab.design.start import demo_work
from fluxlab.materials.oxides import INDEX, SIZE
from fluxlab.slag.crystals import crystals


def glass(**grams):
    """A soda borosilicate with other oxides by mass [mol]; masses from memory, near enough for a share."""
    mass = {"SiO2": 60.1, "B2O3": 69.6, "Na2O": 62.0, "Fe2O3": 159.7, "Al2O3": 102.0, "ZnO": 81.4, "FeO": 71.8}
    n = np.zeros(SIZE)
    for oxide, grams_of in {"SiO2": 35.0, "B2O3": 25.0, "Na2O": 20.0, **grams}.items():
        n[INDEX[oxide]] = grams_of / mass[oxide]
    return n


def test_the_field_tells_the_viscosity_of_the_curve():
    work = demo_work()
    found = balance(work)
    told = fluid_report(work, found).at_pour.value
    field = field_melts(work).log_viscosity(np.array([found.n, found.n]), work.recipe.pour_temperature)
    assert 10.0**field == pytest.approx([told, told], rel=1e-9)


def test_crystals_are_expected_below_the_middle_of_the_range_of_a_passed_trigger():
    n = glass(Al2O3=40.0)  # a third of the melt is alumina
    warned = next(c for c in crystals(n) if "alumina" in c.trigger.name.lower())
    assert warned.strength == pytest.approx(1.0)
    middle = 0.5 * (warned.low + warned.high)
    assert crystals_expected(np.array([n]), middle - 1.0).tolist() == [True]
    assert crystals_expected(np.array([n]), middle + 1.0).tolist() == [False]


def test_no_crystals_are_expected_where_nothing_sets_them_off_or_nothing_can_be_told():
    plain, nothing = glass(), np.zeros(SIZE)
    assert crystals_expected(np.array([plain, nothing]), 900.0).tolist() == [False, False]


def test_many_melts_are_judged_as_each_alone():
    many = np.array([glass(), glass(Al2O3=40.0), glass(ZnO=60.0), glass(Fe2O3=20.0)])
    for temperature in (600.0, 900.0, 1100.0):
        together = crystals_expected(many, temperature)
        alone = [bool(crystals_expected(n[None], temperature)[0]) for n in many]
        assert together.tolist() == alone
