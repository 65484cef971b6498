"""Densities of minerals marked "found" against the CRC Handbook of Chemistry and Physics, as carried by `chemicals`.

CRC Handbook of Chemistry and Physics (J. R. Rumble, ed.), "Physical Constants of Inorganic Compounds": densities of the
solids, which the independent library `chemicals` (C. Bell) holds as molar volumes.
"""

import pytest
from chemicals import volume

from fluxlab.materials.minerals import minerals

NUMBERS = {
    "Acanthite/argentite": "21548-73-2", "Galena": "1314-87-0", "Sphalerite (pure)": "1314-98-3",
    "Hematite": "1309-37-1", "Quartz": "14808-60-7", "Fluorite": "7789-75-5", "Calcite": "471-34-1",
    "Anglesite": "7446-14-2", "Cerussite": "598-63-0", "Barite": "7727-43-7", "Cinnabar": "1344-48-5",
    "Stibnite": "1345-04-6", "Cuprite": "1317-39-1", "Chalcocite": "22205-45-4", "Covellite": "1317-40-4",
    "Cassiterite": "18282-10-5", "Magnetite": "1317-61-9", "Orpiment": "1303-33-9", "Pyrolusite": "1313-13-9",
    "Native silver": "7440-22-4", "Native gold": "7440-57-5", "Native copper": "7440-50-8",
    "Chlorargyrite (horn silver)": "7783-90-6", "Siderite": "563-71-3", "Rhodochrosite": "598-62-9",
    "Smithsonite": "3486-35-9", "Magnesite": "546-93-0", "Greenockite": "1306-23-6", "Alabandite": "18820-29-6",
    "Bismuthinite": "1345-07-9", "Hausmannite": "1317-35-7", "Anhydrite": "7778-18-9", "Gypsum": "10101-41-4",
    "Troilite/FeS (matte)": "1317-37-9", "Chalcopyrite": "1308-56-1",
}  # fmt: skip
"""CAS registry numbers."""


@pytest.mark.parametrize(("name", "number"), NUMBERS.items())
def test_a_density_marked_found_is_within_four_per_cent_of_the_crc(name: str, number: str) -> None:
    mineral = minerals()[name]
    molar_volume = float(volume.rho_data_CRC_inorg_s_const.loc[number, "Vm"]) * 1e6
    assert mineral.density_source.startswith("found")
    assert mineral.density == pytest.approx(mineral.read.mass / molar_volume, rel=0.04)
