"""What oxides ask of a reducer, in order, and the iron that stays ferric."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.demand import Demand, ahead_of_iron, demands, ferric_share, oxygen_demand, spend

CALCINE = {"Fe2O3": 40.0, "CuO": 5.0, "MnO2": 4.0, "PbO": 10.0, "ZnO": 8.0, "SiO2": 30.0, "Sb2O4": 2.0}


def test_what_is_not_reduced_asks_for_nothing() -> None:
    assert oxygen_demand("SiO2") == 0.0
    assert "SiO2" not in [demand.substance for demand in demands(CALCINE)]


def test_copper_comes_before_manganese_before_litharge_before_zinc() -> None:
    order = [demand.substance for demand in demands(CALCINE)]
    assert order[0] == "CuO"
    assert order.index("MnO2") < order.index("PbO") < order.index("Sb2O4") < order.index("ZnO")
    assert order[-1] == "ZnO"


def test_ferric_iron_is_asked_twice_once_before_and_once_after_litharge() -> None:
    steps = [demand for demand in demands(CALCINE) if demand.substance == "Fe2O3"]
    assert [step.rank for step in steps] == [3, 6]
    assert sum(step.oxygen for step in steps) == pytest.approx(40.0 * oxygen_demand("Fe2O3"))
    assert steps[1].oxygen == pytest.approx(2.0 * steps[0].oxygen)


def test_the_reducer_is_spent_from_the_first_demand_down() -> None:
    wanted = demands(CALCINE)
    first, second = wanted[0].oxygen, wanted[1].oxygen
    met = spend(first + 0.5 * second, wanted)
    assert met[0].oxygen == pytest.approx(first)
    assert met[1].oxygen == pytest.approx(0.5 * second)
    assert [each.oxygen for each in met[2:]] == [0.0] * (len(wanted) - 2)


@given(oxygen=st.floats(-5.0, 50.0))
def test_no_more_is_spent_than_there_is_and_no_demand_more_than_met(oxygen: float) -> None:
    met = spend(oxygen, demands(CALCINE))
    assert sum(each.oxygen for each in met) <= max(oxygen, 0.0) + 1e-9
    assert all(0.0 <= each.oxygen <= each.demand.oxygen for each in met)


def test_copper_manganese_and_litharge_are_served_ahead_of_iron() -> None:
    expected = sum(CALCINE[each] * oxygen_demand(each) for each in ("CuO", "MnO2", "PbO"))
    assert ahead_of_iron(demands(CALCINE)) == pytest.approx(expected)


def test_sulphates_and_antimony_wait_behind_iron() -> None:
    assert ahead_of_iron([Demand("PbSO4", "PbS", 1.0, 0.2, 5), Demand("Sb2O3", "Sb", 1.0, 0.2, 6)]) == 0.0


def test_the_route_decides_what_iron_becomes() -> None:
    assert ferric_share("ferrous", 40.0) == 0.0
    assert ferric_share("ferric", 40.0, reducer_oxygen=100.0) == 1.0
    assert ferric_share("by reducer", 40.0) == 1.0


def test_a_reducer_takes_ferric_iron_down_in_proportion() -> None:
    assert ferric_share("by reducer", 40.0, reducer_oxygen=2.004) == pytest.approx(0.5, abs=1e-3)
    assert ferric_share("by reducer", 40.0, reducer_oxygen=3.004, ahead=1.0) == pytest.approx(0.5, abs=1e-3)


def test_too_much_reducer_leaves_nothing_ferric_and_too_little_leaves_all() -> None:
    assert ferric_share("by reducer", 40.0, reducer_oxygen=50.0) == 0.0
    assert ferric_share("by reducer", 40.0, reducer_oxygen=1.0, ahead=2.0) == 1.0
    assert ferric_share("by reducer", 40.0, reducer_oxygen=-3.0) == 1.0


def test_without_iron_the_share_is_that_of_an_unreduced_charge() -> None:
    assert ferric_share("by reducer", 0.0, reducer_oxygen=5.0) == 1.0
