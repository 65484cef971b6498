"""Five charges constructed from the rules of the trade and worked out by hand, apart from the program.

A US assay ton (29.1667 g) or half of one; silica, alumina and the rest from the stated analysis. All iron ferrous.
"""

import pytest

from fluxlab.fusion.button import flour_for_button, litharge_for, nitre_for_excess, power_by_trial
from fluxlab.fusion.currency import oxygen_to_oxidise, theoretical_power
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.gas import gas_rows
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.materials.fluxes import yields
from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import ACID_OXYGENS, BASE_OXYGENS, INDEX, MASS, Vec, from_masses
from fluxlab.materials.substance import products
from fluxlab.materials.yield_types import Gas
from fluxlab.slag.degree import DegreeConvention, degree, degree_coefficients

ASSAY_TON = 29.1667


def brings(substance: str, grams: float) -> Vec:
    found = formula(substance)
    return grams / found.mass * products(found).oxides


def amount(flux: str, charge: Vec, wanted: float, convention: DegreeConvention) -> float:
    """Flux [g] that brings a charge to a degree, negative where there is too much already."""
    acid, base = degree_coefficients(convention)
    one = brings(flux, 1.0)
    grams = (wanted * float(base @ charge) - float(acid @ charge)) / (float(acid @ one) - wanted * float(base @ one))
    assert degree(charge + grams * one, convention) == pytest.approx(wanted)
    return grams


def gases(substance: str) -> tuple[Gas, ...]:
    return yields(Component("x", "X", ByFormula(substance), purity=1.0, purity_range=0.0), lambda uid: None).gases


class TestSiliceousOre:
    """SiO2 85, Al2O3 5, Fe2O3 4, CaO 3, MgO 1 %; PbO left 20 g, button 28 g, flour of 11; borax glass not counted."""

    ferric = 0.04 * ASSAY_TON
    charge = from_masses(
        {
            "SiO2": 0.85 * ASSAY_TON,
            "Al2O3": 0.05 * ASSAY_TON,
            "FeO": ferric * 2.0 * MASS[INDEX["FeO"]] / MASS[INDEX["Fe2O3"]],
            "CaO": 0.03 * ASSAY_TON,
            "MgO": 0.01 * ASSAY_TON,
            "PbO": 20.0,
        }
    )

    def test_oxygen_sums(self) -> None:
        assert float(ACID_OXYGENS @ self.charge) == pytest.approx(0.8252, abs=0.0001)
        assert float(BASE_OXYGENS @ self.charge) == pytest.approx(0.1271, abs=0.0001)
        assert 3.0 * self.charge[INDEX["Al2O3"]] == pytest.approx(0.0429, abs=0.0001)

    @pytest.mark.parametrize(("wanted", "flux", "printed"), [
        (2.0, "Na2CO3", (25.7, 30.3, 32.5)),
        (2.0, "NaHCO3", (40.8, 48.0, 51.6)),
        (1.5, "Na2CO3", (40.3, 44.8, 47.9)),
    ])  # fmt: skip
    def test_soda_by_what_alumina_counts_as(self, wanted: float, flux: str, printed: tuple[float, ...]) -> None:
        conventions: tuple[DegreeConvention, ...] = ("SBA base", "SB", "SBA acid")
        for convention, grams in zip(conventions, printed, strict=True):
            assert amount(flux, self.charge, wanted, convention) == pytest.approx(grams, abs=0.06)

    def test_litharge_and_flour(self) -> None:
        assert litharge_for(28.0, 20.0) == pytest.approx(50.2, abs=0.05)
        kept_up = self.ferric * theoretical_power("Fe2O3", 1.0)
        assert flour_for_button(28.0, kept_up, 11.0) == pytest.approx(2.68, abs=0.006)


class TestLimestoneOre:
    """CaCO3 70, SiO2 20, Fe2O3 5, MgCO3 5 %; soda ash 30, PbO left 20, button 28."""

    ferric = 0.05 * ASSAY_TON
    charge = (
        brings("CaCO3", 0.70 * ASSAY_TON)
        + brings("SiO2", 0.20 * ASSAY_TON)
        + from_masses({"FeO": ferric * 2.0 * MASS[INDEX["FeO"]] / MASS[INDEX["Fe2O3"]]})
        + brings("MgCO3", 0.05 * ASSAY_TON)
        + brings("Na2CO3", 30.0)
        + brings("PbO", 20.0)
    )

    def test_bases(self) -> None:
        for symbol, oxygen in (("CaO", 0.2040), ("MgO", 0.0173), ("FeO", 0.0183), ("Na2O", 0.2831), ("PbO", 0.0896)):
            assert self.charge[INDEX[symbol]] == pytest.approx(oxygen, abs=0.0001)
        assert float(BASE_OXYGENS @ self.charge) == pytest.approx(0.6122, abs=0.0003)

    @pytest.mark.parametrize(
        ("wanted", "plain", "with_borax"), [(1.0, 12.6, 5.1), (1.5, 21.8, 15.0), (2.0, 31.0, 25.0)]
    )
    def test_silica_to_add(self, wanted: float, plain: float, with_borax: float) -> None:
        assert amount("SiO2", self.charge, wanted, "SB") == pytest.approx(plain, abs=0.06)
        borax = self.charge + brings("Na2B4O7", 10.0)
        assert amount("SiO2", borax, wanted, "SB") == pytest.approx(with_borax, abs=0.06)

    def test_flour_litharge_and_gas(self) -> None:
        kept_up = self.ferric * theoretical_power("Fe2O3", 1.0)
        assert flour_for_button(28.0, kept_up, 11.0) == pytest.approx(2.72, abs=0.006)
        assert litharge_for(28.0, 20.0) == pytest.approx(50.2, abs=0.05)
        ore = gas_rows(
            [("calcite", 0.70 * ASSAY_TON, gases("CaCO3")), ("magnesite", 0.05 * ASSAY_TON, gases("MgCO3"))], 1000.0
        )
        soda = gas_rows([("soda ash", 30.0, gases("Na2CO3"))], 1000.0)
        assert sum(row.grams for row in ore) == pytest.approx(9.7, abs=0.06)
        assert sum(row.grams for row in soda) == pytest.approx(12.5, abs=0.06)


