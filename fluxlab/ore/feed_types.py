"""The material in the pot, as a plain value."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluxlab.issue import Issue
from fluxlab.materials.oxides import Vec
from fluxlab.ore.mix_types import Explained
from fluxlab.ore.ore_types import Stage
from fluxlab.ore.roast_types import Programme, RoastFigures


@dataclass(frozen=True, slots=True)
class FeedMineral:
    """One mineral of the described dry material: share with its range [mass %] and mass behind this charge [g]."""

    name: str
    formula: str
    likely: float
    low: float
    high: float
    grams: float
    flag: str


@dataclass(frozen=True, slots=True)
class RoastBalance:
    """The roast behind this charge [g]; `gases` by formula, `change` of mass [%] with its range by the mineral shares.

    Where a roast explains the weights, `raw` and `change` are as weighed, the range by the error of the weighing. The
    `solids` are what the reckoned state makes of the raw material, so that raw + oxygen = solids + gases.
    `figures` are what it leaves with the ranges of the roast itself, `programme` its steps and warnings.
    """

    raw: float
    calcine: float
    oxygen: float
    gases: Mapping[str, float]
    solids: Mapping[str, float]
    change: float
    change_low: float
    change_high: float
    figures: RoastFigures
    programme: Programme


@dataclass(frozen=True, slots=True)
class Feed:
    """What goes into the pot, for the charge as weighed.

    `charge` [g] as weighed, `dry` [g] of it, `water` [g]; `raw` [g] is the dry raw material behind it and
    `raw_as_weighed` [g] the same with its moisture (both equal the charge where nothing is roasted).
    `oxides` [mol] are the slag oxides, iron split by the ferric share; `percent`, `low` and `high` are their shares of
    the dry charge [mass %]. `apart` [g] is what the slag model does not hold, `metal` [g] native or freed silver and
    gold, `gases` [g] given off and `oxygen` [g] taken up in the fusion, `unnamed` [g] what an assay leaves out, so that
    dry + oxygen = oxides + apart + metal + gases + unnamed.
    `elements` [g] are in the pot and `raw_elements` [g] in the raw material behind it, oxygen aside.
    `sulphide` [g] is the mass of sulphides and arsenides in the pot, `sulphide_sulphur` [g] their sulphur,
    `carbonate` [g] the mass of carbonates in the pot.
    `reducible` [g] are the oxides and sulphates that a reducer can act on, as they go in; `fuel` [g], by formula, is
    what is not burnt and holds no oxygen: sulphides above all.
    Densities [g/cm3]; `bulk_known` says that the bulk density was measured. Grades [g/t] are of the dry charge, None
    where the laboratory gave none.
    """

    stage: Stage
    charge: float
    dry: float
    water: float
    raw: float
    raw_as_weighed: float
    minerals: tuple[FeedMineral, ...]
    oxides: Vec
    percent: Vec
    low: Vec
    high: Vec
    apart: Mapping[str, float]
    metal: Mapping[str, float]
    gases: Mapping[str, float]
    oxygen: float
    unnamed: float
    elements: Mapping[str, float]
    raw_elements: Mapping[str, float]
    earthy_gangue: float
    sulphide: float
    sulphide_sulphur: float
    carbonate: float
    reducible: Mapping[str, float]
    fuel: Mapping[str, float]
    solid_density: float
    bulk_density: float
    bulk_known: bool
    silver_grade: float | None
    gold_grade: float | None
    residual_percent: float | None
    explained: tuple[Explained, ...]
    roast: RoastBalance | None
    issues: tuple[Issue, ...]

    @property
    def silver(self) -> float:
        """Silver in the pot [g], that of halides included."""
        return self.elements.get("Ag", 0.0)

    @property
    def gold(self) -> float:
        """Gold in the pot [g]."""
        return self.elements.get("Au", 0.0)

    @property
    def lead(self) -> float:
        """Lead in the pot [g]."""
        return self.elements.get("Pb", 0.0)

    @property
    def copper(self) -> float:
        """Copper in the pot [g]."""
        return self.elements.get("Cu", 0.0)

    @property
    def sulphur(self) -> float:
        """Sulphur in the pot [g], that of sulphates included."""
        return self.elements.get("S", 0.0)

    @property
    def arsenic(self) -> float:
        """Arsenic in the pot [g]."""
        return self.elements.get("As", 0.0)

    @property
    def antimony(self) -> float:
        """Antimony in the pot [g]."""
        return self.elements.get("Sb", 0.0)
