"""Heats of formation, the order of reduction and the exchange of sulphur against the CRC Handbook's tables.

The handbook's standard thermodynamic properties as carried by the package chemicals (Caleb Bell), read here apart from
the program. Free energies at the heat of the pot take the heat capacities of 25 degC and add fusion; that is good to
some tens of kJ, enough for most of an order and for signs that are larger.

"Worked out apart" below: from NASA's polynomials and the same tables, with heat capacities as they climb; for the
sulphides of silver, zinc and manganese drawn on beyond 1000 K, good to 15 kJ.

The tables have no heat or entropy of NiO, Sb2O3, As2O3 (solid or gas), As4 gas and Sb2S3: of these the order of
reduction, the affinity of antimony for sulphur and 3 Fe + Sb2S3 are not checked
(`test_what_the_tables_do_not_hold`).
"""

from itertools import pairwise
from math import exp, isnan, log, nan

import pytest
from chemicals import Hfus, Tm
from chemicals.heat_capacity import CRC_standard_data
from chemicals.reaction import Hfg, Hfs, S0g, S0s

from fluxlab import resources
from fluxlab.fusion.burning import burning
from fluxlab.fusion.demand import demands
from fluxlab.fusion.matte import MATTE_ORDER
from fluxlab.materials.formulas import formula

AT = 1150.0 + 273.15
CAS = {
    "Ag2O": "20667-12-3", "Ag": "7440-22-4", "CuO": "1317-38-0", "Cu2O": "1317-39-1", "Cu": "7440-50-8",
    "Fe2O3": "1309-37-1", "Fe3O4": "1317-61-9", "FeO": "1345-25-1", "Fe": "7439-89-6", "MnO2": "1313-13-9",
    "Mn3O4": "1317-35-7", "MnO": "1344-43-0", "Mn": "7439-96-5", "Bi2O3": "1304-76-3", "Bi": "7440-69-9",
    "PbO": "1317-36-8", "Pb": "7439-92-1", "SnO2": "18282-10-5", "Sn": "7440-31-5", "CoO": "1307-96-6",
    "Co": "7440-48-4", "ZnO": "1314-13-2", "Cu2S": "22205-45-4", "FeS": "1317-37-9", "PbS": "1314-87-0",
    "Ag2S": "21548-73-2", "ZnS": "1314-98-3", "MnS": "18820-29-6", "Na2CO3": "497-19-8", "Na2S": "1313-82-2",
    "C": "7782-42-5", "CdO": "1306-19-0", "MoO3": "1313-27-5", "TeO2": "7446-07-3", "SeO2": "7446-08-4",
    "FeS2": "1317-66-4", "CuS": "1317-40-4", "As2S3": "1303-33-9", "Bi2S3": "1345-07-9", "CdS": "1306-23-6",
    "CoS": "1317-42-6", "HgS": "1344-48-5", "MoS2": "1317-33-5", "NiS": "16812-54-7", "SnS": "1314-95-0",
    "ZnSO4": "7733-02-0", "MgSO4": "7487-88-9", "MgO": "1309-48-4", "CaSO4": "7778-18-9", "CaO": "1305-78-8",
    "PbSO4": "7446-14-2",
}  # fmt: skip
WITHOUT_DATA = {"NiO": "1313-99-1", "Sb2O3": "1309-64-4", "As2O3": "1327-53-3", "As4O6 gas": "12505-67-8",
                "As4 gas": "12187-08-5", "Sb2S3": "1345-04-6"}  # fmt: skip
"""Substances of which the tables have neither heat of formation nor entropy."""
GASES = {"O2": "7782-44-7", "SO2": "7446-09-5", "CO": "630-08-0", "CO2": "124-38-9", "Zn gas": "7440-66-6",
         "S2": "23550-45-0", "Cd gas": "7440-43-9", "SO3": "7446-11-9"}  # fmt: skip
ROOM = 298.15
DULONG_PETIT = 24.94


def free_energy(substance: str, kelvin: float = AT) -> float:
    """Free energy of formation on the scale H - T S [kJ/mol]: heat capacity of 25 degC, fusion where it melts."""
    gas = substance in GASES
    cas = GASES[substance] if gas else CAS[substance]
    heat, entropy = (Hfg(cas), S0g(cas)) if gas else (Hfs(cas), S0s(cas))
    assert entropy is not None
    capacity = float(CRC_standard_data.loc[cas]["Cpg" if gas else "Cps"]) if cas in CRC_standard_data.index else nan
    if isnan(capacity):
        capacity = DULONG_PETIT * sum(formula(substance).atoms.values())
    found = (heat or 0.0) + capacity * (kelvin - ROOM) - kelvin * (entropy + capacity * log(kelvin / ROOM))
    melts, at = (None, None) if gas else (Hfus(cas), Tm(cas))
    if melts and at and at < kelvin:
        found += melts * (1.0 - kelvin / at)
    return float(found) / 1000.0


