"""Optical basicity of reference glasses: published values from refractive index against the program's sum over oxides.

V. Dimitrov and T. Komatsu, Polarizability, basicity and chemical bonding of single and multicomponent oxide glasses,
J. Chem. Technol. Metall. 2015 (abstract): single-oxide glasses.
Z. Hussain, Optical band gap, oxidation polarizability, optical basicity and electronegativity measurements of silicate
glasses, New J. Glass Ceram. 11 (2021) 1-33 (abstract, near room temperature, mean of two instruments): three glasses
whose compositions the abstract does not give; those below are of the trade, from memory.
The table behind the sum is Rodriguez and McCloy, PNNL-20184, 2011, Table B.1. The original lead-probe values of Duffy
and Ingram 1976 were not found.
"""

import numpy as np
import pytest

from fluxlab.materials.oxides import from_masses, vector
from fluxlab.slag.indices import optical_basicity

SINGLE_OXIDE_GLASSES = {"B2O3": 0.46, "SiO2": 0.53, "P2O5": 0.54, "As2O3": 1.02, "Sb2O3": 1.11}
MEASURED_GLASSES = {
    "silica": ({"SiO2": 100.0}, (0.4272 + 0.4586) / 2.0),
    "7059 barium borosilicate": ({"SiO2": 50.0, "BaO": 25.0, "B2O3": 15.0, "Al2O3": 10.0}, (0.5045 + 0.5018) / 2.0),
    "soda-lime": ({"SiO2": 72.0, "Na2O": 14.0, "CaO": 9.0, "MgO": 4.0, "Al2O3": 1.0}, (0.6271 + 0.6256) / 2.0),
}
"""Composition [mass %] and optical basicity [-]."""
SCALES = 0.08
"""How far scales of optical basicity stand apart: silica glass alone is 0.43, 0.46, 0.48 or 0.53 [-]."""
MISSED = "P2O5"
"""0.54 as a glass, 0.40 in the table: beyond the distance of the scales."""


def basicity(mass_percent: dict[str, float]) -> float:
    found = optical_basicity(from_masses(mass_percent))
    assert found is not None
    return found


def test_glasses_of_one_oxide_agree_within_the_distance_of_the_scales_save_phosphoric_oxide():
    errors = {oxide: basicity({oxide: 1.0}) - value for oxide, value in SINGLE_OXIDE_GLASSES.items()}
    for oxide, error in errors.items():
        print(f"{oxide}: table less glass {error:+.2f}")
    assert [oxide for oxide, error in errors.items() if abs(error) > SCALES] == [MISSED]


def test_mixed_glasses_agree_within_the_distance_of_the_scales():
    for name, (glass, measured) in MEASURED_GLASSES.items():
        error = basicity(glass) - measured
        print(f"{name}: sum {basicity(glass):.3f}, measured {measured:.3f}, error {error:+.3f}")
        assert abs(error) <= SCALES


def test_mixed_glasses_stand_in_the_measured_order():
    ours = [basicity(glass) for glass, _ in MEASURED_GLASSES.values()]
    assert np.argsort(ours).tolist() == np.argsort([measured for _, measured in MEASURED_GLASSES.values()]).tolist()


@pytest.mark.parametrize(
    ("moles", "by_hand"),
    [
        # each oxide's value weighted by its oxygen, values of PNNL-20184 written out
        ({"Na2O": 1.0, "SiO2": 2.0}, (1 * 1.11 + 4 * 0.48) / 5),
        ({"Na2O": 1.0, "B2O3": 2.0}, (1 * 1.11 + 6 * 0.40) / 7),
        ({"FeO": 2.0, "SiO2": 1.0}, (2 * 0.93 + 2 * 0.48) / 4),
        ({"PbO": 1.0, "SiO2": 1.0}, (1 * 1.18 + 2 * 0.48) / 3),
        ({"CaO": 1.0, "Al2O3": 1.0, "SiO2": 2.0}, (1 * 1.00 + 3 * 0.61 + 4 * 0.48) / 8),
        ({"ZnO": 1.0, "Fe2O3": 1.0, "MnO": 1.0}, (0.80 + 3 * 0.80 + 0.95) / 5),
    ],
)
def test_oxides_count_by_their_oxygen(moles: dict[str, float], by_hand: float):
    assert optical_basicity(vector(moles)) == pytest.approx(by_hand, abs=1e-9)
