"""Whole roasts reckoned mole by mole, with the molar masses of an independent library, molmass (C. Gohlke).

The stoichiometry is worked out here by hand, reaction by reaction; masses in grams for 100 g of ore. The two libraries
give sulphur 32.065 and 32.06, which makes the third decimal differ.
"""

from collections.abc import Mapping

import pytest
from molmass import Formula

from fluxlab.materials.minerals import minerals
from fluxlab.ore.partial_roast import PartialRoast, partial_roast
from fluxlab.ore.roast_types import RoastState

NEAR = 4e-3


def mol(grams: float, formula: str) -> float:
    return grams / Formula(formula).mass


def mass(moles: Mapping[str, float]) -> float:
    return sum(n * Formula(formula).mass for formula, n in moles.items())


def roast(shares: Mapping[str, float], state: RoastState) -> PartialRoast:
    return partial_roast([minerals()[name] for name in shares], list(shares.values()), state)


def gas(found: PartialRoast, species: str) -> float:
    return found.roasted.gases.get(species, 0.0)


def test_lead_zinc_and_lime_roasted_in_part() -> None:
    """Half the lead, a tenth of the burnt zinc and three fifths of the lime as sulphate; blende four fifths burnt.

    Pyrite has lost three of its five tenths of sulphur beyond the half that is labile: four fifths are FeS.
    """
    found = roast(
        {"Galena": 50.0, "Sphalerite (pure)": 20.0, "Pyrite": 15.0, "Calcite": 10.0, "Quartz": 5.0},
        RoastState((("Sphalerite (pure)", 0.8), ("Pyrite", 0.6)), (("Pb", 0.5), ("Zn", 0.1), ("Ca", 0.6))),
    )
    lead, zinc, iron, lime = mol(50.0, "PbS"), mol(20.0, "ZnS"), mol(15.0, "FeS2"), mol(10.0, "CaCO3")
    solids = {
        "PbSO4": 0.5 * lead, "PbO": 0.5 * lead, "ZnS": 0.2 * zinc, "ZnSO4": 0.08 * zinc, "ZnO": 0.72 * zinc,
        "FeS": 0.8 * iron, "Fe2O3": 0.1 * iron, "CaSO4": 0.6 * lime, "CaO": 0.4 * lime,
    }  # fmt: skip
    dioxide = 0.5 * lead + 0.72 * zinc + 1.2 * iron - 0.6 * lime
    assert found.roasted.mass == pytest.approx(mass(solids) + 5.0, abs=NEAR)
    assert gas(found, "SO2") == pytest.approx(mass({"SO2": dioxide}), abs=NEAR)
    assert gas(found, "CO2") == pytest.approx(mass({"CO2": lime}), abs=NEAR)
    assert found.sulphide_sulphur == pytest.approx(mass({"S": 0.2 * zinc + 0.8 * iron}), abs=NEAR)
    assert found.sulphate_sulphur == pytest.approx(mass({"S": 0.5 * lead + 0.08 * zinc + 0.6 * lime}), abs=NEAR)


def test_arsenopyrite_loses_its_arsenic_first_and_keeps_a_fifth_of_the_burnt_as_arsenate() -> None:
    found = roast(
        {"Arsenopyrite": 30.0, "Pyrite": 20.0, "Calcite": 5.0, "Quartz": 45.0},
        RoastState((("Arsenopyrite", 0.9),), arsenate=0.2),
    )
    arsenic, iron, lime = mol(30.0, "FeAsS"), mol(20.0, "FeS2"), mol(5.0, "CaCO3")
    kept = 0.2 * 0.8 * arsenic
    solids = {
        "FeS": 0.2 * arsenic, "Fe2O3": 0.5 * (0.8 * arsenic + iron), "As2O5": 0.5 * kept, "CaO": lime,
    }  # fmt: skip
    assert found.roasted.mass == pytest.approx(mass(solids) + 45.0, abs=NEAR)
    assert gas(found, "As4O6") == pytest.approx(mass({"As4O6": 0.25 * (arsenic - kept)}), abs=NEAR)
    assert gas(found, "SO2") == pytest.approx(mass({"SO2": 0.8 * arsenic + 2.0 * iron}), abs=NEAR)
    assert found.arsenic == pytest.approx(mass({"As": kept}), abs=NEAR)


