"""What a flux component is, as a plain value; `fluxes` derives what it yields."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class ByFormula:
    """A pure compound (times the component's purity), e.g. "Na2B4O7·10H2O"."""

    formula: str


@dataclass(frozen=True, slots=True)
class ByAnalysis:
    """Oxides as analysed [mass %]; what is missing from 100 % is loss on heating (`loss` names the gas)."""

    oxides: tuple[tuple[str, float], ...]
    loss: Literal["H2O", "CO2", ""] = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a mixed flux: another component and its share [mass parts], known or as a range."""

    flux: str
    likely: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class ByParts:
    """A jar of mixed flux: parts of other components."""

    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Component:
    """One flux on the shelf.

    Densities [g/cm3] of the powder as poured and as tapped; `lead_power` [g Pb per g] is positive for a reducer and
    negative for an oxidiser; `swell` is the swell factor E [-]; `price` [money/kg]; `stock` [g], None when not counted.
    `tags` hold trade facts that rules ask for: "hydrated", "gas-former", "fluoride", "lead", "nitrate", "reducer",
    "oxidiser", "chloride", "iron", "forbidden".
    """

    uid: str
    name: str
    made_of: ByFormula | ByAnalysis | ByParts
    form: str = ""
    purity: float = 0.97
    purity_range: float = 0.03
    loose_density: float = 1.0
    tapped_density: float = 1.0
    lead_power: float = 0.0
    lead_power_range: tuple[float, float] | None = None
    swell: float = 1.1
    price: float | None = None
    stock: float | None = None
    tags: frozenset[str] = frozenset()
    source: str = ""
