"""Every mineral of the program against a table worked out apart from it (tests/data/minerals_check.csv).

The table was computed by a separate script from IUPAC abridged standard atomic weights (five figures), its reactions
balanced element by element; densities cross-checked with the CRC Handbook of Chemistry and Physics and with Helgeson,
Delany, Nesbitt and Bird, Am. J. Sci. 278A (1978). The program derives the same from the formulas alone.
"""

import csv
import re
from functools import cache
from pathlib import Path

import pytest

from fluxlab.materials import oxides
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import minerals
from fluxlab.ore import pot
from fluxlab.ore.roast import roasted

NAMES = list(minerals())


@cache
def table() -> dict[str, dict[str, str]]:
    path = Path(__file__).parent.parent / "data" / "minerals_check.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return {row["mineral"]: row for row in csv.DictReader(lines)}


def near(printed: str, decimals: int) -> object:
    """Within the rounding of the print and the difference of two sets of atomic weights."""
    value = float(printed)
    return pytest.approx(value, rel=5e-5, abs=0.6 * 10.0**-decimals)


def elements(masses: dict[str, float]) -> dict[str, float]:
    total: dict[str, float] = {}
    for species, grams in masses.items():
        for symbol, part in formula(species).mass_fractions.items():
            total[symbol] = total.get(symbol, 0.0) + grams * part
    return total


def test_the_table_and_the_program_hold_the_same_minerals() -> None:
    assert list(table()) == NAMES
    assert len(NAMES) == 113


@pytest.mark.parametrize("name", NAMES)
def test_composition_follows_from_the_formula(name: str) -> None:
    row, mineral = table()[name], minerals()[name]
    assert mineral.formula == row["formula"]
    assert mineral.density == float(row["density_g_cm3"])
    assert mineral.density_source.startswith("found") == (row["density_flag"] == "found")
    assert mineral.read.mass == near(row["MW"], 3)
    columns = {title.removeprefix("wt_pct_"): text for title, text in row.items() if title.startswith("wt_pct_")}
    assert set(mineral.read.atoms) <= set(columns)
    for symbol, printed in columns.items():
        assert 100 * mineral.read.mass_fractions.get(symbol, 0.0) == near(printed, 3), symbol


GASES = {
    "SO2": "SO2", "SO3": "SO3", "As2O3": "As4O6", "CO2": "CO2", "H2O": "H2O", "SeO2": "SeO2", "Hg": "Hg",
    "O2_released": "O2",
}  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_the_perfect_roast_follows_from_the_composition(name: str) -> None:
    row, left = table()[name], roasted(minerals()[name])
    assert 100 * (left.mass - 1.0) == near(row["dmass_pct_dead_roast"], 3)
    assert 100 * left.oxygen == near(row["O2_demand_g_per_100g"], 3)
    for title, species in GASES.items():
        assert 100 * left.gases.get(species, 0.0) == near(row[f"{title}_g_per_100g"], 3), species
    assert 100 * minerals()[name].read.mass_fractions.get("S", 0.0) == near(row["S_pct"], 3)


@pytest.mark.parametrize("name", NAMES)
def test_the_solids_of_the_roast_hold_the_same_elements_as_the_table_s(name: str) -> None:
    text = table()[name]["solid_products_g_per_100g"]
    theirs = elements({s.split()[0]: float(s.split()[1]) for s in text.split("; ") if s})
    ours = elements({species: 100 * grams for species, grams in roasted(minerals()[name]).solids.items()})
    assert ours == pytest.approx(theirs, abs=0.02)


@pytest.mark.parametrize("name", NAMES)
def test_the_roast_keeps_every_element(name: str) -> None:
    mineral, left = minerals()[name], roasted(minerals()[name])
    before = dict(mineral.read.mass_fractions)
    before["O"] = before.get("O", 0.0) + left.oxygen
    after = elements({**left.solids})
    for symbol, grams in elements({**left.gases}).items():
        after[symbol] = after.get(symbol, 0.0) + grams
    assert after == pytest.approx({s: g for s, g in before.items() if g > 0.0}, abs=1e-12)
    assert 1.0 + left.oxygen == pytest.approx(left.mass + sum(left.gases.values()), abs=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_the_printed_reaction_is_balanced(name: str) -> None:
    text = table()[name]["roast_reaction"]
    if text == "unchanged":
        assert roasted(minerals()[name]).mass == pytest.approx(1.0, abs=1e-12)
        return
    left, right = ({}, {})
    for side, total in zip(text.split(" = "), (left, right), strict=True):
        for term in side.split(" + "):
            count, species = re.fullmatch(r"(\d[\d.]* )?(\S+?)(?:\(g\))?", term).groups()  # type: ignore[union-attr]
            for symbol, n in formula(species).atoms.items():
                total[symbol] = total.get(symbol, 0.0) + float(count or 1) * n
    assert left == pytest.approx(right, rel=2e-3)  # one reaction is printed with rounded fractions


@pytest.mark.parametrize("name", NAMES)
def test_slag_oxides_follow_from_the_composition(name: str) -> None:
    row, brought = table()[name], pot.calcined(minerals()[name])
    masses = dict(zip(oxides.OXIDES, oxides.grams(brought.slag), strict=True))
    masses["CaO"] += float(brought.slag[oxides.INDEX["CaF2"]]) * oxides.MASS[oxides.INDEX["CaO"]]
    chloride = brought.apart.get("PbCl2", 0.0) / formula("PbCl2").mass
    masses["PbO"] += chloride * oxides.MASS[oxides.INDEX["PbO"]]
    for title, printed in row.items():
        if title.startswith("slag_"):
            oxide = title.removeprefix("slag_").removesuffix("_g_per_100g")
            assert 100 * masses[oxide] == near(printed, 2), oxide


@pytest.mark.parametrize("stage", ["raw", "calcined"])
@pytest.mark.parametrize("name", NAMES)
def test_the_pot_keeps_every_element(name: str, stage: str) -> None:
    mineral = minerals()[name]
    brought = getattr(pot, stage)(mineral)
    solids = {mineral.formula: 1.0} if stage == "raw" else dict(roasted(mineral).solids)
    before = elements(solids)
    before["O"] = before.get("O", 0.0) + brought.oxygen
    after = elements({**brought.apart})
    for part in (brought.metal, brought.gases):
        for symbol, grams in elements({**part}).items():
            after[symbol] = after.get(symbol, 0.0) + grams
    for symbol, n in zip(oxides.OXIDES, brought.slag, strict=True):
        atoms = {"F": 1.0, "O": -0.5} if symbol == "F" else formula(symbol).atoms
        for element, count in atoms.items():
            after[element] = after.get(element, 0.0) + float(n) * count * atomic_mass(element)
    for symbol in before.keys() | after.keys():
        assert after.get(symbol, 0.0) == pytest.approx(before.get(symbol, 0.0), abs=1e-12), symbol


def test_a_batch_of_pyrite_galena_and_quartz_roasts_to_the_printed_mass() -> None:
    """40 g pyrite, 30 g galena, 30 g quartz leave 84.61 g and give 50.75 g SO2: worked out apart from the program."""
    shares = {"Pyrite": 40.0, "Galena": 30.0, "Quartz": 30.0}
    left = {name: roasted(minerals()[name]) for name in shares}
    assert sum(g * left[name].mass for name, g in shares.items()) == pytest.approx(84.61, abs=0.005)
    assert sum(g * left[name].gases.get("SO2", 0.0) for name, g in shares.items()) == pytest.approx(50.75, abs=0.005)
