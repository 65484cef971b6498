"""Hot gas volumes against the ideal gas law with CODATA's constant and an independent chemistry library's masses.

CODATA's molar gas constant as carried by scipy.constants; masses by molmass. The litres per gram are the usual figures
of the reactions named, worked out by hand.
"""

import pytest
from molmass import Formula as Molmass
from scipy import constants

from fluxlab.fusion.gas import GAS_CONSTANT, PRESSURE, gas_rows, gas_volume, steam
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.materials.fluxes import yields
from fluxlab.materials.yield_types import Gas

TEMPERATURES = (25.0, 400.0, 800.0, 1000.0, 1150.0)


def gases(substance: str) -> tuple[Gas, ...]:
    return yields(Component("x", "X", ByFormula(substance), purity=1.0, purity_range=0.0), lambda uid: None).gases


def test_the_constants_are_codata_s() -> None:
    assert pytest.approx(constants.R, rel=1e-9) == GAS_CONSTANT
    assert constants.atm == PRESSURE


@pytest.mark.parametrize(("substance", "litres"), [
    ("Na2CO3", (0.23, 0.52, 0.83, 0.99, 1.10)),
    ("K2CO3", (0.18, 0.40, 0.64, 0.76, 0.85)),
    ("NaHCO3", (0.44, 0.99, 1.57, 1.87, 2.09)),
    ("Na2B4O7·10H2O", (0.64, 1.45, 2.31, 2.74, 3.06)),
    ("Na2B4O7·5H2O", (0.42, 0.95, 1.51, 1.79, 2.01)),
    ("H3BO3", (0.59, 1.34, 2.14, 2.53, 2.83)),
    ("KNO3", (0.42, 0.96, 1.52, 1.81, 2.02)),
    ("NaNO3", (0.50, 1.14, 1.81, 2.15, 2.40)),
    ("CaCO3", (0.24, 0.55, 0.88, 1.04, 1.17)),
    ("Ca(OH)2", (0.33, 0.75, 1.19, 1.41, 1.58)),
    ("MnO2", (0.14, 0.32, 0.51, 0.60, 0.67)),
    ("C6H10O5", (1.66, 3.75, 5.97, 7.09, 7.92)),
    ("C", (2.04, 4.60, 7.33, 8.70, 9.72)),
])  # fmt: skip
def test_litres_of_gas_from_one_gram(substance: str, litres: tuple[float, ...]) -> None:
    for temperature, figure in zip(TEMPERATURES, litres, strict=True):
        rows = gas_rows([(substance, 1.0, gases(substance))], temperature)
        assert sum(row.hot for row in rows) == pytest.approx(figure, abs=0.0101)
    assert sum(row.cold for row in rows) == pytest.approx(litres[0], abs=0.0051)


def test_ten_grams_of_used_up_nitre_leave_nitrogen_alone() -> None:
    """Worked out by hand: 5.17 L at 1000 degC when the charge takes all of its oxygen."""
    rows = gas_rows([("nitre", 10.0, gases("KNO3"))], 1000.0, oxygen_used=10.0 * 0.3957)
    assert [row.species for row in rows] == ["N2"]
    assert rows[0].hot == pytest.approx(5.17, abs=0.005)


def test_a_mole_by_the_independent_masses() -> None:
    grams = Molmass("CaCO3").mass
    rows = gas_rows([("limestone", grams, gases("CaCO3"))], 850.0)
    assert rows[0].hot == pytest.approx(constants.R * 1123.15 / constants.atm * 1000.0, rel=1e-4)
    assert rows[0].grams == pytest.approx(Molmass("CO2").mass, rel=1e-4)


@pytest.mark.parametrize(
    ("temperature", "litres"), [(25.0, 1.36), (400.0, 3.07), (800.0, 4.89), (1000.0, 5.80), (1150.0, 6.48)]
)
def test_a_gram_of_water_as_steam(temperature: float, litres: float) -> None:
    assert steam("damp", 1.0, temperature).hot == pytest.approx(litres, abs=0.006)
    assert gas_volume(1.0 / Molmass("H2O").mass, temperature) == pytest.approx(litres, abs=0.006)
