"""The section of a pot or mould as plain points: inside and outside wall over the height."""

import math
from bisect import bisect_right
from dataclasses import dataclass

from fluxlab.vessel.vessel_types import Crucible, Mould

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Shape:
    """One half of a section as (height, radius) points from the axis up [mm].

    `inside` runs from the floor (height 0) to the rim, `outside` from under the foot to the rim.
    """

    inside: tuple[Point, ...]
    outside: tuple[Point, ...]

    @property
    def depth(self) -> float:
        """Height of the rim above the floor [mm]."""
        return self.inside[-1][0]

    @property
    def foot(self) -> float:
        """How far the foot stands below the floor [mm]."""
        return -self.outside[0][0]

    @property
    def rim_radius(self) -> float:
        """Inside radius at the rim [mm]."""
        return self.inside[-1][1]

    @property
    def half_width(self) -> float:
        """Largest outside radius [mm]."""
        return max(radius for _, radius in self.outside)

    def radius(self, z: float) -> float:
        """Inside radius at a height [mm]; the rim's above the rim."""
        return _at(self.inside, z)

    def outer_radius(self, z: float) -> float:
        """Outside radius at a height [mm]."""
        return _at(self.outside, z)

    def wall_between(self, low: float, high: float) -> tuple[Point, ...]:
        """Points (height, radius) of the inside wall from one height to another, both ends included [mm]."""
        between = tuple(point for point in self.inside if low < point[0] < high)
        return ((low, self.radius(low)), *between, (high, self.radius(high)))


def pot_shape(pot: Crucible) -> Shape | None:
    """The section of a pot; None when its dimensions make no pot.

    Outside nobody measured: the wall keeps its thickness, the foot is flat with a bevel.
    """
    from fluxlab.vessel.crucible import crucible_profile

    profile, _ = crucible_profile(pot)
    if profile is None:
        return None
    inside = _from_axis(profile.outline())
    foot_of_wall = pot.bottom_depth if pot.bottom in ("cap", "ellipsoid") else 0.0
    outside = _offset([point for point in inside if point[0] >= foot_of_wall - 1e-6 and point[1] > 0.0], pot.wall)
    low = _extended(outside, -0.35 * pot.base)
    bevel = min(0.65 * pot.base, 0.4 * low[1])
    return Shape(inside, ((-pot.base, 0.0), (-pot.base, low[1] - bevel), low, *outside))


def mould_shape(mould: Mould) -> Shape | None:
    """The section of a mould; None when its dimensions make no mould. A pointed mould stands on a flared foot."""
    from fluxlab.vessel.mould import mould_profile

    profile, _ = mould_profile(mould)
    if profile is None:
        return None
    inside = _from_axis(profile.outline())
    wall = mould.wall
    if mould.shape == "frustum":
        outside = _offset([point for point in inside if point[1] > 0.0], wall)
        low = _extended(outside, -wall)
        return Shape(inside, ((-wall, 0.0), low, *outside))
    steep = _offset(_steep(inside), wall)
    waist = _extended(steep, -0.5 * wall)
    waist = (waist[0], max(waist[1], wall))
    above = [point for point in steep if point[0] > 0.0 and point[1] >= waist[1]]
    flare = min(waist[1] + 0.9 * wall, max(waist[1], above[-1][1]))
    return Shape(inside, ((-1.5 * wall, 0.0), (-1.5 * wall, flare), waist, *above))


def _steep(points: tuple[Point, ...]) -> list[Point]:
    """The upper stretch of a mould's wall, without the rounding at its tip."""
    top = points[-2:]
    slope = (top[1][1] - top[0][1]) / (top[1][0] - top[0][0])
    steep = list(top)
    for below in reversed(points[:-2]):
        rise, run = steep[0][0] - below[0], steep[0][1] - below[1]
        if rise <= 0.0 or run / rise > max(1.6 * slope, slope + 0.3):
            break
        steep.insert(0, below)
    return steep


def _from_axis(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """The inside wall begun on the axis, without the points that two sections share."""
    flat = points if points[0][1] == 0.0 else ((0.0, 0.0), *points)
    return tuple(point for at, point in enumerate(flat) if at == 0 or math.dist(point, flat[at - 1]) > 1e-6)


def _offset(points: list[Point], wall: float) -> list[Point]:
    """The wall's outer face: the same heights, one wall thickness out, measured across the wall."""
    outer: list[Point] = []
    for at, (z, radius) in enumerate(points):
        below, above = points[max(at - 1, 0)], points[min(at + 1, len(points) - 1)]
        rise, run = above[0] - below[0], above[1] - below[1]
        slant = math.hypot(rise, run) / rise if rise > 0.0 else 1.0
        outer.append((z, radius + wall * min(slant, 3.0)))
    return outer


def _extended(points: list[Point], z: float) -> Point:
    """Where the lowest stretch of a wall, carried on straight, comes to a height."""
    (z0, r0), (z1, r1) = points[0], points[1]
    slope = (r1 - r0) / (z1 - z0) if z1 > z0 else 0.0
    return (z, max(r0 + (z - z0) * slope, 0.2 * r0))


def _at(points: tuple[Point, ...], z: float) -> float:
    heights = [height for height, _ in points]
    at = bisect_right(heights, z)
    if at == 0:
        return points[0][1]
    if at == len(points):
        return points[-1][1]
    (z0, r0), (z1, r1) = points[at - 1], points[at]
    return r0 + (r1 - r0) * (z - z0) / (z1 - z0)
