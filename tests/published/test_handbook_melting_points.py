"""Melting points of simple silicates and borates against the liquidus, which is advice only.

F. C. Kracek, J. Phys. Chem. 34 (1930), system Na2O-SiO2, numbers by way of a digest.
E. Bastarache, table of boron eutectics (a secondary list).
CRC Handbook of Chemistry and Physics, physical constants of inorganic compounds, as carried by the package chemicals
(Caleb Bell): asked afresh in the test.
Values marked "from memory" were not looked up.
No composition is left out. Compounds of two oxides lie at the edge of what the planes were fitted to or beyond it.
"""

from dataclasses import dataclass

import numpy as np
import pytest
from chemicals import Tm
from scipy.stats import spearmanr

from fluxlab.materials.oxides import vector
from fluxlab.slag.liquidus import liquidus

KRACEK = "Kracek 1930"
BASTARACHE = "Bastarache"
CRC = "CRC Handbook"
MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Melts:
    """A composition [mol], the temperature at which it is all liquid [degC] and who says so."""

    moles: dict[str, float]
    at: float
    who: str
    cas: str = ""


POINTS = {
    "Na2SiO3": Melts({"Na2O": 1, "SiO2": 1}, 1089, KRACEK, "6834-92-0"),
    "Na2Si2O5": Melts({"Na2O": 1, "SiO2": 2}, 874, KRACEK),
    "Na4SiO4": Melts({"Na2O": 2, "SiO2": 1}, 1118, KRACEK),
    "Na6Si8O19": Melts({"Na2O": 3, "SiO2": 8}, 808, "Science 1965"),
    "K2SiO3": Melts({"K2O": 1, "SiO2": 1}, 976, MEMORY),
    "PbSiO3": Melts({"PbO": 1, "SiO2": 1}, 764, CRC, "10099-76-0"),
    "Pb2SiO4": Melts({"PbO": 2, "SiO2": 1}, 743, CRC, "13566-17-1"),
    "fayalite": Melts({"FeO": 2, "SiO2": 1}, 1205, MEMORY),
    "CaSiO3": Melts({"CaO": 1, "SiO2": 1}, 1544, CRC, "1344-95-2"),
    "Ca2SiO4": Melts({"CaO": 2, "SiO2": 1}, 2130, MEMORY),
    "MgSiO3": Melts({"MgO": 1, "SiO2": 1}, 1557, MEMORY),
    "Mg2SiO4": Melts({"MgO": 2, "SiO2": 1}, 1890, MEMORY),
    "MnSiO3": Melts({"MnO": 1, "SiO2": 1}, 1291, CRC, "7759-00-4"),
    "Mn2SiO4": Melts({"MnO": 2, "SiO2": 1}, 1345, MEMORY),
    "Zn2SiO4": Melts({"ZnO": 2, "SiO2": 1}, 1512, CRC, "13597-65-4"),
    "borax": Melts({"Na2O": 1, "B2O3": 2}, 741, BASTARACHE, "1330-43-4"),
    "NaBO2": Melts({"Na2O": 1, "B2O3": 1}, 965, BASTARACHE, "7775-19-1"),
    "Na2O 1.29 B2O3 0.78 SiO2": Melts({"Na2O": 1, "B2O3": 1.29, "SiO2": 0.78}, 790, BASTARACHE),
    "Na2SiO3 1.52 Na2B2O4": Melts({"Na2O": 2.52, "B2O3": 1.52, "SiO2": 1}, 815, BASTARACHE),
    "4 PbO B2O3": Melts({"PbO": 4, "B2O3": 1}, 565, BASTARACHE),
    "2.3 PbO B2O3": Melts({"PbO": 2.3, "B2O3": 1}, 493, BASTARACHE),
    "2 PbO B2O3": Melts({"PbO": 2, "B2O3": 1}, 497, BASTARACHE),
    "5 PbO 4 B2O3": Melts({"PbO": 5, "B2O3": 4}, 548, BASTARACHE),
    "PbO 2 B2O3": Melts({"PbO": 1, "B2O3": 2}, 768, BASTARACHE),
    "CdO B2O3": Melts({"CdO": 1, "B2O3": 1}, 875, BASTARACHE),
    "3 Cu2O 2 B2O3": Melts({"Cu2O": 3, "B2O3": 2}, 975, BASTARACHE + ", middle of 950 to 1000"),
    "CuO B2O3": Melts({"Cu2O": 0.5, "B2O3": 1}, 980, BASTARACHE + ", taken as cuprous"),
}
OUTSIDE = {"Ca2SiO4", "Mg2SiO4"}
"""All that may lie outside the stated nine-in-ten range: orthosilicates far beyond any slag of this trade."""
LEAD_BORATES = ("4 PbO B2O3", "2.3 PbO B2O3", "2 PbO B2O3", "5 PbO 4 B2O3")


@pytest.fixture(scope="module")
def told() -> dict[str, tuple[float, bool]]:
    """Advised temperature less the published [degC], and whether the published lies in the nine-in-ten range."""
    found = {name: liquidus(vector(point.moles)) for name, point in POINTS.items()}
    return {
        name: (float(each.value) - POINTS[name].at, bool(each.low90 <= POINTS[name].at <= each.high90))
        for name, each in found.items()
    }


def test_misses_are_those_of_the_advice_at_large(told: dict[str, tuple[float, bool]]):
    for name, (miss, inside) in told.items():
        print(f"{name:26s} {POINTS[name].at:6.0f} {miss:+5.0f} {'' if inside else 'outside'} ({POINTS[name].who})")
    misses = np.array([miss for miss, _ in told.values()])
    print(f"n {misses.size}, median miss {np.median(np.abs(misses)):.0f} degC, bias {np.median(misses):+.0f} degC")
    # 57 to 65 on measured melts of papers left out; compounds are harder
    assert np.median(np.abs(misses)) <= 80.0


def test_only_lime_and_magnesia_orthosilicates_lie_outside_the_stated_range(told: dict[str, tuple[float, bool]]):
    assert {name for name, (_, inside) in told.items() if not inside} <= OUTSIDE


def test_compounds_melt_in_about_the_published_order(told: dict[str, tuple[float, bool]]):
    published = [POINTS[name].at for name in told]
    assert spearmanr(published, [POINTS[name].at + miss for name, (miss, _) in told.items()]).statistic >= 0.85


def test_the_low_melting_lead_borates_are_told_a_hundred_degrees_and_more_too_high(told: dict[str, tuple[float, bool]]):
    # a known miss, on the careful side
    assert all(told[name][0] > 100.0 for name in LEAD_BORATES)


def test_borax_fayalite_and_zinc_silicate_melt_in_that_order(told: dict[str, tuple[float, bool]]):
    borax, fayalite, willemite = (POINTS[n].at + told[n][0] for n in ("borax", "fayalite", "Zn2SiO4"))
    assert borax < fayalite < willemite


@pytest.mark.parametrize("name", [name for name, point in POINTS.items() if point.cas])
def test_the_tabled_melting_point_is_that_of_the_crc_handbook(name: str):
    tabled = Tm(POINTS[name].cas, method="CRC_INORG")
    assert tabled is not None
    assert tabled - 273.15 == pytest.approx(POINTS[name].at, abs=5.0)
