"""What the report says of the melt as a liquid; nothing here computes, and nothing needs numpy."""

from dataclasses import dataclass
from typing import Literal

from fluxlab.issue import Issue

Confidence = Literal["usual", "low", "none"]


@dataclass(frozen=True, slots=True)
class Likely:
    """A prediction with its even-odds and nine-in-ten ranges, in the unit its owner states."""

    value: float
    low50: float
    high50: float
    low90: float
    high90: float


@dataclass(frozen=True, slots=True)
class Opinion:
    """What one equation says alone: its name, its share of the answer [0..1], viscosities [Pa s] along the curve."""

    name: str
    weight: float
    viscosity: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FluidCurve:
    """Viscosity over temperature [degC]: one `Likely` [Pa s] per temperature, and the opinions where they differ."""

    temperatures: tuple[float, ...]
    viscosity: tuple[Likely, ...]
    opinions: tuple[Opinion, ...]


@dataclass(frozen=True, slots=True)
class Crystal:
    """Crystals that are likely below a temperature between `low` and `high` [degC], and what says so."""

    name: str
    low: float
    high: float
    sentence: str
    judgement: bool
    source: str


@dataclass(frozen=True, slots=True)
class Move:
    """What one part more of a flux or an oxide to a hundred parts of slag changes.

    `degree` and `basicity` [-] are changes of the ratios, None where those are undefined; `viscosity` is the change of
    log10 of the viscosity at the pour, None where that is not known.
    """

    name: str
    kind: Literal["flux", "oxide"]
    degree: float | None
    basicity: float | None
    viscosity: float | None


@dataclass(frozen=True, slots=True)
class FluidReport:
    """The melt as a liquid.

    `curve` is None where no viscosity can be told. `at_pour` [Pa s] holds at `pour` [degC]; `below_floor` says that it
    lies under what was ever measured, so that only "< `floor`" may be shown. `limit` [Pa s] is the thickest that the
    recipe's target allows. `chance` [0..1] is the chance that the melt is thinner than the limit at the pour, by the
    error of the prediction alone. `pour_wanted`, `leaves_pot`, `liquidus` and `melt_free` [degC] are the temperatures
    for the wanted fluidity, for 10 Pa s, where the last crystal goes (advisory), and the larger of the last two.
    `density` [g/cm3], `surface_tension` [mN/m] and `heat` [kJ, from 25 degC to the pour] are those of the slag.
    """

    pour: float
    limit: float | None
    floor: float
    curve: FluidCurve | None
    at_pour: Likely | None
    below_floor: bool
    chance: float | None
    confidence: Confidence
    pour_wanted: Likely | None
    leaves_pot: Likely | None
    liquidus: Likely | None
    melt_free: Likely | None
    density: Likely | None
    surface_tension: Likely | None
    heat: Likely | None
    crystals: tuple[Crystal, ...]
    moves: tuple[Move, ...]
    issues: tuple[Issue, ...]
    sources: tuple[str, ...]
