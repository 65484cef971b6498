"""What the slag map shows, as plain values: views read these and nothing else.

Points are pairs (x, y) in the units of the two axes. NaN stands for "cannot be reached".
"""

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis, drawn from `low` to `high` in its unit.

    `key` names its quantity: "degree", "borate", "flux_to_ore", or "flux:" and the id of a row. `step` is what one
    press of an arrow key moves the recipe by, `decimals` how its figures are shown.
    """

    key: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    decimals: int


@dataclass(frozen=True, slots=True)
class AxisPair:
    """Two axes that make a map; `words` is what a list of choices calls it."""

    x: Axis
    y: Axis
    words: str


@dataclass(frozen=True, slots=True)
class Side:
    """A stretch of an outline that one limit draws.

    `limit` is the target's end ("cap:ZnO#hi"), "@stock" where the least or the most of a row ends the reach, and empty
    where nothing but the frame does; `words` name it for the label beside the stretch. At least two points.
    """

    limit: str
    words: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Outline:
    """The region where a recipe can hold every must; `sides` run round it, each ending where the next begins.

    For each of `xs`, rising, the region reaches from `low` to `high`. All empty where nothing holds.
    """

    xs: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    sides: tuple[Side, ...]


@dataclass(frozen=True, slots=True)
class Cloud:
    """Where this recipe may lie, since the ore is not known better: a closed ellipse that holds `share` [0..1] of all.

    `points` are empty where the ore has no ranges.
    """

    share: float
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class MapFrame:
    """Everything of the map but its field: what can be drawn at once.

    `here` is the recipe, None where it has no such quantity; `safe` the part of the outline where the musts hold for at
    least `safe_share` [0..1] of the likely ores, None before it is worked out.
    """

    pair: AxisPair
    here: Point | None
    outline: Outline
    cloud: Cloud
    safe: Outline | None = None
    safe_share: float = 0.9


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One row of the field, `row` counted from the bottom: figures at each of the field's xs, left to right.

    `log_viscosity` [log10 Pa s] at the pour temperature and `crystals`, whether some are expected there; NaN and False
    where no recipe reaches the point or nothing is predicted. Rows come coarse first, not from bottom to top.
    """

    row: int
    y: float
    log_viscosity: tuple[float, ...]
    crystals: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class MapPoint:
    """The recipe at a point that was asked for, fixed rows as they are.

    `x`, `y` are where it really lies, the nearest that can be reached. `weights` are the rows of the flux table, by id
    [g]. `holds` says whether every must does; `broken` are the sentences of those that do not.
    """

    x: float
    y: float
    weights: tuple[tuple[str, float], ...]
    holds: bool
    broken: tuple[str, ...]
