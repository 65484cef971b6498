"""What the charts draw: plain values, worked out from a recipe and handed to the views."""

from dataclasses import dataclass
from typing import Literal

from fluxlab.design.report_types import Amount


@dataclass(frozen=True, slots=True)
class Band:
    """A likely range along a curve [same unit as the curve]: 1 in 2 and 9 in 10."""

    low50: tuple[float, ...]
    high50: tuple[float, ...]
    low90: tuple[float, ...]
    high90: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Fluidity:
    """Viscosity of the slag over temperature: `temperatures` [degC], `likely` [Pa s] with its band.

    `own` and `other` [Pa s] are the two opinions behind it, empty where they do not differ. `at_pour` [Pa s] belongs to
    `pour` [degC]; `limit` [Pa s] is the operator's; `chance` [0..1] that the slag is thinner than it there. `melt_free`
    and `liquidus` [degC]; `pour_needed` [degC] brings the wanted fluidity. `floor` [Pa s]: below it only "less than".
    """

    temperatures: tuple[float, ...]
    likely: tuple[float, ...]
    band: Band
    own: tuple[float, ...]
    other: tuple[float, ...]
    other_name: str
    pour: float
    at_pour: Amount
    limit: float
    chance: float
    melt_free: Amount | None
    liquidus: Amount | None
    pour_needed: float | None
    floor: float
    confidence: Literal["fair", "low"]
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Side:
    """One named side of an outline: its points in the units of the axes, in order."""

    words: str
    points: tuple[tuple[float, float], ...]
    broken: bool = False


@dataclass(frozen=True, slots=True)
class MapAxis:
    """One axis of the map: target key or flux id, what is written on it, its range and the values of the field."""

    key: str
    label: str
    values: tuple[float, ...]
    decimals: int = 2


@dataclass(frozen=True, slots=True)
class SlagMap:
    """The map of this ore: `field` [Pa s] by rows of y and columns of x, NaN where no recipe reaches.

    `outline` is where every must holds, `safe_outline` where they hold 9 times in 10; `spread` is the ellipse of the
    ore's uncertainty: centre x and y, half axes, turn [rad]. `crystals` has the shape of `field`; `point` is the
    recipe, `limit` [Pa s] the operator's. `complete` is False while rows are still being worked out.
    """

    x: MapAxis
    y: MapAxis
    field: tuple[tuple[float, ...], ...]
    crystals: tuple[tuple[bool, ...], ...]
    outline: tuple[Side, ...]
    safe_outline: tuple[tuple[float, float], ...]
    spread: tuple[float, float, float, float, float] | None
    point: tuple[float, float] | None
    limit: float
    temperature: float
    complete: bool = True