def change(reaction: dict[str, float], kelvin: float = AT) -> float:
    """Free energy of a reaction, what goes in counted negative [kJ]."""
    return sum(n * free_energy(substance, kelvin) for substance, n in reaction.items())


@pytest.mark.parametrize(
    "row", [r for r in resources.table("fusion/formation.csv") if r["source"].startswith("found: CRC")],
    ids=lambda r: r["substance"],
)  # fmt: skip
def test_heats_of_formation_are_the_handbooks(row: dict[str, str]) -> None:
    name = row["substance"]
    crc = Hfg(GASES[name]) if name in GASES else Hfs(CAS[name])
    assert float(row["kj_per_mol"]) == pytest.approx(crc / 1000.0, abs=0.06)


# free energy of the oxide over the metal or lower oxide at 1150 degC, and the same [kJ per mol O2] as worked out apart
# from NASA's polynomials and the CRC tables, good to 5 to 15
STEPS: dict[str, tuple[dict[str, float], float]] = {
    "Ag2O": ({"Ag": -4, "O2": -1, "Ag2O": 2}, 109),
    "CuO": ({"Cu2O": -2, "O2": -1, "CuO": 4}, 5),
    "Fe2O3": ({"Fe3O4": -4, "O2": -1, "Fe2O3": 6}, -86),
    "Mn3O4": ({"MnO": -6, "O2": -1, "Mn3O4": 2}, -111),
    "Bi2O3": ({"Bi": -4 / 3, "O2": -1, "Bi2O3": 2 / 3}, -128),
    "Cu2O": ({"Cu": -4, "O2": -1, "Cu2O": 2}, -129),
    "CdO": ({"Cd gas": -2, "O2": -1, "CdO": 2}, -156),
    "PbO": ({"Pb": -2, "O2": -1, "PbO": 2}, -169),
    "Fe3O4": ({"FeO": -6, "O2": -1, "Fe3O4": 2}, -248),
    "CoO": ({"Co": -2, "O2": -1, "CoO": 2}, -269),
    "SnO2": ({"Sn": -1, "O2": -1, "SnO2": 1}, -280),
    "FeO": ({"Fe": -2, "O2": -1, "FeO": 2}, -360),
    "ZnO": ({"Zn gas": -2, "O2": -1, "ZnO": 2}, -361),
    "MnO": ({"Mn": -2, "O2": -1, "MnO": 2}, -560),
}


@pytest.mark.parametrize("oxide", [oxide for oxide in STEPS if oxide != "Fe3O4"])
def test_free_energies_of_the_oxides(oxide: str) -> None:
    """Ferric and manganic oxide are 29 and 30 kJ off, the rest 15 at most.

    Magnetite is left out: its heat capacity climbs by half on the way up, so that of 25 degC does not do for it.
    """
    reaction, expected = STEPS[oxide]
    assert change(reaction) == pytest.approx(expected, abs=30.5 if oxide in ("Fe2O3", "Mn3O4") else 15.5)


@pytest.mark.parametrize(
    ("first", "second"),
    [("CuO", "PbO"), ("Cu2O", "PbO"), ("Bi2O3", "PbO"), ("Fe2O3", "PbO"), ("Mn3O4", "PbO"),
     ("PbO", "SnO2"), ("Fe3O4", "ZnO"), ("SnO2", "ZnO")],
)  # fmt: skip
def test_the_order_of_reduction_is_that_of_the_free_energies(first: str, second: str) -> None:
    assert change(STEPS[first][0]) > change(STEPS[second][0])
    steps = demands({first: 1.0, second: 1.0})
    starts = {name: min(d.rank for d in steps if d.substance == name) for name in (first, second)}
    assert starts[first] <= starts[second]


def test_zinc_is_reduced_last_and_manganese_metal_never() -> None:
    assert max(d.rank for d in demands({"ZnO": 1.0, "Fe2O3": 1.0, "SnO2": 1.0})) == demands({"ZnO": 1.0})[0].rank
    assert demands({"MnO": 1.0}) == ()


@pytest.mark.parametrize("substance", WITHOUT_DATA)
def test_what_the_tables_do_not_hold(substance: str) -> None:
    """Fails as soon as a table of the library has a heat of formation: then the check is to be made.

    Worked out apart at 1150 degC, and so far held against nothing: NiO -228, Sb2O3 -252, As4O6 gas to As4 gas -191 kJ
    per mol O2; Sb2S3 -36 kJ per mol S2; 3 Fe + Sb2S3 = 2 Sb + 3 FeS -163 kJ.
    """
    assert Hfs(WITHOUT_DATA[substance]) is None
    assert Hfg(WITHOUT_DATA[substance]) is None


