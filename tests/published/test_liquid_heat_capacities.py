"""Heat capacity of liquid silicates and borates, and the heat to melt one, against published tables.

M. W. Chase, NIST-JANAF Thermochemical Tables, 4th ed., J. Phys. Chem. Ref. Data Monograph 9, 1998, as carried by the
package chemicals (Caleb Bell): liquids at 1500 K; most have one value from the melting point on.
Heat Capacity of Sodium Silicate Liquids (abstract: drop calorimetry, 900 to 1800 K, 50 to 100 mol% SiO2, partial molar
81.37 for SiO2 and 100.6 for Na2O [J/mol K], within 0.5 %); P. Richet, Y. Bottinga and C. Tequi, J. Am. Ceram. Soc. 67
(1984) C-6, authors and place from memory.
"""

import numpy as np
import pytest
from chemicals import Hfus, Tm, heat_capacity
from numpy.typing import ArrayLike
from scipy.integrate import trapezoid

from fluxlab.materials.oxides import Vec, vector
from fluxlab.slag.heat import liquid_heat_capacity, melt_enthalpy

AT = 1500.0
SILICATES = {
    "Na2SiO3": ("6834-92-0", {"Na2O": 1.0, "SiO2": 1.0}),
    "Na2Si2O5": ("13870-28-5", {"Na2O": 1.0, "SiO2": 2.0}),
    "K2SiO3": ("10006-28-7", {"K2O": 1.0, "SiO2": 1.0}),
    "Li2SiO3": ("10102-24-6", {"Li2O": 1.0, "SiO2": 1.0}),
}
BORATES = {
    "Na2B4O7": ("1330-43-4", {"Na2O": 1.0, "B2O3": 2.0}),
    "K2B4O7": ("1332-77-0", {"K2O": 1.0, "B2O3": 2.0}),
    "Li2B4O7": ("12007-60-2", {"Li2O": 1.0, "B2O3": 2.0}),
    "KBO2": ("13709-94-9", {"K2O": 0.5, "B2O3": 0.5}),
    "LiBO2": ("13453-69-5", {"Li2O": 0.5, "B2O3": 0.5}),
}


def tabled(phase: str, cas: str, kelvin: ArrayLike) -> Vec:
    """Heat capacity in the tables [J/mol K]."""
    tables = heat_capacity.Cp_dict_JANAF_liquid if phase == "liquid" else heat_capacity.Cp_dict_JANAF_solid
    return np.asarray(np.interp(kelvin, *tables[cas]))


def error(cas: str, moles: dict[str, float]) -> float:
    """Ours over the tables', less 1 [-]."""
    return float(liquid_heat_capacity(vector(moles)).value / tabled("liquid", cas, AT) - 1.0)


@pytest.mark.parametrize("name", SILICATES)
def test_liquid_alkali_silicates_are_met_within_six_per_cent(name: str):
    print(f"{name}: {100.0 * error(*SILICATES[name]):+.1f} %")
    assert abs(error(*SILICATES[name])) <= 0.06


def test_liquid_alkali_borates_without_silica_are_told_a_fifth_to_a_third_too_low():
    # a known miss: oxides that add up cannot know it, and borosilicates as measured do not share it
    errors = [error(*row) for row in BORATES.values()]
    for name, each in zip(BORATES, errors, strict=True):
        print(f"{name}: {100.0 * each:+.1f} %")
    assert -0.33 < min(errors) <= max(errors) < -0.18


@pytest.mark.parametrize("silica", [0.5, 0.6, 0.7, 0.8, 0.9])
def test_sodium_silicates_agree_with_drop_calorimetry_within_two_and_a_half_per_cent(silica: float):
    ours = liquid_heat_capacity(vector({"SiO2": silica, "Na2O": 1.0 - silica})).value
    assert ours == pytest.approx(81.37 * silica + 100.6 * (1.0 - silica), rel=0.025)


def test_the_heat_that_melts_sodium_metasilicate_lies_in_the_stated_range():
    cas, moles = SILICATES["Na2SiO3"]
    melts, fusion = Tm(cas), Hfus(cas)
    assert melts is not None
    assert fusion is not None
    cold, hot = np.linspace(298.15, melts, 500), np.linspace(melts, 1100.0 + 273.15, 50)
    heat = fusion + trapezoid(tabled("solid", cas, cold), cold) + trapezoid(tabled("liquid", cas, hot), hot)
    told = melt_enthalpy(vector(moles), 1100.0)
    print(f"Na2SiO3 to 1100 degC: {heat / 1000.0:.0f} kJ/mol in the tables, {told.value:.0f} told "
          f"({told.low90:.0f} to {told.high90:.0f})")  # fmt: skip
    assert told.low90 <= heat / 1000.0 <= told.high90
    assert told.value == pytest.approx(heat / 1000.0, rel=0.12)
