"""Temperatures of a pour, solids and crystals."""

import numpy as np
import pytest

from fluxlab import resources
from fluxlab.issue import Severity
from fluxlab.materials.oxides import Vec, from_masses, vector
from fluxlab.slag.crystals import Passing, Trigger, crystals, default_triggers, read_triggers
from fluxlab.slag.pouring import ABOVE_LIQUIDUS
from fluxlab.slag.solids import stiffening_issues, thickening
from fluxlab.slag.viscosity import log_viscosity
from fluxlab.slag.workable import pour_issues, workable
from tests.slag.jumps import largest_jump
from tests.slag.melt_cases import CORE, FAYALITE, SODA_LIME

THIN = from_masses({"Na2O": 38, "B2O3": 40, "SiO2": 22})


def test_a_melt_has_the_viscosities_at_its_temperatures():
    found = workable(CORE, 2.0)
    assert log_viscosity(CORE, found.thin.value) == pytest.approx(np.log10(2.0))
    assert log_viscosity(CORE, found.leaves_pot.value) == pytest.approx(1.0)


def test_pour_and_melt_free_are_the_higher_of_viscosity_and_liquidus():
    for n in (CORE, SODA_LIME, FAYALITE):
        found = workable(n, 1.0)
        thin, leaves = np.nan_to_num([found.thin.value, found.leaves_pot.value])
        if thin:
            assert found.pour.value == pytest.approx(max(thin, found.liquidus.value + ABOVE_LIQUIDUS))
        if leaves:
            assert found.melt_free.value == pytest.approx(max(leaves, found.liquidus.value))
    assert workable(FAYALITE, 1.0).pour.value == pytest.approx(workable(FAYALITE, 1.0).liquidus.value + 30.0)


def test_a_melt_that_is_thin_when_coldest_has_its_liquidus_decide():
    found = workable(THIN, 1e4)
    assert np.isnan(found.thin.value)
    assert found.pour.value == pytest.approx(found.liquidus.value + ABOVE_LIQUIDUS)


def test_a_melt_that_never_gets_thin_has_no_pour():
    stiff = from_masses({"SiO2": 82, "Al2O3": 15, "Na2O": 3})
    found = workable(stiff, 0.1)
    assert np.isnan([found.thin.value, found.pour.value, found.pour.low90]).all()


def test_nothing_jumps_where_a_melt_becomes_thin_when_coldest():
    def told(t: float) -> Vec:
        return np.nan_to_num(workable(THIN, 10.0 ** (2.0 + 3.0 * t)).pour.ends)

    assert largest_jump(told, steps=100) < 1e-4


def test_ranges_stand_about_the_value_and_follow_the_viscosity():
    found = workable(CORE, 1.0).thin
    assert found.low90 < found.low50 < found.value < found.high50 < found.high90
    assert found.high90 - found.value > 100.0


def test_the_wanted_viscosity_may_differ_by_sample():
    table = workable(np.array([CORE, CORE]), np.array([1.0, 5.0]))
    assert table.thin.value[1] == pytest.approx(float(workable(CORE, 5.0).thin.value))
    assert table.thin.value[1] < table.thin.value[0]


def test_no_temperature_jumps_with_the_wanted_viscosity():
    def told(t: float) -> list[float]:
        found = workable(CORE, 10.0 ** (2.0 * t - 0.5))
        return [float(found.pour.value), float(found.pour.high50), float(found.pour.low90)]

    assert largest_jump(told, steps=200) < 1e-4


def test_a_cold_pour_is_warned_of():
    found = workable(CORE, 1.0)
    cold = pour_issues(found, 780.0)
    assert [issue.severity for issue in cold] == [Severity.ERROR, Severity.WARNING]
    assert "10 Pa·s" in cold[0].sentence
    assert pour_issues(found, 1150.0) == ()


