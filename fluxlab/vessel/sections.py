"""Pieces of an inside shape, each a body of revolution whose squared radius is a polynomial of the height.

Every pot and mould here is a stack of such pieces, so one antiderivative gives all volumes exactly.
"""

import math
from dataclasses import dataclass

CUBIC_MM_PER_CM3 = 1000.0
_STEPS = 120


@dataclass(frozen=True, slots=True)
class Section:
    """One piece: `height` [mm] and the coefficients of radius squared over the height above its own foot, lowest first.

    `slope` [mm/mm] is the taper of a straight wall, None for a curved one.
    """

    height: float
    squared: tuple[float, ...]
    slope: float | None = None

    def radius(self, z: float) -> float:
        """Radius at a height above the foot [mm]."""
        return math.sqrt(max(_polynomial(self.squared, z), 0.0))

    def volume(self, z: float) -> float:
        """Volume below a height above the foot [cm3]."""
        return math.pi * z * _polynomial(_mean_coefficients(self.squared), z) / CUBIC_MM_PER_CM3

    def level(self, volume: float) -> float:
        """Height above the foot that a volume [cm3] reaches [mm].

        Closed form for a straight wall and for a paraboloid, Newton steps kept inside a bracket for the rest.
        """
        filled = volume * CUBIC_MM_PER_CM3 / math.pi
        if filled <= 0.0:
            return 0.0
        if self.slope is not None:
            return _straight_level(filled, math.sqrt(self.squared[0]), self.slope)
        if len(self.squared) == 2:
            return _paraboloid_level(filled, self.squared[0], self.squared[1])
        return self._searched_level(filled)

    def _searched_level(self, filled: float) -> float:
        mean = _mean_coefficients(self.squared)
        low, high = 0.0, self.height
        z = 0.5 * high
        for _ in range(_STEPS):
            miss = z * _polynomial(mean, z) - filled
            if miss > 0.0:
                high = z
            else:
                low = z
            area = _polynomial(self.squared, z)
            step = z - miss / area if area > 0.0 else low
            if not low < step < high:
                step = 0.5 * (low + high)
            moved, z = abs(step - z), step
            if moved <= 2e-15 * z:
                break
        return z


def straight_wall(foot_radius: float, head_radius: float, height: float) -> Section:
    """Frustum or cylinder of given foot and head radius and height [mm]."""
    slope = (head_radius - foot_radius) / height
    return Section(height, (foot_radius**2, 2.0 * foot_radius * slope, slope**2), slope)


def spherical_cap(rim_radius: float, depth: float) -> Section:
    """Rounded bottom cut from a sphere: radius at its rim and depth [mm]."""
    sphere = (rim_radius**2 + depth**2) / (2.0 * depth)
    return Section(depth, (0.0, 2.0 * sphere, -1.0))


def semi_ellipsoid(rim_radius: float, depth: float) -> Section:
    """Rounded bottom cut from an ellipsoid at its equator: radius there and depth [mm]."""
    flatness = (rim_radius / depth) ** 2
    return Section(depth, (0.0, 2.0 * flatness * depth, -flatness))


def paraboloid(rim_radius: float, depth: float) -> Section:
    """Paraboloid with its tip down: rim radius and depth [mm]."""
    return Section(depth, (0.0, rim_radius**2 / depth))


def parabolic_stave(foot_radius: float, middle_radius: float, head_radius: float, height: float) -> Section:
    """Barrel whose wall is a parabola through the radii at foot, mid height and head [mm]."""
    first = (4.0 * middle_radius - 3.0 * foot_radius - head_radius) / height
    second = 2.0 * (foot_radius + head_radius - 2.0 * middle_radius) / height**2
    squared = (
        foot_radius**2,
        2.0 * foot_radius * first,
        first**2 + 2.0 * foot_radius * second,
        2.0 * first * second,
        second**2,
    )
    return Section(height, squared)


def _straight_level(filled: float, foot: float, slope: float) -> float:
    # z = (s - foot)/slope with s^3 = foot^3 + 3*slope*filled, written without the difference that a near-cylinder loses
    head = math.cbrt(max(foot**3 + 3.0 * slope * filled, 0.0))
    return 3.0 * filled / (head * head + head * foot + foot * foot)


def _paraboloid_level(filled: float, constant: float, linear: float) -> float:
    return 2.0 * filled / (constant + math.sqrt(constant**2 + 2.0 * linear * filled))


def _polynomial(coefficients: tuple[float, ...], z: float) -> float:
    total = 0.0
    for coefficient in reversed(coefficients):
        total = total * z + coefficient
    return total


def _mean_coefficients(squared: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(coefficient / (power + 1) for power, coefficient in enumerate(squared))