def test_the_pot_takes_nickel_cobalt_and_antimony_with_the_oxides_after_litharge() -> None:
    """Cobalt by these tables, the others by free energies worked out apart, which no table here confirms.

    Arsenious and cadmium oxide count as fume and are asked for nothing, though by its free energy cadmium is reduced
    before lead.
    """
    first = demands({"PbO": 1.0})[0].rank
    assert all(demands({oxide: 1.0})[0].rank > first for oxide in ("NiO", "Sb2O3", "CoO"))
    assert change(STEPS["CoO"][0]) < change(STEPS["PbO"][0])
    assert change(STEPS["CdO"][0]) > change(STEPS["PbO"][0])
    assert demands({"CdO": 1.0}) == demands({"As2O3": 1.0}) == ()


# exchange of sulphur at 1150 degC: reaction and whether it goes
EXCHANGES: dict[str, tuple[dict[str, float], bool]] = {
    "iron takes sulphur from silver": ({"Fe": -1, "Ag2S": -1, "Ag": 2, "FeS": 1}, True),
    "iron takes sulphur from lead": ({"Fe": -1, "PbS": -1, "Pb": 1, "FeS": 1}, True),
    "iron leaves copper its sulphur": ({"Fe": -1, "Cu2S": -1, "Cu": 2, "FeS": 1}, False),
    "iron leaves zinc its sulphur": ({"Fe": -1, "ZnS": -1, "Zn gas": 1, "FeS": 1}, False),
    "copper takes sulphur from silver": ({"Cu": -2, "Ag2S": -1, "Ag": 2, "Cu2S": 1}, True),
    "copper takes sulphur from lead": ({"Cu": -2, "PbS": -1, "Pb": 1, "Cu2S": 1}, True),
    "copper oxide burns its sulphide": ({"Cu2S": -1, "Cu2O": -2, "Cu": 6, "SO2": 1}, True),
    "litharge burns galena": ({"PbS": -1, "PbO": -2, "Pb": 3, "SO2": 1}, True),
    "litharge burns silver sulphide": ({"Ag2S": -1, "PbO": -2, "Ag": 2, "Pb": 2, "SO2": 1}, True),
    "iron reduces litharge": ({"PbO": -1, "Fe": -1, "Pb": 1, "FeO": 1}, True),
    "soda alone takes sulphur from iron": (
        {"Na2CO3": -1, "FeS": -1, "Na2S": 1, "FeO": 1, "CO2": 1}, True,
    ),
    "carbon and soda take sulphur from iron": (
        {"Na2CO3": -1, "C": -1, "FeS": -1, "Na2S": 1, "Fe": 1, "CO": 1, "CO2": 1}, True,
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", EXCHANGES)
def test_which_metal_gets_the_sulphur(what: str) -> None:
    """Soda alone: -23 kJ here and -6 worked out apart, so near to nought that only the sign of the two agrees."""
    reaction, goes = EXCHANGES[what]
    assert (change(reaction) < 0.0) == goes


def test_lead_and_silver_sulphide_do_not_reproduce() -> None:
    """Pb + Ag2S = 2 Ag + PbS: +12 kJ worked out apart, -15 from the flat capacities used here.

    The sign is open: the two differ by 27 kJ, within what they are good for together. The tables give no heat of the
    change of silver sulphide near 176 degC, about 4 kJ/mol (from memory), which would take a third of the difference
    away. The pot gives sulphur to lead before silver, as the order from memory has it.
    """
    found = change({"Pb": -1, "Ag2S": -1, "Ag": 2, "PbS": 1})
    assert found == pytest.approx(-15.0, abs=1.0)
    order = [metal for metal, _ in MATTE_ORDER]
    assert order.index("Pb") < order.index("Ag")


# free energy of the sulphide over the metal at 1150 degC, and the same [kJ per mol S2] as worked out apart
AFFINITIES: dict[str, tuple[dict[str, float], float]] = {
    "Mn": ({"Mn": -2, "S2": -1, "MnS": 2}, -373),
    "Zn": ({"Zn gas": -2, "S2": -1, "ZnS": 2}, -209),
    "Cu": ({"Cu": -4, "S2": -1, "Cu2S": 2}, -182),
    "Fe": ({"Fe": -2, "S2": -1, "FeS": 2}, -145),
    "Pb": ({"Pb": -2, "S2": -1, "PbS": 2}, -77),
    "Ag": ({"Ag": -4, "S2": -1, "Ag2S": 2}, -101),
}


def test_sulphur_goes_to_manganese_and_zinc_before_copper_before_iron_before_lead_before_silver() -> None:
    """Antimony, -36 worked out apart and last, is in no table here; worked out apart, silver stands before lead."""
    order = sorted(AFFINITIES, key=lambda metal: change(AFFINITIES[metal][0]))
    assert order == ["Mn", "Zn", "Cu", "Fe", "Pb", "Ag"]
    assert [metal for metal, _ in MATTE_ORDER] == ["Cu", "Fe", "Pb", "Ag"]


@pytest.mark.parametrize(("metal", "off"), [("Mn", -7), ("Zn", 7), ("Cu", 42), ("Fe", 27), ("Pb", -7), ("Ag", 46)])
def test_affinities_for_sulphur_against_those_worked_out_apart(metal: str, off: float) -> None:
    """Copper, iron and silver sulphide change their form on the way up and their capacities climb, of which the tables
    tell nothing: these three come out 27 to 46 kJ per mol S2 too weak."""
    reaction, expected = AFFINITIES[metal]
    assert change(reaction) - expected == pytest.approx(off, abs=0.9)


@pytest.mark.parametrize("mineral", ["PbS", "ZnS", "FeS2", "FeS", "Cu2S", "Ag2S"])
def test_heat_of_burning_by_litharge_is_that_of_the_handbook(mineral: str) -> None:
    products = {
        "PbS": ({"PbS": -1, "PbO": -2, "Pb": 3, "SO2": 1}, 1),
        "ZnS": ({"ZnS": -1, "PbO": -3, "ZnO": 1, "Pb": 3, "SO2": 1}, 1),
        "FeS2": ({"FeS2": -1, "PbO": -5, "FeO": 1, "Pb": 5, "SO2": 2}, 2),
        "FeS": ({"FeS": -1, "PbO": -3, "FeO": 1, "Pb": 3, "SO2": 1}, 1),
        "Cu2S": ({"Cu2S": -1, "PbO": -3, "Cu2O": 1, "Pb": 3, "SO2": 1}, 1),
        "Ag2S": ({"Ag2S": -1, "PbO": -2, "Ag": 2, "Pb": 2, "SO2": 1}, 1),
    }
    reaction, sulphurs = products[mineral]
    heat = sum(n * ((Hfg(GASES[s]) if s in GASES else Hfs(CAS[s])) or 0.0) / 1000.0 for s, n in reaction.items())
    assert burning(mineral).heat == pytest.approx(heat / sulphurs, abs=0.15)


# CO over CO2 at balance with the pure substances at 1150 degC as worked out apart, and how many times that these tables
# give; the flat heat capacities and the rounding of the first are in it
GAS: dict[str, tuple[float, float]] = {
    "Ag2O": (1e-8, 1.33), "CuO": (1e-6, 1.76), "Fe2O3": (5e-5, 6.50), "Mn3O4": (2e-4, 0.386), "Bi2O3": (3e-4, 1.30),
    "Cu2O": (3e-4, 1.28), "CdO": (1e-3, 1.13), "PbO": (0.002, 1.08), "Fe3O4": (0.05, 0.0533), "CoO": (0.12, 3.40),
    "SnO2": (0.20, 1.39), "FeO": (5.9, 2.57), "ZnO": (6.0, 0.962), "MnO": (28000.0, 2.29),
}  # fmt: skip


@pytest.mark.parametrize("oxide", GAS)
def test_carbon_monoxide_that_reduces_an_oxide(oxide: str) -> None:
    """Litharge 1.08 times the other figure, zinc oxide 0.96, ferrous oxide 2.6; all within 3.4 times but two.

    Those are the oxides of iron that rest on magnetite's heat capacity, which climbs by half: ferric oxide 6.5 times,
    magnetite a nineteenth, so that of magnetite these tables say nothing. For ferrous oxide a measured ratio is about
    3 (from memory); both figures are for FeO as written and lie above it.
    """
    printed, times = GAS[oxide]
    gas = change({"CO": -2, "O2": -1, "CO2": 2})
    ratio = exp((gas - change(STEPS[oxide][0])) / (2.0 * 8.314462618e-3 * AT))
    assert ratio / printed == pytest.approx(times, rel=0.006)


def test_which_neighbours_in_the_order_of_reduction_change_places() -> None:
    """Those of ferric oxide and manganese's for the heat capacity of magnetite; the others lie within 11 kJ per mol O2
    of each other where they were worked out apart, which is what such figures are good for."""
    order = list(GAS)
    swapped = {
        (first, second)
        for first, second in pairwise(order)
        if change(STEPS[first][0]) < change(STEPS[second][0])
    }  # fmt: skip
    assert swapped == {("Fe2O3", "Mn3O4"), ("Bi2O3", "Cu2O"), ("CoO", "SnO2"), ("FeO", "ZnO")}
    assert all(STEPS[a][1] - STEPS[b][1] <= 11 for a, b in swapped if a != "Fe2O3")