def test_solids_thicken_as_einstein_and_roscoe_say():
    # (1 - 1.35 f)^-2.5: R. Roscoe, Br. J. Appl. Phys. 3 (1952) 267, as usually quoted
    found = thickening(np.array([0.0, 0.1, 0.4]))
    assert found.likely == pytest.approx([1.0, 0.865**-2.5, 0.46**-2.5])
    assert found.low == pytest.approx([1.0, 0.9**-2.5, 0.6**-2.5])
    assert (found.low <= found.likely).all()
    assert (found.likely <= found.high).all()


def test_few_solids_thicken_as_einstein_says():
    # 1 + 2.5 f for a dilute suspension of spheres: A. Einstein, Ann. Phys. 19 (1906) 289, from memory
    assert thickening(np.array(1e-6)).low == pytest.approx(1.0 + 2.5e-6, rel=1e-9)


def test_solids_jam_and_nonsense_gives_no_number():
    assert np.isinf(thickening(np.array(0.75)).likely)
    assert np.isinf(thickening(np.array(0.61)).high)
    assert np.isnan(thickening(np.array([-0.1, 1.1, np.nan])).likely).all()


def test_a_pour_that_may_hold_crystals_is_told_what_they_do():
    (said,) = stiffening_issues(900.0, 1000.0)
    assert said.severity is Severity.NOTE
    assert "10 % of solids by volume make it 1.4 times as thick (1.3 to 1.6)" in said.sentence
    assert stiffening_issues(1100.0, 1000.0) == ()


def names(n: np.ndarray) -> set[str]:
    return {each.trigger.name.split(" (")[0] for each in crystals(n)}


def test_crystals_are_likely_where_their_oxides_are_many():
    assert names(SODA_LIME) == {"Undissolved quartz"}
    assert "Spinel of iron" in names(from_masses({"SiO2": 45, "Na2O": 20, "B2O3": 20, "Fe2O3": 15}))
    assert "Willemite" in names(from_masses({"SiO2": 40, "Na2O": 15, "B2O3": 15, "ZnO": 30}))
    assert "Undissolved alumina" in names(from_masses({"SiO2": 45, "Na2O": 20, "B2O3": 10, "Al2O3": 25}))
    assert "Spinel of chromium" in names(from_masses({"SiO2": 45, "Na2O": 30, "B2O3": 23, "Cr2O3": 2}))
    assert names(from_masses({"SiO2": 35, "Na2O": 30, "B2O3": 35})) == set()
    assert crystals(vector({"SiO2": 1.0})) == ()


def test_a_warning_of_crystals_is_a_range_and_ends_where_it_is_hot():
    (quartz,) = crystals(SODA_LIME)
    issue = quartz.issue(1050.0)
    assert issue is not None
    assert "between 1000 and 1250" in issue.sentence
    assert "judgement" in issue.sentence
    assert quartz.issue(1250.0) is None


def test_the_strength_of_a_warning_grows_without_a_jump():
    def strength(t: float) -> float:
        n = from_masses({"SiO2": 50, "Na2O": 30, "B2O3": 20 * (1 - t), "ZnO": 60 * t})
        found = [each.strength for each in crystals(n) if each.trigger.name.startswith("Willemite")]
        return found[0] if found else 0.0

    assert strength(0.0) == 0.0
    assert strength(1.0) == 1.0
    assert largest_jump(strength, steps=100) < 1e-6


def test_every_trigger_says_its_source_and_which_are_judged():
    triggers = default_triggers()
    assert len(triggers) == 5
    assert all(each.source and each.sentence and each.remedy for each in triggers)
    assert [each.judgement for each in triggers] == [False, True, True, True, True]
    assert all("judgement" in each.source for each in triggers if each.judgement)
    assert read_triggers(resources.toml("slag/crystals.toml")) == triggers


def test_the_triggers_may_be_replaced():
    own = Trigger(
        "Own crystals", (Passing("CaO", 5.0, 9.0),), 900.0, 1000.0, "seen here", "less lime", True, "own melts"
    )
    (found,) = crystals(SODA_LIME, [own])
    assert (found.trigger, found.strength, found.low, found.high) == (own, 1.0, 900.0, 1000.0)
    assert crystals(CORE, [own]) != crystals(SODA_LIME, [own])
