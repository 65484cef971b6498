"""The minerals: formula, density and what the roast does to each, from resources/minerals.csv."""

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from fluxlab import resources
from fluxlab.materials.formulas import Formula, formula


@dataclass(frozen=True, slots=True)
class Mineral:
    """A mineral, or a plain oxide or element of an assay that stands for one.

    `density` [g/cm3], None where it is not known. `roast` is "" where the roast follows from the elements, "unchanged",
    or "dries" (loses its water only).
    """

    name: str
    formula: str
    density: float | None = None
    density_source: str = ""
    roast: str = ""
    note: str = ""

    @property
    def read(self) -> Formula:
        """The formula as read: atoms [mol/mol], molar mass [g/mol], mass fractions [g/g]."""
        return formula(self.formula)


@cache
def minerals() -> MappingProxyType[str, Mineral]:
    """All minerals by name, in the order of the table: silver first, then gold, copper, lead and so on."""
    return MappingProxyType({row["name"]: _mineral(row) for row in resources.table("minerals.csv")})


def holding(element: str) -> tuple[Mineral, ...]:
    """The minerals that hold an element, richest first."""
    rich = [m for m in minerals().values() if element in m.read.atoms]
    return tuple(sorted(rich, key=lambda m: -m.read.mass_fractions[element]))


def stand_in(text: str) -> Mineral:
    """A plain oxide or element of an assay as a mineral of that formula, its density not known."""
    return Mineral(text, text)


def _mineral(row: dict[str, str]) -> Mineral:
    return Mineral(row["name"], row["formula"], float(row["density"]), row["density_source"], row["roast"], row["note"])