def test_manganese_silver_and_magnesia_keep_their_sulphates() -> None:
    found = roast(
        {"Rhodochrosite": 20.0, "Acanthite/argentite": 5.0, "Alabandite": 5.0, "Dolomite": 10.0, "Pyrite": 20.0,
         "Quartz": 40.0},
        RoastState(sulphate=(("Mn", 0.7), ("Ag", 0.3), ("Mg", 0.5), ("Ca", 0.8))),
    )  # fmt: skip
    carbonate, sulphide = mol(20.0, "MnCO3"), mol(5.0, "MnS")
    manganese = carbonate + sulphide
    silver, dolomite, iron = mol(5.0, "Ag2S"), mol(10.0, "CaMgC2O6"), mol(20.0, "FeS2")
    solids = {
        "MnSO4": 0.7 * manganese, "Mn2O3": 0.15 * manganese, "Ag2SO4": 0.3 * silver, "Ag": 1.4 * silver,
        "MgSO4": 0.5 * dolomite, "MgO": 0.5 * dolomite, "CaSO4": 0.8 * dolomite, "CaO": 0.2 * dolomite,
        "Fe2O3": 0.5 * iron,
    }  # fmt: skip
    held = 0.7 * manganese + 0.3 * silver + 1.3 * dolomite
    assert found.roasted.mass == pytest.approx(mass(solids) + 40.0, abs=NEAR)
    assert found.sulphate_sulphur == pytest.approx(mass({"S": held}), abs=NEAR)
    assert gas(found, "SO2") == pytest.approx(mass({"SO2": sulphide + silver + 2.0 * iron - held}), abs=NEAR)
    assert gas(found, "CO2") == pytest.approx(mass({"CO2": carbonate + 2.0 * dolomite}), abs=NEAR)


def test_copper_and_antimony_with_fume_and_magnetic_iron() -> None:
    """Chalcopyrite 0.6 gone: the first quarter of its sulphur leaves Cu2S and FeS, of which 7/15 are burnt."""
    found = roast(
        {"Tetrahedrite (Cu12)": 30.0, "Stibnite": 10.0, "Chalcopyrite": 30.0, "Quartz": 30.0},
        RoastState((("Chalcopyrite", 0.6),), (("Cu", 0.2),), antimony_fumed=0.3, magnetite=0.4),
    )
    grey, stibnite, yellow = mol(30.0, "Cu12Sb4S13"), mol(10.0, "Sb2S3"), mol(30.0, "CuFeS2")
    burnt, core = 7.0 / 15.0 * yellow, 8.0 / 15.0 * yellow
    antimony, copper = 4.0 * grey + 2.0 * stibnite, 12.0 * grey + burnt
    solids = {
        "CuO": 0.8 * copper, "CuSO4": 0.2 * copper, "Sb2O4": 0.35 * antimony, "Cu2S": 0.5 * core, "FeS": core,
        "Fe2O3": 0.3 * burnt, "Fe3O4": 0.4 / 3.0 * burnt,
    }  # fmt: skip
    dioxide = 13.0 * grey + 3.0 * stibnite + 0.5 * yellow + 1.5 * burnt - 0.2 * copper
    assert found.roasted.mass == pytest.approx(mass(solids) + 30.0, abs=NEAR)
    assert gas(found, "SO2") == pytest.approx(mass({"SO2": dioxide}), abs=NEAR)
    assert gas(found, "Sb4O6") == pytest.approx(mass({"Sb4O6": 0.075 * antimony}), abs=NEAR)
    assert found.sulphide_sulphur == pytest.approx(mass({"S": 1.5 * core}), abs=NEAR)


def test_carbonates_hydroxides_and_mercury_go_wholly() -> None:
    found = roast(
        {"Cinnabar": 5.0, "Malachite": 20.0, "Siderite": 20.0, "Goethite/limonite": 20.0, "Pyrolusite": 10.0,
         "Quartz": 25.0},
        RoastState(),
    )  # fmt: skip
    mercury, copper, iron = mol(5.0, "HgS"), mol(20.0, "Cu2CH2O5"), mol(20.0, "FeCO3")
    brown, black = mol(20.0, "FeO2H"), mol(10.0, "MnO2")
    solids = {"CuO": 2.0 * copper, "Fe2O3": 0.5 * (iron + brown), "Mn2O3": 0.5 * black}
    assert found.roasted.mass == pytest.approx(mass(solids) + 25.0, abs=NEAR)
    assert gas(found, "Hg") == pytest.approx(mass({"Hg": mercury}), abs=NEAR)
    assert gas(found, "CO2") == pytest.approx(mass({"CO2": copper + iron}), abs=NEAR)
    assert gas(found, "H2O") == pytest.approx(mass({"H2O": copper + 0.5 * brown}), abs=NEAR)


def test_lime_beside_little_pyrite_holds_all_of_its_sulphur_and_no_more() -> None:
    found = roast({"Calcite": 50.0, "Pyrite": 5.0, "Quartz": 45.0}, RoastState(sulphate=(("Ca", 0.9),)))
    lime, iron = mol(50.0, "CaCO3"), mol(5.0, "FeS2")
    solids = {"CaSO4": 2.0 * iron, "CaO": lime - 2.0 * iron, "Fe2O3": 0.5 * iron}
    assert gas(found, "SO2") == pytest.approx(0.0, abs=1e-9)
    assert found.sulphate_sulphur == pytest.approx(mass({"S": 2.0 * iron}), abs=NEAR)
    assert found.roasted.mass == pytest.approx(mass(solids) + 45.0, abs=NEAR)
