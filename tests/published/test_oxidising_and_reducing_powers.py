"""Lead powers, oxygen demands and sulphide limits against equations worked out apart from the program.

Masses are molmass's, an independent library; the printed figures are those of assay texts where they give the theory of
the same equations (starch 12 PbO: C. G. Anderson, Fundamentals of Fire Assay, 2018, found).
"""

import pytest
from molmass import Formula as Molmass

from fluxlab.fusion.currency import METAL_OXYGEN, theoretical_power
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.matte import matte
from fluxlab.fusion.sulphur import (
    IRON_PER_SULPHUR,
    SODA_PER_SULPHUR,
)
from fluxlab.fusion.sulphur_wanted import iron_wanted
from tests.fusion.powers import power_limits

LEAD = Molmass("Pb").mass
OXYGEN = Molmass("O").mass


@pytest.mark.parametrize(("agent", "oxygens", "lead"), [
    ("C", 2, "34.50"), ("C", 1, "17.25"), ("C6H10O5", 12, "15.33"), ("C12H22O11", 24, "14.53"), ("KHC4H4O6", 5, "5.51"),
    ("S", 2, "12.93"), ("S", 3, "19.39"), ("Fe", 1, "3.71"), ("Zn", 1, "3.17"), ("Cu", 0.5, "1.63"),
    ("Sb", 1.5, "2.55"), ("As", 1.5, "4.15"), ("As", 2.5, "6.91"), ("Sn", 2, "3.49"), ("Te", 2, "3.25"),
    ("KNO3", 2.5, "5.12"), ("NaNO3", 2.5, "6.10"), ("MnO2", 1, "2.38"), ("Fe2O3", 1, "1.298"), ("Fe3O4", 1, "0.895"),
    ("Mn2O3", 1, "1.31"), ("Mn3O4", 1, "0.91"), ("CuO", 0.5, "1.30"), ("CuO", 1, "2.60"), ("PbO2", 1, "0.866"),
    ("As2O5", 2, "1.80"), ("KClO3", 3, "5.07"), ("Pb3O4", 1, "0.302"),
])  # fmt: skip
def test_theoretical_lead_powers(agent: str, oxygens: float, lead: str) -> None:
    power = theoretical_power(agent, oxygens)
    assert power == pytest.approx(oxygens * LEAD / Molmass(agent).mass, rel=2e-4)
    last_digit = 10.0 ** -len(lead.partition(".")[2])
    assert power == pytest.approx(float(lead), abs=0.6 * last_digit)


@pytest.mark.parametrize(("substance", "oxygens", "demand"), [
    ("CuO", 1, 0.2011), ("Cu2O", 1, 0.1118), ("PbO", 1, 0.0717), ("Fe2O3", 1, 0.1002), ("Fe3O4", 1, 0.0691),
    ("MnO2", 1, 0.1840), ("Mn2O3", 1, 0.1013), ("Mn3O4", 1, 0.0699), ("Bi2O3", 3, 0.103), ("Sb2O4", 4, 0.208),
    ("Sb2O3", 3, 0.165), ("SnO2", 2, 0.2123), ("ZnO", 1, 0.1966), ("As2O5", 2, 0.139), ("PbSO4", 4, 0.2110),
    ("Ag2SO4", 4, 0.2052), ("CaSO4", 4, 0.470), ("KNO3", 2.5, 0.3956), ("NaNO3", 2.5, 0.4706), ("Pb3O4", 1, 0.0233),
])  # fmt: skip
def test_oxygen_that_oxides_give_up(substance: str, oxygens: float, demand: float) -> None:
    assert oxygen_demand(substance) == pytest.approx(oxygens * OXYGEN / Molmass(substance).mass, rel=2e-4)
    assert oxygen_demand(substance) == pytest.approx(demand, abs=0.0006)


@pytest.mark.parametrize(("mineral", "to_dioxide", "to_sulphate"), [
    ("FeS2", 8.64, 12.09), ("FeS", 7.07, 9.43), ("Fe7S8", 7.36, 9.92), ("CuFeS2", 6.21, 8.47), ("ZnS", 6.38, 8.51),
    ("PbS", 2.60, 3.46), ("Sb2S3", 5.49, 7.32), ("FeAsS", 5.73, 8.27), ("Cu2S", 3.91, 5.21), ("As2S3", 7.58, 11.79),
    ("Ag2S", 1.67, 2.51), ("Ag3SbS3", 2.87, 4.02), ("MoS2", 9.06, 11.65),
])  # fmt: skip
def test_limits_of_a_sulphide(mineral: str, to_dioxide: float, to_sulphate: float) -> None:
    low, high = power_limits(mineral)
    assert low == pytest.approx(to_dioxide, abs=0.006)
    assert high == pytest.approx(to_sulphate, abs=0.006)


def test_what_is_oxidised_already_reduces_nothing() -> None:
    assert power_limits("PbSO4") == (0.0, 0.0)
    assert power_limits("Ag") == (0.0, 0.0)


@pytest.mark.parametrize(("metal", "nitre", "soda_nitre", "dioxide"), [
    ("Zn", 0.619, 0.520, 1.330), ("Fe", 0.724, 0.609, 1.557), ("Cu", 0.318, 0.268, 0.684), ("Pb", 0.195, 0.164, 0.420),
])  # fmt: skip
def test_oxidiser_for_one_gram_of_metal(metal: str, nitre: float, soda_nitre: float, dioxide: float) -> None:
    asked = METAL_OXYGEN[metal]
    assert asked / oxygen_demand("KNO3") == pytest.approx(nitre, abs=0.0006)
    assert asked / oxygen_demand("NaNO3") == pytest.approx(soda_nitre, abs=0.0006)
    assert asked / oxygen_demand("MnO2") == pytest.approx(dioxide, abs=0.0012)


def test_soda_iron_and_copper_for_one_gram_of_sulphur() -> None:
    assert pytest.approx(3.31, abs=0.005) == SODA_PER_SULPHUR
    assert pytest.approx(Molmass("Na2CO3").mass / Molmass("S").mass, rel=2e-4) == SODA_PER_SULPHUR
    assert pytest.approx(1.742, abs=0.001) == IRON_PER_SULPHUR
    assert matte(1.0, {"Cu": 10.0}).metals["Cu"] == pytest.approx(3.964, abs=0.001)


def test_five_grams_of_matte_sulphur() -> None:
    """Worked out by hand from the equation Fe + S = FeS: 8.71 g of iron, 13.71 g of sulphide."""
    found = matte(5.0, {"Fe": 20.0})
    assert iron_wanted({}, 5.0, 0.0) == pytest.approx(8.71, abs=0.005)
    assert found.metals["Fe"] == pytest.approx(8.71, abs=0.005)
    assert found.mass == pytest.approx(13.71, abs=0.005)
