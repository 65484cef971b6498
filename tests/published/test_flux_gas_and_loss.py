"""Mass loss and gas of each flux against figures computed by hand from the reactions.

The figures (loss [%], gas [mol/g]) are the usual gravimetric ones of the reactions named; each was worked out from
IUPAC abridged atomic weights apart from this program. The handbook statements are those of C. and J. J. Beringer,
A Text-Book of Assaying, 9th ed., 1904.
"""

import pytest

from fluxlab.materials import fluxes, oxides
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.materials.yield_types import Yield


def pure(formula: str) -> Yield:
    return fluxes.yields(Component("x", "X", ByFormula(formula), purity=1.0, purity_range=0.0), lambda uid: None)


FIGURES = [
    ("Na2CO3", 41.52, 0.00944), ("K2CO3", 31.84, 0.00724), ("NaHCO3", 63.1, 0.01786), ("Na2B4O7·10H2O", 47.24, 0.02622),
    ("Na2B4O7·5H2O", 30.92, 0.01717), ("H3BO3", 43.70, 0.02426), ("KNO3", 53.4, 0.01731), ("NaNO3", 63.5, 0.02059),
    ("CaCO3", 43.97, 0.00999), ("Ca(OH)2", 24.3, 0.01350), ("MnO2", 18.4, 0.00575), ("Pb3O4", 2.33, 0.00073),
    ("Na2B4O7", 0.0, 0.0), ("PbO", 0.0, 0.0), ("CaF2", 0.0, 0.0), ("SiO2", 0.0, 0.0), ("CaO", 0.0, 0.0),
]  # fmt: skip


@pytest.mark.parametrize(("formula", "loss", "moles"), FIGURES)
def test_loss_and_gas_of_each_flux(formula: str, loss: float, moles: float) -> None:
    y = pure(formula)
    assert 100 * y.loss == pytest.approx(loss, abs=0.06)
    assert sum(gas.moles for gas in y.gases) == pytest.approx(moles, abs=1e-5)


def test_organic_reducers_burn_to_the_gas_of_their_formula() -> None:
    assert sum(gas.moles for gas in pure("C6H10O5").gases) == pytest.approx(0.0678, abs=1e-4)
    assert sum(gas.moles for gas in pure("C").gases) == pytest.approx(0.0833, abs=1e-4)


def test_borax_crystals_are_nearly_half_water() -> None:
    """Beringer 1904, p. 20: nearly half water; dried borax does a little over half the weight's work."""
    assert 0.45 < pure("Na2B4O7·10H2O").loss < 0.5
    assert 0.5 < 1.0 - pure("Na2B4O7·10H2O").loss < 0.55


def test_one_of_lime_is_one_point_eight_of_carbonate() -> None:
    """Beringer 1904, p. 20: 1.8."""
    assert 1.0 / (1.0 - pure("CaCO3").loss) == pytest.approx(1.8, abs=0.02)


def test_a_hundred_of_bicarbonate_is_sixty_three_of_carbonate() -> None:
    """Beringer 1904, p. 137: 63; p. 20: one of soda ash is over one and a half of bicarbonate."""
    soda = oxides.INDEX["Na2O"]
    ratio = pure("NaHCO3").oxides[soda] / pure("Na2CO3").oxides[soda]
    assert 100 * ratio == pytest.approx(63.0, abs=0.5)
    assert 1.0 / ratio > 1.5


def test_borax_crystals_and_soda_melt_down_to_a_known_mass() -> None:
    """50 g of borax crystals with 50 g of soda ash leave 55.6 g of melt: worked out by hand from the reactions."""
    melt = 50 * (1 - pure("Na2B4O7·10H2O").loss) + 50 * (1 - pure("Na2CO3").loss)
    assert melt == pytest.approx(55.6, abs=0.05)


def test_ten_grams_of_used_up_nitre_leave_five_litres_of_nitrogen() -> None:
    """5.17 L at 1000 degC and 1 atm: ideal gas, worked out by hand."""
    nitrogen = next(gas.moles for gas in pure("KNO3").gases if gas.species == "N2")
    assert 10 * nitrogen * 0.0820574 * 1273.15 == pytest.approx(5.17, abs=0.01)
