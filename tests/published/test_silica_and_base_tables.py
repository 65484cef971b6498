"""Silica per base, base per silica and borax per base, against masses from an independent chemistry library.

The independent side is molmass (Christoph Gohlke), which carries its own table of atomic weights; the printed figures
are the usual assay tables, worked out anew from IUPAC abridged atomic weights. Texts print the same figures: FeO .42
and .84, CaO .54 and 1.07, MgO .75 and 1.49, ZnO .37 and .74 for mono- and bisilicate (from memory, authors not seen);
FeO to SiO2 as 144 to 60 for the monosilicate (found in a secondary source).
"""

import pytest
from molmass import Formula as Molmass

from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import INDEX, MASS, Vec, split_iron
from fluxlab.materials.substance import products
from fluxlab.slag.degree import DegreeConvention, degree, degree_coefficients

DEGREES = (0.5, 1.0, 1.5, 2.0, 3.0)
SILICA = INDEX["SiO2"]

# base as weighed, oxygens it brings as base, its iron ferric or not, silica [g] for 1 g at each degree
SILICA_PER_BASE = [
    ("PbO", 1, 0, (0.067, 0.135, 0.202, 0.269, 0.404)),
    ("FeO", 1, 0, (0.209, 0.418, 0.627, 0.836, 1.254)),
    ("Fe2O3", 2, 0, (0.188, 0.376, 0.564, 0.753, 1.129)),
    ("Fe", 1, 0, (0.269, 0.538, 0.807, 1.076, 1.614)),
    ("CaO", 1, 0, (0.268, 0.536, 0.804, 1.071, 1.607)),
    ("CaCO3", 1, 0, (0.150, 0.300, 0.450, 0.600, 0.900)),
    ("MgO", 1, 0, (0.373, 0.745, 1.118, 1.491, 2.236)),
    ("MnO", 1, 0, (0.212, 0.423, 0.635, 0.847, 1.270)),
    ("MnO2", 1, 0, (0.173, 0.346, 0.518, 0.691, 1.037)),
    ("ZnO", 1, 0, (0.185, 0.369, 0.554, 0.738, 1.107)),
    ("Na2O", 1, 0, (0.242, 0.485, 0.727, 0.969, 1.454)),
    ("Na2CO3", 1, 0, (0.142, 0.283, 0.425, 0.567, 0.850)),
    ("NaHCO3", 0.5, 0, (0.089, 0.179, 0.268, 0.358, 0.536)),
    ("K2O", 1, 0, (0.159, 0.319, 0.478, 0.638, 0.957)),
    ("K2CO3", 1, 0, (0.109, 0.217, 0.326, 0.435, 0.652)),
    ("KNO3", 0.5, 0, (0.074, 0.149, 0.223, 0.297, 0.446)),
    ("NaNO3", 0.5, 0, (0.088, 0.177, 0.265, 0.353, 0.530)),
    ("BaO", 1, 0, (0.098, 0.196, 0.294, 0.392, 0.588)),
    ("Cu2O", 1, 0, (0.105, 0.210, 0.315, 0.420, 0.630)),
    ("Al2O3", 3, 0, (0.442, 0.884, 1.326, 1.768, 2.652)),
    ("Fe2O3", 3, 1, (0.282, 0.564, 0.847, 1.129, 1.693)),
]

BASE_PER_SILICA = [
    ("PbO", 1, (14.86, 7.430, 4.953, 3.715, 2.477)),
    ("FeO", 1, (4.783, 2.391, 1.594, 1.196, 0.797)),
    ("CaO", 1, (3.733, 1.867, 1.244, 0.933, 0.622)),
    ("CaCO3", 1, (6.663, 3.332, 2.221, 1.666, 1.111)),
    ("MgO", 1, (2.683, 1.342, 0.894, 0.671, 0.447)),
    ("MnO", 1, (4.723, 2.361, 1.574, 1.181, 0.787)),
    ("ZnO", 1, (5.418, 2.709, 1.806, 1.354, 0.903)),
    ("Na2O", 1, (4.126, 2.063, 1.375, 1.032, 0.688)),
    ("Na2CO3", 1, (7.056, 3.528, 2.352, 1.764, 1.176)),
    ("NaHCO3", 0.5, (11.19, 5.593, 3.728, 2.796, 1.864)),
    ("K2CO3", 1, (9.201, 4.600, 3.067, 2.300, 1.533)),
    ("Al2O3", 3, (2.263, 1.131, 0.754, 0.566, 0.377)),
]

# borax glass [g] for 1 g of base at degree 1, 1.5 and 2, boric oxide 3 O acid and its soda a base
BORAX_PER_BASE = [
    ("PbO", 1, (0.180, 0.300, 0.451)),
    ("FeO", 1, (0.560, 0.934, 1.400)),
    ("CaO", 1, (0.718, 1.196, 1.794)),
    ("MgO", 1, (0.998, 1.664, 2.496)),
    ("MnO", 1, (0.567, 0.946, 1.418)),
    ("ZnO", 1, (0.495, 0.824, 1.236)),
    ("Cu2O", 1, (0.281, 0.469, 0.703)),
    ("Al2O3", 3, (1.184, 1.973, 2.960)),
]


def one_gram(substance: str, ferric: float = 0.0) -> Vec:
    """The slag oxides of one gram [mol]."""
    found = formula(substance)
    return split_iron(products(found).oxides / found.mass, ferric)


def convention_for(substance: str) -> DegreeConvention:
    return "SBA base" if substance == "Al2O3" else "SB"


