"""Sulphates that no reducer brings back: taken by soda, split by the heat, or left; and metallic iron that is left."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.fusion.brought_down import bare_iron
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.pot_of import kept_oxides, slag_keeps
from fluxlab.fusion.pot_types import FusionCharge, InThePot
from fluxlab.fusion.reactions import leftover
from fluxlab.fusion.redox import redox_balance
from fluxlab.fusion.sulphate import preference, sulphate, sulphate_constants
from fluxlab.fusion.sulphate_left import SulphateLeft, readiness, split_share, sulphate_left
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.oxides import INDEX, SIZE, Vec
from tests.fusion.pots import fusion_charge

SODA_PER_SULPHUR = 3.3055
"""Soda ash [g] to a gram of sulphur, one mole to the mole; IUPAC atomic masses."""


def left_of(pool: dict[str, float], melt: Melt, at: float = 1150.0) -> SulphateLeft:
    redox = redox_balance({}, pool, melt)
    return sulphate_left(pool, redox, melt, sulphate(redox.burnt, melt), at)


def sulphur(pool: dict[str, float]) -> float:
    return sum(g * formula(s).mass_fractions.get("S", 0.0) for s, g in pool.items())


def test_soda_and_lead_sulphate_change_places_mole_for_mole() -> None:
    change = {"PbSO4": -1.0, "Na2CO3": -1.0, "PbO": 1.0, "Na2SO4": 1.0, "CO2": 1.0}
    assert max(map(abs, leftover(change).values())) < 1e-12
    found = left_of({"PbSO4": 20.0}, Melt(1.0, 0.0))
    assert found.held == pytest.approx(sulphur({"PbSO4": 20.0}), rel=1e-6)
    assert found.alkali * 105.988 == pytest.approx(SODA_PER_SULPHUR * found.held, rel=1e-3)


def test_without_alkali_it_splits_by_its_temperature_or_stays() -> None:
    pool = {"PbSO4": 10.0, "ZnSO4": 5.0}
    hot = left_of(pool, Melt(0.0, 1.0))
    assert (hot.held, hot.alkali) == (0.0, 0.0)
    assert hot.split == pytest.approx(sulphur(pool))
    assert left_of({"BaSO4": 10.0}, Melt(0.0, 1.0)).stays == pytest.approx(sulphur({"BaSO4": 10.0}))
    # computed temperatures of the roast tables: lead sulphate between 967 and 1092 degC
    assert (split_share("PbSO4", 967.0), split_share("PbSO4", 1092.0)) == (0.0, 1.0)
    assert split_share("PbSO4", 1029.5) == pytest.approx(0.5)
    assert 0.0 == split_share("CaSO4", 1150.0) < split_share("CaSO4", 1300.0) < 1.0


def test_an_acid_melt_leaves_less_of_the_soda_to_it() -> None:
    found = [left_of({"PbSO4": 20.0}, Melt(0.5, acid)).held for acid in (0.1, 0.5, 2.0, 20.0)]
    assert found == sorted(found, reverse=True)
    assert found[-1] < 0.3 * found[0]


def test_alkali_sulphate_asks_for_no_soda() -> None:
    found = left_of({"Na2SO4": 10.0, "K2SO4": 5.0}, Melt(1.0, 0.5))
    assert (found.held, found.split, found.claim) == (0.0, 0.0, 0.0)
    assert found.stays == pytest.approx(sulphur({"Na2SO4": 10.0, "K2SO4": 5.0}))


def test_what_a_reducer_brings_back_soda_does_not_take() -> None:
    pool, melt = {"PbSO4": 20.0}, Melt(1.0, 0.5)
    redox = redox_balance({}, pool, melt, iron=10.0)
    found = sulphate_left(pool, redox, melt, sulphate({}, melt), 1150.0)
    assert redox.brought_back > 0.0
    assert found.held + found.split + found.stays + redox.brought_back == pytest.approx(sulphur(pool), rel=1e-9)


@given(
    lead=st.floats(0.0, 50.0),
    lime=st.floats(0.0, 50.0),
    alkali=st.floats(0.0, 3.0),
    acid=st.floats(0.0, 3.0),
    at=st.floats(500.0, 1600.0),
)
def test_no_sulphur_is_lost_and_no_more_alkali_is_taken_than_there_is(
    lead: float, lime: float, alkali: float, acid: float, at: float
) -> None:
    pool = {"PbSO4": lead, "CaSO4": lime}
    found = left_of(pool, Melt(alkali, acid), at)
    assert found.held + found.split + found.stays == pytest.approx(sulphur(pool), abs=1e-9)
    assert min(found.held, found.split, found.stays) >= -1e-12
    assert 0.0 <= found.alkali <= min(alkali, found.claim) * (1.0 + 1e-12)
    assert 0.0 <= found.by_alkali <= 1.0


def test_a_hair_more_alkali_is_taken_by_the_share_that_is_told() -> None:
    pool, step = {"PbSO4": 60.0}, 1e-5
    at = [left_of(pool, Melt(0.4 + off, 0.3)) for off in (-step, 0.0, step)]
    assert (at[2].alkali - at[0].alkali) / (2.0 * step) == pytest.approx(at[1].by_alkali, rel=1e-4)


def anglesite() -> FusionCharge:
    return fusion_charge({"PbSO4": 30.0, "SiO2": 20.0})


def gas(pot: InThePot, species: str) -> float:
    return sum(r.moles for r in pot.gases if r.species == species and r.source == "sulphate that splits")


def test_the_pot_books_sulphate_in_soda_and_in_gas() -> None:
    charge = anglesite()
    found = in_the_pot(charge)
    fate, whole = found.sulphur, charge.elements["S"]
    assert fate.sulphate > 0.5 * whole
    assert fate.soda_used == pytest.approx(SODA_PER_SULPHUR * fate.sulphate, rel=1e-3)
    assert fate.dioxide + fate.sulphate + fate.matte + fate.stays + fate.free == pytest.approx(whole, rel=1e-9)
    assert gas(found, "SO2") == pytest.approx(fate.split / atomic_mass("S"))
    # PbSO4 = PbO + SO2 + O
    assert gas(found, "O2") == pytest.approx(gas(found, "SO2") / 2.0)
    sour = in_the_pot(replace(charge, slag=charge.slag + 3.0 * _one("SiO2")))
    assert sour.sulphur.split > fate.split


def _one(oxide: str) -> Vec:
    found = np.zeros(SIZE)
    found[INDEX[oxide]] = 1.0
    return found


@pytest.mark.parametrize("iron", [10.0, 20.0, 40.0])
def test_metallic_iron_that_is_left_is_no_oxide_of_the_slag(iron: float) -> None:
    """Pyrite takes one iron, FeS2 + Fe = 2 FeS, and has no oxide: what iron is left stays metal."""
    charge = fusion_charge({"FeS2": 30.0, "SiO2": 20.0}, "iron", iron=iron)
    found = in_the_pot(charge)
    iron_end = found.bullion.ends.elements["Fe"]
    kept = slag_keeps({"Fe": iron_end}, bare_iron(found.redox))["Fe"] * iron_end.total
    own = 30.0 * formula("FeS2").mass_fractions["Fe"]
    metal = found.redox.iron_left - max(iron_end.matte + iron_end.speiss - own, 0.0)
    assert kept == pytest.approx(iron_end.slag + iron_end.fume + iron_end.button - metal, abs=1e-9)
    # not a gram of oxide beside what no sulphur took of the mineral's own iron
    assert kept == pytest.approx(max(own + iron - iron_end.matte - metal, 0.0), abs=1e-9)
    assert kept < 0.02 * (own + iron)
    assert kept_oxides({"Fe": kept / iron_end.total})[INDEX["FeO"]] < 0.02


def test_as_much_as_of_the_burnt_sulphide_that_is_held_most_readily() -> None:
    c = sulphate_constants()
    hottest = max(("PbS", "ZnS", "FeS2", "CuFeS2", "Sb2S3"), key=preference)
    assert preference(hottest) < readiness()
    assert readiness() == pytest.approx(preference("PbS", replace(c, least_heat=c.most_heat)), rel=0.01)


def test_sulphide_that_the_roast_may_have_left_may_make_matte_as_far_as_no_oxide_burns_it() -> None:
    charge = fusion_charge({"FeS": 4.0, "FeCO3": 30.0, "SiO2": 40.0, "Ag": 1.0})
    bare = in_the_pot(charge)
    doubted = in_the_pot(replace(charge, sulphide_doubt=4.0))
    layers, wide = bare.bullion.layers, doubted.bullion.layers
    assert wide.dissolved.value == layers.dissolved.value
    assert wide.dissolved.high + wide.matte.high > layers.dissolved.high + layers.matte.high + 3.0
    # litharge that is there burns it: FeS + 3 PbO = FeO + 3 Pb + SO2
    ready = fusion_charge({"FeS": 4.0, "FeCO3": 30.0, "SiO2": 40.0, "Ag": 1.0}, litharge=200.0)
    burnt = in_the_pot(replace(ready, sulphide_doubt=4.0)).bullion.layers
    assert burnt == in_the_pot(ready).bullion.layers
