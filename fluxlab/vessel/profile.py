"""The inside of a pot or mould as radius, volume and level over the height."""

import math
from bisect import bisect_right
from dataclasses import dataclass, replace
from itertools import accumulate

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fluxlab.vessel.sections import CUBIC_MM_PER_CM3, Section


@dataclass(frozen=True, slots=True)
class Profile:
    """Sections stacked from the floor up. Heights and radii [mm], volumes [cm3].

    Above the rim volume and level go on as if a straight collar stood on it, so that an over-full vessel shows by how
    much it is over; `brim` and `depth` say where the vessel ends.
    """

    sections: tuple[Section, ...]
    floors: tuple[float, ...]
    below: tuple[float, ...]

    @property
    def depth(self) -> float:
        """Height of the rim above the lowest point of the inside [mm]."""
        return self.floors[-1]

    @property
    def brim(self) -> float:
        """Volume when filled level with the rim [cm3]."""
        return self.below[-1]

    @property
    def rim_radius(self) -> float:
        """Inside radius at the rim [mm]."""
        top = self.sections[-1]
        return top.radius(top.height)

    def radius(self, z: float) -> float:
        """Inside radius at a height above the lowest point [mm]; the rim's radius above the rim, 0 below the floor."""
        if z < 0.0:
            return 0.0
        if z >= self.depth:
            return self.rim_radius
        index = self._section_at(self.floors, z)
        return self.sections[index].radius(z - self.floors[index])

    def volume(self, z: float) -> float:
        """Volume below a height [cm3]; 0 below the floor, with the collar above the rim."""
        if z <= 0.0:
            return 0.0
        if z >= self.depth:
            return self.brim + (z - self.depth) * self._collar_area / CUBIC_MM_PER_CM3
        index = self._section_at(self.floors, z)
        return self.below[index] + self.sections[index].volume(z - self.floors[index])

    def level(self, volume: float) -> float:
        """Height that a volume [cm3] reaches [mm]; above the depth for more than a brimful.

        Raises ValueError for a negative or undefined volume, which only a fault of ours can bring here.
        """
        if not 0.0 <= volume < math.inf:
            raise ValueError(f"no level for a volume of {volume} cm3")
        if volume >= self.brim:
            return self.depth + (volume - self.brim) * CUBIC_MM_PER_CM3 / self._collar_area
        index = self._section_at(self.below, volume)
        section = self.sections[index]
        return self.floors[index] + min(section.level(volume - self.below[index]), section.height)

    def radii(self, z: ArrayLike) -> NDArray[np.float64]:
        """Inside radii at an array of heights [mm], same shape."""
        heights = np.asarray(z, dtype=float)
        return np.reshape([self.radius(height) for height in heights.ravel().tolist()], heights.shape)

    def volumes(self, z: ArrayLike) -> NDArray[np.float64]:
        """Volumes below an array of heights [cm3], same shape."""
        heights = np.asarray(z, dtype=float)
        return np.reshape([self.volume(height) for height in heights.ravel().tolist()], heights.shape)

    def levels(self, volume: ArrayLike) -> NDArray[np.float64]:
        """Heights that an array of volumes [cm3] reaches [mm], same shape."""
        volumes = np.asarray(volume, dtype=float)
        return np.reshape([self.level(each) for each in volumes.ravel().tolist()], volumes.shape)

    def outline(self, steps: int = 16) -> tuple[tuple[float, float], ...]:
        """Points (height, radius) of the inside wall from the floor to the rim, for drawing [mm]."""
        points: list[tuple[float, float]] = []
        for floor, section in zip(self.floors, self.sections, strict=False):
            parts = 1 if section.slope is not None else steps
            # a rounded foot leaves the axis at right angles: points spaced as squares keep the drawn curve round
            heights = [section.height * (step / parts) ** 2 for step in range(parts + 1)]
            points += [(floor + height, section.radius(height)) for height in heights]
        return tuple(points)

    @property
    def _collar_area(self) -> float:
        return math.pi * self.rim_radius**2

    def _section_at(self, starts: tuple[float, ...], value: float) -> int:
        return min(bisect_right(starts, value) - 1, len(self.sections) - 1)


def stack(*sections: Section) -> Profile:
    """Profile of sections from the floor up [mm, cm3]."""
    floors = tuple(accumulate((section.height for section in sections), initial=0.0))
    below = tuple(accumulate((section.volume(section.height) for section in sections), initial=0.0))
    return Profile(sections, floors, below)


def scaled_to(profile: Profile, brim: float) -> Profile:
    """The same heights with every radius scaled so that the vessel holds a measured brimful [cm3]."""
    factor = brim / profile.brim
    widened = tuple(
        replace(
            section,
            squared=tuple(coefficient * factor for coefficient in section.squared),
            slope=None if section.slope is None else section.slope * math.sqrt(factor),
        )
        for section in profile.sections
    )
    return stack(*widened)