class TestManganeseOre:
    """Half an assay ton: MnO2 50, Fe2O3 10, SiO2 30, Al2O3 5 %; soda ash 15, PbO left 15, button 25; flour of 11."""

    ore = ASSAY_TON / 2.0
    charge = (
        brings("MnO2", 0.50 * ore)
        + from_masses({"FeO": 0.10 * ore * 2.0 * MASS[INDEX["FeO"]] / MASS[INDEX["Fe2O3"]]})
        + brings("SiO2", 0.30 * ore)
        + brings("Al2O3", 0.05 * ore)
        + brings("Na2CO3", 15.0)
        + brings("PbO", 15.0)
    )

    def test_oxidising_power_flour_and_litharge(self) -> None:
        kept_up = 0.50 * self.ore * theoretical_power("MnO2", 1.0) + 0.10 * self.ore * theoretical_power("Fe2O3", 1.0)
        assert kept_up == pytest.approx(19.3, abs=0.06)
        assert flour_for_button(25.0, kept_up, 11.0) == pytest.approx(4.02, abs=0.006)
        assert litharge_for(25.0, 15.0) == pytest.approx(41.9, abs=0.05)

    def test_bases(self) -> None:
        assert float(BASE_OXYGENS @ self.charge) == pytest.approx(0.3109, abs=0.0002)

    @pytest.mark.parametrize(("wanted", "silica"), [(1.0, 5.0), (1.25, 7.3), (1.5, 9.6)])
    def test_silica_to_add(self, wanted: float, silica: float) -> None:
        assert amount("SiO2", self.charge, wanted, "SB") == pytest.approx(silica, abs=0.06)


class TestNitreMethod:
    """3 g of ore gave 21.0 g of lead; charge half an assay ton, button 28 g."""

    excess = power_by_trial(21.0, 3.0) * 14.58

    @pytest.mark.parametrize(("power", "nitre"), [(4.0, 18.5), (4.2, 17.6), (5.12, 14.5)])
    def test_nitre(self, power: float, nitre: float) -> None:
        assert self.excess == pytest.approx(102.1, abs=0.05)
        assert nitre_for_excess(self.excess, 28.0, power) == pytest.approx(nitre, abs=0.06)

    def test_its_potash_wants_silica(self) -> None:
        potash = brings("KNO3", 17.6)
        assert float(BASE_OXYGENS @ potash) == pytest.approx(0.0872, abs=0.0003)
        assert amount("SiO2", potash, 2.0, "S") == pytest.approx(5.2, abs=0.06)


class TestZincPrecipitate:
    """Zn 20, Fe 2, Cu 3 as metal, Pb 8 (to the metal), SiO2 7, CaO 5 %, rest gold and silver; oxidised with MnO2."""

    metals = (("Zn", 20.0), ("Fe", 2.0), ("Cu", 3.0))
    dioxide = oxygen_to_oxidise(metals) / oxygen_demand("MnO2")
    charge = (
        brings("Zn", 20.0)
        + brings("Fe", 2.0)
        + brings("Cu", 3.0)
        + brings("SiO2", 7.0)
        + brings("CaO", 5.0)
        + brings("MnO2", dioxide)
    )

    def test_oxidiser(self) -> None:
        parts = [oxygen_to_oxidise([each]) / oxygen_demand("MnO2") for each in self.metals]
        assert parts == pytest.approx([26.6, 3.1, 2.05], abs=0.06)
        assert self.dioxide == pytest.approx(31.8, abs=0.06)
        nitre = oxygen_to_oxidise(self.metals) / oxygen_demand("KNO3")
        assert nitre == pytest.approx(14.8, abs=0.06)
        assert nitre / 0.8 == pytest.approx(18.5, abs=0.06)

    def test_bases(self) -> None:
        for symbol, oxygen in (
            ("ZnO", 0.3059),
            ("FeO", 0.0358),
            ("Cu2O", 0.0236),
            ("MnO", 0.3653),
            ("CaO", 0.0892),
        ):
            assert self.charge[INDEX[symbol]] == pytest.approx(oxygen, abs=0.0003)
        assert float(BASE_OXYGENS @ self.charge) == pytest.approx(0.8198, abs=0.0005)

    @pytest.mark.parametrize(
        ("borax_glass", "mono", "sesqui"), [(0.0, 17.6, 29.9), (20.0, 2.7, 16.5), (30.0, -4.8, 9.8)]
    )
    def test_silica_to_add(self, borax_glass: float, mono: float, sesqui: float) -> None:
        charge = self.charge + brings("Na2B4O7", borax_glass)
        assert amount("SiO2", charge, 1.0, "SB") == pytest.approx(mono, abs=0.06)
        assert amount("SiO2", charge, 1.5, "SB") == pytest.approx(sesqui, abs=0.06)
