"""Where elements go between the states of the pot, and what the button says and does not say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.bullion import bullion
from fluxlab.fusion.deportment import (
    TO_METAL,
    PotState,
    Shares,
    deportment_data,
    pot_state,
    priors,
    regime_value,
    shares,
)
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.pot_of import shipped_knobs
from fluxlab.fusion.redox import redox_balance
from fluxlab.fusion.redox_types import Reducer
from fluxlab.fusion.where import Pot, where_all
from fluxlab.materials.estimate import Estimate

NEUTRAL = PotState(0.1)
ELEMENTS = {"Ag": 2.0, "Au": 0.02, "Pb": 10.0, "Cu": 4.0, "Bi": 0.3, "Sb": 0.5, "As": 0.2, "Fe": 20.0, "Zn": 5.0}


@pytest.mark.parametrize("symbol", sorted(priors()))
def test_shares_add_up_in_every_state(symbol: str) -> None:
    for position in (-3.0, -0.5, -0.2, 0.1, 0.6, 1.2, 9.0):
        for iron in (0.0, 0.4, 1.0):
            found = shares(symbol, PotState(position, iron))
            assert found.metal + found.slag + found.matte + found.fume == pytest.approx(1.0)


@pytest.mark.parametrize(("symbol", "state", "metal"), [
    ("Pb", -0.5, 5), ("Pb", 0.1, 35), ("Pb", 1.2, 80), ("Cu", 0.1, 70), ("Cu", 1.2, 93),
    ("Sb", 1.2, 60), ("Zn", 1.2, 0), ("Au", 0.1, 99),
])  # fmt: skip
def test_the_states_have_the_shares_of_the_table(symbol: str, state: float, metal: float) -> None:
    assert 100.0 * shares(symbol, PotState(state)).metal == pytest.approx(metal)


@given(position=st.floats(-2.0, 3.0), symbol=st.sampled_from(sorted(priors())))
def test_a_hair_more_reducing_moves_shares_by_a_hair(position: float, symbol: str) -> None:
    before, after = shares(symbol, PotState(position)), shares(symbol, PotState(position + 1e-6))
    assert abs(after.metal - before.metal) < 1e-5


@given(first=st.floats(-2.0, 3.0), second=st.floats(-2.0, 3.0))
def test_more_reducing_never_leaves_more_lead_or_copper_in_the_slag(first: float, second: float) -> None:
    low, high = sorted((first, second))
    for symbol in ("Pb", "Cu", "Sb", "Bi", "Sn"):
        assert shares(symbol, PotState(high)).slag <= shares(symbol, PotState(low)).slag + 1e-12


def test_what_no_row_names_stays_in_the_slag() -> None:
    assert shares("Si", NEUTRAL) == Shares(0.0, 1.0, 0.0, 0.0)


def test_other_priors_may_be_given() -> None:
    row = Shares(1.0, 0.0, 0.0, 0.0)
    assert shares("Pb", NEUTRAL, {"Pb": (row, row, row, row)}).metal == 1.0


def test_a_wide_prior_has_a_wide_range_but_no_wider_than_itself() -> None:
    half = shares("Pb", NEUTRAL)
    assert half.spread(half.metal) == pytest.approx(1.645 * (0.35 * 0.65 / 11.0) ** 0.5)
    rare = shares("Fe", PotState(1.2))
    assert rare.spread(rare.metal) == rare.metal


def test_figures_of_the_states_lie_between_their_ends() -> None:
    row = {"oxidising": 3.0, "neutral": 1.0, "reducing": 0.3}
    assert [regime_value(row, PotState(p)) for p in (-9.0, 0.1, 9.0)] == pytest.approx([3.0, 1.0, 0.3])


def test_state_of_the_pot_follows_its_balance() -> None:
    pool, melt = {"Fe2O3": 30.0, "PbO": 5.0}, Melt(0.2, 0.3)
    states = [
        pot_state(redox_balance({}, pool, melt, [Reducer("charcoal", c, 22.6, 20.0, 30.0)], {"KNO3": n}), 90.0)
        for c, n in ((0.0, 10.0), (0.0, 0.0), (2.0, 0.0), (5.0, 0.0))
    ]
    positions = [state.position for state in states]
    assert positions == sorted(positions)
    assert positions[0] < 0.0 < positions[2]
    assert pot_state(redox_balance({}, {}, melt), 90.0).position == 0.0
    ironed = pot_state(redox_balance({}, pool, melt, iron=30.0), 90.0, iron_wanted=2.0)
    assert 0.5 < ironed.iron < 1.0


def button_of(elements: dict[str, float], sulphur: float = 0.0, state: PotState = NEUTRAL):
    pot = Pot(elements, state, slag=100.0, charge=90.0)
    return bullion(pot, shipped_knobs(state, Estimate(sulphur, 0.7 * sulphur, 1.3 * sulphur)))


def test_a_button_holds_no_more_of_a_metal_than_the_charge() -> None:
    found = button_of(ELEMENTS, 1.0)
    for part in found.parts:
        assert 0.0 <= part.grams.low <= part.grams.value <= part.grams.high <= ELEMENTS[part.symbol] * (1.0 + 1e-12)
    assert sum(part.percent for part in found.parts) == pytest.approx(100.0)
    assert [p.grams.value for p in found.parts] == sorted((p.grams.value for p in found.parts), reverse=True)


def test_arsenic_and_iron_make_no_button_of_their_own() -> None:
    alone = button_of({"As": 10.0, "Fe": 30.0}, state=PotState(1.2))
    assert alone.mass.value == 0.0
    there = {"As": 10.0, "Fe": 30.0, "Ag": 10.0}
    beside = button_of(there, state=PotState(1.2))
    guests = {p.symbol: p.grams.value for p in beside.parts if p.symbol in ("As", "Fe")}
    silver = next(p.grams.value for p in beside.parts if p.symbol == "Ag")
    assert 0.0 < guests["As"] <= deportment_data()["guests"]["most"] * silver * 1.1
    assert 0.0 < guests["Fe"] <= 0.0011 * silver
    assert all(where.total == pytest.approx(there[s]) for s, where in beside.ends.elements.items())


def test_silver_that_is_all_in_the_speiss_carries_no_arsenic_and_no_iron_into_a_button() -> None:
    assert button_of({"As": 10.0, "Fe": 30.0, "Ag": 0.1}, state=PotState(1.2)).mass.value == 0.0


def test_copper_takes_up_the_iron_that_silver_and_lead_do_not() -> None:
    iron = {}
    for host in ("Cu", "Pb", "Ag"):
        found = button_of({"Fe": 60.0, host: 20.0}, state=PotState(1.2))
        parts = {p.symbol: p for p in found.parts}
        iron[host] = parts["Fe"].grams.value / parts[host].grams.value
        assert parts["Fe"].grams.high <= 0.041 * 20.0
    assert 0.02 < iron["Cu"] <= 0.0401
    assert max(iron["Pb"], iron["Ag"]) < 0.0012


def test_yield_is_not_recovery() -> None:
    found = button_of(ELEMENTS)
    assert found.yields == pytest.approx(100.0 * found.mass.value / 90.0)
    assert found.silver_recovery is not None
    assert found.silver_recovery.value > 80.0 > found.yields


def test_matte_costs_silver_and_widens_the_range() -> None:
    clean, dirty = button_of(ELEMENTS), button_of(ELEMENTS, 3.0)
    assert clean.silver_recovery is not None
    assert dirty.silver_recovery is not None
    assert dirty.silver_recovery.value < clean.silver_recovery.value - 5.0
    width = [r.high - r.low for r in (clean.silver_recovery, dirty.silver_recovery)]
    assert width[1] > width[0]


def test_a_charge_without_metal_has_no_button() -> None:
    found = button_of({"Si": 20.0, "Fe": 5.0})
    assert (found.mass.value, found.parts, found.density, found.silver_recovery) == (0.0, (), None, None)


def test_pure_silver_has_the_density_of_silver_and_lead_pulls_up_and_copper_down() -> None:
    def density(elements: dict[str, float]) -> float:
        found = button_of(elements).density
        assert found is not None
        return found.value

    pure = density({"Ag": 2.0})
    assert pure == pytest.approx(10.5, abs=0.02)
    assert density({"Ag": 2.0, "Pb": 5.0}) > pure > density({"Ag": 2.0, "Cu": 5.0})


def only(symbol: str, grams: float) -> dict[str, Estimate]:
    """So much of one base metal free, and none of the others [g]."""
    return dict.fromkeys(TO_METAL, Estimate(0.0, 0.0, 0.0)) | {symbol: Estimate(grams, grams, grams)}


def test_lead_from_litharge_follows_the_balance_and_not_the_shares() -> None:
    pot = Pot({"Pb": 50.0}, NEUTRAL, slag=60.0, charge=30.0, free=only("Pb", 30.0), litharge=1.0)
    where = where_all(pot, shipped_knobs(NEUTRAL, Estimate(0.0, 0.0, 0.0)).likely).elements["Pb"]
    assert where.button + where.drops == pytest.approx(30.0)
    assert where.fume == pytest.approx(50.0 * shares("Pb", NEUTRAL).fume)
    assert where.slag == pytest.approx(20.0 - where.fume)


def test_fume_of_lead_from_litharge_is_taken_from_the_metal_where_no_litharge_is_left() -> None:
    pot = Pot({"Pb": 50.0}, NEUTRAL, slag=60.0, charge=30.0, free=only("Pb", 50.0), litharge=1.0)
    where = where_all(pot, shipped_knobs(NEUTRAL, Estimate(0.0, 0.0, 0.0)).likely).elements["Pb"]
    assert where.button + where.drops == pytest.approx(50.0 * (1.0 - shares("Pb", NEUTRAL).fume))
    assert where.slag == pytest.approx(0.0, abs=1e-9)


def test_enough_iron_for_the_sulphur_makes_the_iron_state_whole() -> None:
    melt = Melt(1.0, 1.0)
    at = [pot_state(redox_balance({}, {}, melt, iron=g), 100.0, 10.0).iron for g in (0.0, 5.0, 10.0, 20.0)]
    assert at == pytest.approx([0.0, 5.0 / 10.2, 10.0 / 10.2, 20.0 / 20.2])


def test_the_priors_say_where_they_are_from() -> None:
    assert "judgement" in deportment_data()["source"]
