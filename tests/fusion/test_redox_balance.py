"""The balance of oxygen in a pot: supply, demand, lead, iron, and what sulphide is left."""

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.redox import OXYGEN_PER_CARBON, redox_balance, wall_of
from fluxlab.fusion.redox_order import redox_data, sulphate_oxygen, sulphates
from fluxlab.fusion.redox_types import Redox, Reducer, Wall
from fluxlab.fusion.redox_words import left_over
from fluxlab.issue import Severity
from fluxlab.materials.formulas import formula

MELT = Melt(0.2, 0.3)
CALCINE = {"Fe2O3": 30.0, "CuO": 4.0, "PbO": 10.0, "MnO2": 2.0, "ZnO": 6.0, "PbSO4": 2.0}


def flour(grams: float) -> Reducer:
    return Reducer("wheat flour", grams, 11.2, 10.0, 12.0)


def met_of(found: Redox, substance: str) -> float:
    return sum(m.oxygen for m in found.met if m.demand.substance == substance)


POOLS = st.fixed_dictionaries({s: st.floats(0.0, 40.0) for s in ("Fe2O3", "CuO", "PbO", "MnO2", "ZnO", "Sb2O4")})
CHARGES = st.fixed_dictionaries(
    {
        "sulphides": st.fixed_dictionaries({m: st.floats(0.0, 30.0) for m in ("FeS2", "PbS", "CuFeS2", "FeAsS")}),
        "reducible": POOLS,
        "nitrates": st.fixed_dictionaries({"KNO3": st.floats(0.0, 30.0)}),
        "iron": st.floats(0.0, 20.0),
        "reducers": st.lists(st.floats(0.0, 10.0).map(flour), max_size=2),
    }
)


@given(charge=CHARGES)
def test_oxygen_taken_is_oxygen_given(charge: dict) -> None:
    found = redox_balance(melt=MELT, **charge)
    taken = sum(found.by_source.values()) - found.unspent - found.iron_left * oxygen_of_iron()
    given_up = sum(m.oxygen for m in found.met)
    assert taken == pytest.approx(given_up, abs=1e-9 * max(1.0, taken))
    assert sum(found.by_source.values()) == pytest.approx(found.supply, abs=1e-9 * max(1.0, found.supply))


def oxygen_of_iron() -> float:
    return 15.999 / 55.845 * 1.0


@given(charge=CHARGES)
def test_figures_stay_in_their_bounds(charge: dict) -> None:
    found = redox_balance(melt=MELT, **charge)
    assert 0.0 <= found.ferric <= 1.0
    assert 0.0 <= found.lead_low <= found.lead + 1e-9
    assert found.lead <= found.lead_high + 1e-9
    assert found.lead_high <= found.litharge * (1.0 + 1e-9)
    assert all(m.oxygen <= m.demand.oxygen * (1.0 + 1e-9) for m in found.met)
    for mineral, grams in charge["sulphides"].items():
        assert found.burnt[mineral] + found.unburnt[mineral] == pytest.approx(grams)
    assert all(isfinite(x) for x in (found.supply, found.demand, found.surplus, found.unspent))


@given(charge=CHARGES, name=st.sampled_from(["Fe2O3", "PbO", "CuO"]))
def test_a_hair_more_of_anything_changes_the_figures_by_a_hair(charge: dict, name: str) -> None:
    before = redox_balance(melt=MELT, **charge)
    nudged = charge | {"reducible": charge["reducible"] | {name: charge["reducible"][name] + 1e-7}}
    after = redox_balance(melt=MELT, **nudged)
    assert abs(after.lead - before.lead) < 1e-5
    assert abs(after.supply - before.supply) < 1e-5
    if charge["reducible"]["Fe2O3"] > 0.01:
        assert abs(after.ferric - before.ferric) < 1e-4


def test_reducers_go_to_copper_before_lead_before_ferrous_iron_before_zinc() -> None:
    low = redox_balance({}, CALCINE, MELT, [flour(1.0)])
    assert met_of(low, "CuO") == pytest.approx(4.0 * oxygen_demand("CuO"))
    assert met_of(low, "ZnO") == 0.0
    much = redox_balance({}, CALCINE, MELT, [flour(6.3)])
    assert much.lead == pytest.approx(10.0 * oxygen_demand("PbO") * LEAD_PER_OXYGEN)
    assert much.ferric == pytest.approx(0.0, abs=1e-9)


def test_budget_is_supply_over_what_is_wanted() -> None:
    found = redox_balance({}, {"PbO": 100.0}, MELT, [flour(2.0)], wanted_lead=22.4)
    assert found.budget == pytest.approx(1.0)
    assert found.lead == pytest.approx(22.4)
    assert redox_balance({}, {"ZnO": 5.0}, MELT).budget is None


def test_iron_is_taken_down_before_litharge_where_flour_is_mixed_with_it() -> None:
    pool = {"Fe2O3": 10.0, "PbO": 80.0}
    beside = redox_balance({}, pool, MELT, [flour(4.0)], ferrous_first=True)
    after = redox_balance({}, pool, MELT, [flour(4.0)])
    assert beside.lead == pytest.approx(44.8 - 10.0 * 1.298, abs=0.02)
    assert beside.ferric == pytest.approx(0.0, abs=1e-9)
    assert after.lead > beside.lead
    assert after.ferric > 0.5


