"""Silver shared between metal, matte, speiss and slag; matte and speiss by weight."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fluxlab.fusion.matte import dissolved_sulphide, matte, speiss
from fluxlab.fusion.partition import Phase, share_silver, shared_by_mass

GRAMS = st.floats(0.0, 100.0)
SOME = st.floats(1e-3, 100.0)


def silver_in_matte(silver: float, other: float, matte: float, ratio: float) -> float:
    """The closed form for one phase: the root of x/(M + x) = K (A - x)/(A - x + o), A silver, o other metal [g]."""
    a, b, c = ratio - 1.0, silver + other - ratio * (silver - matte), ratio * silver * matte
    root = max(b * b + 4.0 * a * c, 0.0) ** 0.5
    return min(max(2.0 * c / (b + root) if b + root > 0.0 else silver, 0.0), silver)


@given(silver=SOME, other=st.floats(1e-2, 100.0), mass=SOME, ratio=st.floats(0.05, 1.5))
def test_the_closed_form_solves_the_full_balance(silver: float, other: float, mass: float, ratio: float) -> None:
    x = silver_in_matte(silver, other, mass, ratio)
    assert 0.0 <= x <= silver
    assert x * (silver - x + other) == pytest.approx(ratio * (silver - x) * (mass + x), rel=1e-6, abs=1e-9)


@given(silver=SOME, other=st.floats(1e-2, 100.0), mass=SOME, ratio=st.floats(0.05, 1.5))
def test_sharing_between_many_phases_agrees_with_the_closed_form_for_one(
    silver: float, other: float, mass: float, ratio: float
) -> None:
    shared = share_silver(silver, other, (Phase(mass, ratio), Phase(0.0, 0.3)))
    assert shared.phases[0] == pytest.approx(silver_in_matte(silver, other, mass, ratio), rel=1e-7, abs=1e-9)


@given(silver=GRAMS, other=GRAMS, soft=GRAMS, hard=GRAMS, slag=GRAMS)
def test_no_silver_is_made_or_lost(silver: float, other: float, soft: float, hard: float, slag: float) -> None:
    shared = share_silver(silver, other, (Phase(soft, 0.46), Phase(hard, 0.3), Phase(slag, 0.001, grows=False)))
    assert shared.metal + sum(shared.phases) == pytest.approx(silver, rel=1e-12, abs=1e-12)
    assert shared.metal >= 0.0
    assert all(each >= 0.0 for each in shared.phases)


@given(silver=SOME, other=SOME, soft=SOME, slag=SOME)
def test_every_phase_stands_in_its_ratio_to_the_metal(silver: float, other: float, soft: float, slag: float) -> None:
    shared = share_silver(silver, other, (Phase(soft, 0.46), Phase(slag, 0.001, grows=False)))
    in_soft, in_slag = shared.phases
    assume(shared.metal > 1e-9)
    assert in_soft / (soft + in_soft) == pytest.approx(0.46 * shared.fraction, rel=1e-6)
    assert in_slag / slag == pytest.approx(0.001 * shared.fraction, rel=1e-6)


def test_little_silver_follows_the_dilute_rule_and_much_does_not() -> None:
    dilute = silver_in_matte(0.01, 30.0, 10.0, 0.46)
    assert dilute == pytest.approx(0.46 * 0.01 / 30.0 * 10.0, rel=0.15)
    rich = silver_in_matte(20.0, 1.0, 10.0, 0.46)
    assert rich > 1.3 * 0.46 * 20.0 / 21.0 * 10.0


def test_without_other_metal_the_matte_fills_before_any_metal_is_there() -> None:
    assert share_silver(5.0, 0.0, (Phase(20.0, 0.46),)).metal == 0.0
    full = 20.0 * 0.46 / 0.54
    assert share_silver(30.0, 0.0, (Phase(20.0, 0.46),)).metal == pytest.approx(30.0 - full)


def test_gold_hardly_goes_into_matte_and_all_of_it_does_where_there_is_no_metal() -> None:
    assert shared_by_mass(1.0, 20.0, 10.0, 0.008) == pytest.approx(0.004, rel=0.01)
    assert shared_by_mass(1.0, 0.0, 10.0, 0.008) == 1.0
    assert shared_by_mass(1.0, 20.0, 0.0, 0.008) == 0.0


@given(
    sulphur=GRAMS,
    metals=st.fixed_dictionaries(dict.fromkeys(("Cu", "Fe", "Pb", "Ag", "Zn"), GRAMS)),
    dissolves=GRAMS,
)
def test_matte_weighs_what_went_into_it(sulphur: float, metals: dict[str, float], dissolves: float) -> None:
    found = matte(sulphur, metals, dissolves)
    held = sum(found.metals.values()) + sulphur - found.free_sulphur
    assert found.mass == pytest.approx(held, rel=1e-9, abs=1e-9)
    assert found.layer + found.dissolved == pytest.approx(found.mass, abs=1e-9)
    assert all(bound <= metals[s] * (1.0 + 1e-9) for s, bound in found.metals.items())


def test_copper_takes_sulphur_before_iron_before_lead_before_silver() -> None:
    metals = {"Cu": 3.964, "Fe": 1.742, "Pb": 6.463, "Ag": 6.729}
    for sulphur, holds in ((1.0, {"Cu2S"}), (2.0, {"Cu2S", "FeS"}), (3.0, {"Cu2S", "FeS", "PbS"})):
        found = matte(sulphur, metals)
        assert {s for s, g in found.sulphides.items() if g > 0.01} == holds
    assert matte(5.0, metals).free_sulphur == pytest.approx(1.0, abs=0.01)


def test_five_grams_of_sulphur_and_iron_make_thirteen_and_seven_tenths_of_sulphide() -> None:
    assert matte(5.0, {"Fe": 100.0}).mass == pytest.approx(13.71, abs=0.005)


def test_a_gram_of_arsenic_makes_nearly_three_of_speiss() -> None:
    found = speiss(1.0, 10.0)
    assert (found.mass, found.iron) == (pytest.approx(2.863, abs=0.001), pytest.approx(1.863, abs=0.001))
    assert speiss(1.0, 0.0).mass == 0.0
    assert speiss(5.0, 1.863).arsenic == pytest.approx(1.0, abs=0.001)


@pytest.mark.parametrize(("alkalinity", "per_hundred"), [(0.0, 1.5), (0.15, 1.5), (0.42, 7.5), (0.9, 7.5)])
def test_an_alkaline_slag_dissolves_more_iron_sulphide(alkalinity: float, per_hundred: float) -> None:
    found = dissolved_sulphide(100.0, alkalinity)
    assert found.value == pytest.approx(per_hundred)
    assert found.low < found.value < found.high


def test_only_what_the_slag_does_not_dissolve_makes_a_layer() -> None:
    found = matte(1.0, {"Fe": 10.0}, dissolves=2.0)
    assert found.layer == pytest.approx(found.mass - 2.0)
    assert matte(1.0, {"Cu": 10.0}, dissolves=2.0).dissolved == 0.0
