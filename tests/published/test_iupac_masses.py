"""Molar masses and gravimetric factors against an independent library and the composition constants of fluxes.

Referee: molmass (C. Gohlke), whose atomic weights are IUPAC's of its own transcription.
Constants: handbook figures computed from IUPAC conventional atomic weights (Prohaska et al., Standard atomic weights of
the elements 2021, Pure Appl. Chem. 94 (2022) 573; abridged to five figures), quoted to two decimals.
The two libraries pick different conventional values inside IUPAC's intervals (boron 10.806 to 10.821): hence 1e-4.
"""

import molmass
import pytest

from fluxlab.materials import oxides
from fluxlab.materials.formulas import formula


@pytest.mark.parametrize("symbol", [s for s in oxides.OXIDES if s != "F"])
def test_oxide_masses_agree_with_molmass(symbol: str) -> None:
    assert oxides.MASS[oxides.INDEX[symbol]] == pytest.approx(molmass.Formula(symbol).mass, rel=1e-4)


def test_fluorine_weighs_what_it_adds_beyond_the_oxygen_it_replaces() -> None:
    expected = molmass.Formula("F").mass - molmass.Formula("O").mass / 2
    assert oxides.MASS[oxides.INDEX["F"]] == pytest.approx(expected, rel=1e-4)


MASSES = [
    ("Na2CO3", 105.99), ("NaHCO3", 84.01), ("K2CO3", 138.20), ("Na2B4O7·10H2O", 381.36), ("Na2B4O7·5H2O", 291.29),
    ("Na2B4O7", 201.21), ("H3BO3", 61.83), ("CaCO3", 100.09), ("PbO", 223.20), ("Pb3O4", 685.60), ("KNO3", 101.10),
    ("NaNO3", 84.99), ("Fe2O3", 159.69),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), MASSES)
def test_flux_masses_are_the_printed_constants(text: str, expected: float) -> None:
    assert formula(text).mass == pytest.approx(expected, abs=0.011)


YIELDS = [
    ("Na2CO3", "Na2O", 58.48), ("NaHCO3", "Na2O", 36.89), ("K2CO3", "K2O", 68.16), ("Na2B4O7·10H2O", "B2O3", 36.51),
    ("Na2B4O7·10H2O", "Na2O", 16.25), ("Na2B4O7·5H2O", "B2O3", 47.80), ("Na2B4O7·5H2O", "Na2O", 21.28),
    ("Na2B4O7", "B2O3", 69.20), ("Na2B4O7", "Na2O", 30.80), ("H3BO3", "B2O3", 56.30), ("CaCO3", "CaO", 56.03),
    ("Pb3O4", "PbO", 97.67), ("KNO3", "K2O", 46.58), ("NaNO3", "Na2O", 36.46), ("Fe2O3", "FeO", 89.98),
    ("Fe3O4", "FeO", 93.09), ("FeS2", "FeO", 59.89), ("ZnS", "ZnO", 83.52),
]  # fmt: skip


@pytest.mark.parametrize(("text", "oxide", "percent"), YIELDS)
def test_slag_oxide_of_each_flux_is_the_printed_constant(text: str, oxide: str, percent: float) -> None:
    f = formula(text)
    i = oxides.INDEX[oxide]
    mass = oxides.place(f.atoms).oxides[i] * oxides.MASS[i]
    assert 100 * mass / f.mass == pytest.approx(percent, abs=0.011)