def test_a_speck_of_nitre_gives_no_more_than_it_holds() -> None:
    found = redox_balance({"FeAsS": 1.0}, {}, MELT, nitrates={"KNO3": 7e-162})
    assert all(m.oxygen <= m.demand.oxygen for m in found.met)
    assert redox_balance({}, {}, MELT, [flour(1.0)], {"KNO3": 2e-311}).budget is None


def test_nitre_spoils_flour() -> None:
    without = redox_balance({}, {"PbO": 80.0}, MELT, [flour(3.0)])
    found = redox_balance({}, {"PbO": 80.0}, MELT, [flour(3.0)], {"KNO3": 2.0})
    assert found.lead < without.lead
    assert any("burn each other" in issue.sentence for issue in found.issues)


def test_more_nitre_than_the_charge_can_take_is_said_and_makes_iron_ferric() -> None:
    found = redox_balance({"FeS2": 1.0}, {"PbO": 20.0}, MELT, nitrates={"KNO3": 10.0}, iron_oxide=5.0)
    assert found.lead == 0.0
    assert found.surplus > 0.0
    assert found.ferric == pytest.approx(1.0)
    assert any("Take less nitre" in issue.remedy for issue in found.issues)


def test_nitre_within_a_tenth_of_what_burns_is_no_fault() -> None:
    whole = redox_balance({"FeS2": 5.0}, {}, MELT, nitrates={"KNO3": 1000.0})
    just = 1000.0 * whole.supply / whole.given
    for part, said in ((1.0, False), (1.08, False), (1.15, True)):
        found = redox_balance({"FeS2": 5.0}, {}, MELT, nitrates={"KNO3": part * just})
        assert any("Take less nitre" in issue.remedy for issue in found.issues) is said


def test_reducer_left_over_after_all_the_lead_is_an_error() -> None:
    found = redox_balance({}, {"PbO": 20.0}, MELT, [flour(5.0)])
    assert found.lead == pytest.approx(found.litharge)
    assert [issue.severity for issue in left_over(found)] == [Severity.ERROR]
    assert left_over(redox_balance({}, {"PbO": 200.0}, MELT, [flour(5.0)])) == ()


def test_sulphide_without_oxygen_stays_and_with_litharge_burns() -> None:
    bare = redox_balance({"PbS": 5.0}, {"ZnO": 10.0}, MELT)
    assert bare.unburnt["PbS"] == pytest.approx(5.0)
    under = redox_balance({"PbS": 5.0}, {"PbO": 60.0}, MELT)
    assert under.burnt["PbS"] == pytest.approx(5.0)
    assert under.litharge == pytest.approx(60.0 / 1.0772 + 5.0 * 0.866, abs=0.01)


def test_metallic_iron_reduces_litharge_and_what_is_left_is_there_for_sulphur() -> None:
    found = redox_balance({}, {"PbO": 10.0, "ZnO": 5.0}, MELT, iron=10.0)
    assert found.lead == pytest.approx(found.litharge)
    assert found.iron_left == pytest.approx(10.0 - 10.0 * 0.2502, abs=0.01)


def test_only_a_graphite_wall_gives_carbon_and_a_larger_one_more() -> None:
    assert wall_of("clay", 150.0) == Wall()
    small, large = wall_of("clay-graphite", 150.0), wall_of("clay-graphite", 1200.0)
    assert (small.low, small.likely, small.high) == (0.1, 0.2, 0.4)
    assert large.likely == pytest.approx(4.0 * small.likely)
    found = redox_balance({}, CALCINE, MELT, wall=small)
    assert found.by_source["pot wall"] == pytest.approx(0.2 * OXYGEN_PER_CARBON)
    assert found.supply_low < found.supply < found.supply_high


def test_the_band_of_the_budget_is_nine_tenths_to_one_and_a_half() -> None:
    band = redox_data()["budget"]
    assert (band["low"], band["high"]) == (0.9, 1.5)


def test_sulphate_comes_back_as_far_as_a_reducer_reaches_it() -> None:
    pool = {"PbO": 10.0, "PbSO4": 5.0, "ZnSO4": 3.0, "BaSO4": 2.0}
    held = sum(g * formula(s).mass_fractions.get("S", 0.0) for s, g in pool.items())
    none = redox_balance({}, pool, MELT)
    some, much = (redox_balance({}, pool, MELT, [flour(g)]) for g in (1.2, 6.0))
    assert none.brought_back == 0.0
    assert 0.0 < some.brought_back < much.brought_back
    assert much.brought_back == pytest.approx(redox_data()["sulphates"]["share"] * held)


def test_every_sulphate_gives_four_oxygens_with_its_sulphur() -> None:
    for sulphate, sulphide in sulphates().items():
        whole = formula(sulphate)
        assert set(formula(sulphide).atoms) == set(whole.atoms) - {"O"}
        four = 4.0 * 15.999 * whole.atoms["S"] / whole.mass
        assert sulphate_oxygen(sulphate) == pytest.approx(redox_data()["sulphates"]["share"] * four, rel=1e-4)


@pytest.mark.parametrize("melt", [Melt(0.0, 0.0), MELT])
def test_a_pot_with_nothing_in_it_has_nothing_to_balance(melt: Melt) -> None:
    found = redox_balance({}, {}, melt)
    assert (found.supply, found.demand, found.budget, found.lead) == (0.0, 0.0, None, 0.0)
    assert found.ferric == 1.0
