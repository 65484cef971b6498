"""What oxides ask of a reducer, in order, and the iron that stays ferric."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.demand import demands, oxygen_demand
from fluxlab.fusion.redox_order import ferric_share_left, redox_data, spend_in_order, steps_of

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
    wanted = steps_of(CALCINE, False)
    first, second = wanted[0].oxygen, sum(d.oxygen for d in wanted if d.rank == wanted[1].rank)
    met = spend_in_order(first + 0.5 * second, wanted)
    assert met[0].oxygen == pytest.approx(first)
    for each in met[1:]:
        part = 0.5 if each.demand.rank == wanted[1].rank else 0.0
        assert each.oxygen == pytest.approx(part * each.demand.oxygen)


@given(oxygen=st.floats(-5.0, 50.0))
def test_no_more_is_spent_than_there_is_and_no_demand_more_than_met(oxygen: float) -> None:
    met = spend_in_order(oxygen, steps_of(CALCINE, False))
    assert sum(each.oxygen for each in met) <= max(oxygen, 0.0) + 1e-9
    assert all(0.0 <= each.oxygen <= each.demand.oxygen for each in met)


def test_sulphates_wait_behind_litharge() -> None:
    # silver's with them: beside oxides it splits from 700 degC on, before a reducer has gone through copper and lead
    order = [d.substance for d in steps_of({**CALCINE, "PbSO4": 3.0, "ZnSO4": 1.0, "Ag2SO4": 0.5}, False)]
    sulphates = [order.index(s) for s in ("PbSO4", "ZnSO4", "Ag2SO4")]
    assert order.index("Fe2O3") < order.index("PbO") < min(sulphates)
    assert max(sulphates) < order.index("Sb2O4")


def test_a_place_of_the_operators_own_moves_the_sulphates() -> None:
    own = {**redox_data(), "sulphates": {**redox_data()["sulphates"], "rank": 8}}
    assert {d.rank for d in steps_of({"PbSO4": 3.0, "Ag2SO4": 0.5}, False, own)} == {8}


def ferric(oxygen: float, **pool: float) -> float:
    """Share of 40 g of ferric oxide that a reducer which takes so much oxygen [g O] leaves."""
    whole = {"Fe2O3": 40.0, **pool}
    return ferric_share_left(spend_in_order(oxygen, steps_of(whole, False)), whole, None, 0.0)


def test_a_reducer_takes_ferric_iron_down_in_proportion() -> None:
    # Fe2O3 = 2 FeO + O, by molar masses (IUPAC)
    assert ferric(15.0 * 15.999 / 159.687) == pytest.approx(1.0 - 15.0 / 40.0)
    assert ferric(50.0) == 0.0
    assert ferric(-3.0) == 1.0


def test_copper_and_manganese_are_served_ahead_of_iron_and_litharge_between_its_steps() -> None:
    ahead = {"CuO": 5.0, "MnO2": 4.0}
    wanted = sum(g * oxygen_demand(s) for s, g in ahead.items())
    to_magnetic = 40.0 * oxygen_demand("Fe2O3") / 3.0
    assert ferric(5.0 * oxygen_demand("CuO"), CuO=5.0) == 1.0
    assert ferric(wanted + to_magnetic, **ahead) == pytest.approx(2.0 / 3.0)
    litharge = 10.0 * oxygen_demand("PbO")
    assert ferric(to_magnetic + litharge, PbO=10.0) == pytest.approx(2.0 / 3.0)
    assert ferric(to_magnetic + litharge + to_magnetic, PbO=10.0) == pytest.approx(1.0 / 3.0)


def test_without_iron_the_share_is_that_of_an_unreduced_charge() -> None:
    assert ferric_share_left((), {}, None, 0.0) == 1.0
