"""The 26 litharge fusions of C. and J. J. Beringer, A Text-Book of Assaying, 9th ed., Griffin, London 1904, p. 97.

Each with litharge 80, soda 20, borax 5 g. The book's soda is bicarbonate and its borax crystals.
"""

from dataclasses import dataclass

from fluxlab.fusion.litharge import LithargeFusion, litharge_fusion
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import NitreConstants, nitrate_alkali
from fluxlab.fusion.sulphate import SulphateConstants
from fluxlab.materials.formulas import formula

LITHARGE, SODA, BORAX = 80.0, 20.0, 5.0
_SODA, _BORAX = formula("NaHCO3").mass, formula("Na2B4O7·10H2O").mass
_QUARTZ = formula("SiO2").mass


@dataclass(frozen=True, slots=True)
class Fusion:
    """One fusion: sulphide, quartz, nitre and lead button [g]."""

    mineral: str
    sulphide: float
    quartz: float
    nitre: float
    lead: float


_ROWS = {
    "FeS2": [(4, 0, 0, 46.5), (4, 15, 0, 40.5), (4, 0, 5, 25.5), (4, 15, 5, 24.5), (7, 13, 12.5, 27.0),
             (10, 10, 20, 26.5)],
    "CuFeS2": [(5, 0, 0, 44.5), (5, 15, 0, 32.5), (5, 0, 5, 23.0), (5, 15, 5, 25.0)],
    "ZnS": [(5, 0, 0, 41.5), (5, 15, 0, 38.5), (5, 0, 5, 21.5), (5, 15, 5, 22.5), (10, 10, 15, 21.6)],
    "Sb2S3": [(5, 0, 0, 31.0), (5, 15, 0, 32.5), (5, 0, 5, 11.5), (5, 15, 5, 12.5), (10, 10, 10, 18.7)],
    "PbS": [(10, 0, 0, 33.5), (10, 15, 0, 33.5), (10, 0, 5, 13.0), (10, 15, 5, 14.0), (15, 5, 7.5, 19.5),
            (20, 0, 11, 22.7)],
}  # fmt: skip
FUSIONS = tuple(Fusion(mineral, *row) for mineral, rows in _ROWS.items() for row in rows)
MINERALS = tuple(_ROWS)


def melt(quartz: float, nitre: float = 0.0, soda: float = SODA, borax: float = BORAX, ash: bool = False) -> Melt:
    """Alkali and acid of a charge [mol] from its weights [g]; `ash` takes the soda as carbonate."""
    alkali = soda / formula("Na2CO3").mass if ash else soda / _SODA / 2.0
    alkali += borax / _BORAX + nitrate_alkali({"KNO3": nitre})
    return Melt(alkali, quartz / _QUARTZ + 2.0 * borax / _BORAX)


def fuse(
    fusion: Fusion, sulphate_set: SulphateConstants | None = None, nitre_set: NitreConstants | None = None
) -> LithargeFusion:
    """The fusion by the model [g Pb]."""
    return litharge_fusion(
        {fusion.mineral: fusion.sulphide},
        melt(fusion.quartz, fusion.nitre),
        LITHARGE,
        {"KNO3": fusion.nitre},
        sulphate_set=sulphate_set,
        nitre_set=nitre_set,
    )