def silica_for(base: Vec, wanted: float, convention: DegreeConvention) -> float:
    """Silica [g] that brings a base to a degree, by the program's own coefficients."""
    acid, below = degree_coefficients(convention)
    moles = wanted * float(below @ base) / acid[SILICA]
    full = base.copy()
    full[SILICA] += moles
    assert degree(full, convention) == pytest.approx(wanted, rel=1e-12)
    return float(moles * MASS[SILICA])


@pytest.mark.parametrize(("base", "oxygens", "ferric", "printed"), SILICA_PER_BASE)
def test_silica_for_one_gram_of_base(base: str, oxygens: float, ferric: float, printed: tuple[float, ...]) -> None:
    for wanted, figure in zip(DEGREES, printed, strict=True):
        ours = silica_for(one_gram(base, ferric), wanted, convention_for(base))
        independent = wanted / 2.0 * oxygens * Molmass("SiO2").mass / Molmass(base).mass
        assert ours == pytest.approx(independent, rel=2e-4)
        assert ours == pytest.approx(figure, abs=0.00051)


def test_cupric_oxide_stands_in_the_slag_as_cuprous() -> None:
    """The assay table prints CuO as a base of one oxygen; in the pot it is Cu2O and asks for half the silica."""
    assert silica_for(one_gram("CuO"), 1.0, "SB") == pytest.approx(0.378 / 2.0, abs=0.0005)


@pytest.mark.parametrize(("base", "oxygens", "printed"), BASE_PER_SILICA)
def test_base_for_one_gram_of_silica(base: str, oxygens: float, printed: tuple[float, ...]) -> None:
    for wanted, figure in zip(DEGREES, printed, strict=True):
        ours = 1.0 / silica_for(one_gram(base), wanted, convention_for(base))
        independent = 2.0 / wanted / oxygens * Molmass(base).mass / Molmass("SiO2").mass
        assert ours == pytest.approx(independent, rel=2e-4)
        assert ours == pytest.approx(figure, abs=0.00051 if figure < 10 else 0.0051)


@pytest.mark.parametrize(("base", "oxygens", "printed"), BORAX_PER_BASE)
def test_borax_glass_for_one_gram_of_base(base: str, oxygens: float, printed: tuple[float, ...]) -> None:
    convention = convention_for(base)
    acid, below = degree_coefficients(convention)
    glass, oxide = one_gram("Na2B4O7"), one_gram(base)
    for wanted, figure in zip((1.0, 1.5, 2.0), printed, strict=True):
        grams = wanted * float(below @ oxide) / (float(acid @ glass) - wanted * float(below @ glass))
        assert degree(oxide + grams * glass, convention) == pytest.approx(wanted, rel=1e-12)
        moles_of_base_per_borax = 6.0 / wanted - 1.0
        independent = oxygens * Molmass("Na2B4O7").mass / Molmass(base).mass / moles_of_base_per_borax
        assert grams == pytest.approx(independent, rel=2e-4)
        assert grams == pytest.approx(figure, abs=0.00051)


@pytest.mark.parametrize(("crystals", "times"), [("Na2B4O7·10H2O", 1.895), ("Na2B4O7·5H2O", 1.448)])
def test_crystals_are_weighed_for_glass(crystals: str, times: float) -> None:
    borate = INDEX["B2O3"]
    assert one_gram("Na2B4O7")[borate] / one_gram(crystals)[borate] == pytest.approx(times, abs=0.0006)


@pytest.mark.parametrize(("wanted", "saved"), [(1.0, 0.747), (1.5, 0.672), (2.0, 0.597)])
def test_borax_glass_saves_silica_net_of_its_own_soda(wanted: float, saved: float) -> None:
    base = 5.0 * one_gram("FeO")
    plain = silica_for(base, wanted, "SB")
    acid, below = degree_coefficients("SB")
    with_glass = base + one_gram("Na2B4O7")
    moles = (wanted * float(below @ with_glass) - float(acid @ with_glass)) / acid[SILICA]
    assert plain - moles * MASS[SILICA] == pytest.approx(saved, abs=0.0006)


@pytest.mark.parametrize(("base", "percents"), [
    ("FeO", (17.3, 29.5, 38.5, 45.5, 55.6)),
    ("CaO", (21.1, 34.9, 44.6, 51.7, 61.6)),
    ("Na2O", (19.5, 32.6, 42.1, 49.2, 59.3)),
    ("PbO", (6.3, 11.9, 16.8, 21.2, 28.8)),
])  # fmt: skip
def test_silica_percent_of_the_named_silicates(base: str, percents: tuple[float, ...]) -> None:
    for wanted, percent in zip(DEGREES, percents, strict=True):
        silica = silica_for(one_gram(base), wanted, "S")
        assert 100.0 * silica / (1.0 + silica) == pytest.approx(percent, abs=0.06)


def test_ferrous_monosilicate_is_a_hundred_and_forty_four_to_sixty() -> None:
    assert silica_for(144.0 * one_gram("FeO"), 1.0, "S") == pytest.approx(60.0, abs=0.3)


@pytest.mark.parametrize(("sold_as", "lead_percent", "expected"), [
    ("PbO·2SiO2, the potter's bisilicate", 65.0, 4.0),
    ("2PbO·3SiO2, the potter's sesquisilicate", 71.2, 3.0),
    ("85/15 frit", 85.0, 1.3),
    ("PbO·SiO2, the smelter's bisilicate", 78.8, 2.0),
])  # fmt: skip
def test_potters_count_molecules_where_smelters_count_oxygen(
    sold_as: str, lead_percent: float, expected: float
) -> None:
    n = lead_percent * one_gram("PbO") + (100.0 - lead_percent) * one_gram("SiO2")
    assert degree(n, "S") == pytest.approx(expected, abs=0.02), sold_as
