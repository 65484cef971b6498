"""Densities of liquid and solid metals against the CRC Handbook of Chemistry and Physics.

The handbook's tables (density of molten elements; solid densities at room temperature) as carried by the package
chemicals (Caleb Bell), which is read here apart from the program's own table.
"""

import pytest
from chemicals import volume

from fluxlab.slag.metals import METALS, liquid_density, solid_density

CAS = {"Ag": "7440-22-4", "Au": "7440-57-5", "Pb": "7439-92-1", "Cu": "7440-50-8"}


@pytest.mark.parametrize("metal", METALS)
def test_liquid_density_over_the_tabled_range(metal: str) -> None:
    row = volume.rho_data_CRC_inorg_l.loc[CAS[metal]]
    for kelvin in (row["Tm"], (row["Tm"] + row["Tmax"]) / 2.0, row["Tmax"]):
        crc = volume.CRC_inorganic(kelvin, row["rho"], row["k"], row["Tm"]) / 1000.0
        assert liquid_density(metal, kelvin - 273.15) == pytest.approx(crc, rel=1e-4)
    assert METALS[metal].tabled_to + 273.15 == pytest.approx(row["Tmax"], abs=0.5)
    assert METALS[metal].melting_point + 273.15 == pytest.approx(row["Tm"], abs=0.02)


@pytest.mark.parametrize("metal", METALS)
def test_solid_density(metal: str) -> None:
    row = volume.rho_data_CRC_inorg_s_const.loc[CAS[metal]]
    liquid = volume.rho_data_CRC_inorg_l.loc[CAS[metal]]
    crc = liquid["MW"] / 1000.0 / row["Vm"] / 1000.0
    assert solid_density(metal) == pytest.approx(crc, rel=2e-3)
