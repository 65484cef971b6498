"""Silver and gold grades: from the laboratory's unit to a mass fraction and back.

The troy ounce is 31.1034768 g and the avoirdupois pound 0.45359237 kg, both exact; a short ton is 2000 lb, a long ton
2240 lb.
"""

from collections.abc import Mapping
from types import MappingProxyType

from fluxlab.ore.ore_types import Grade, GradeUnit

TROY_OUNCE = 31.1034768
"""Troy ounce [g], exact."""
POUND = 453.59237
"""Avoirdupois pound [g], exact."""
SHORT_TON = 2000.0 * POUND
"""Short ton [g]."""
LONG_TON = 2240.0 * POUND
"""Long ton [g]."""

_FRACTION: Mapping[GradeUnit, float] = MappingProxyType(
    {"g/t": 1e-6, "oz/short ton": TROY_OUNCE / SHORT_TON, "oz/long ton": TROY_OUNCE / LONG_TON, "%": 1e-2}
)


def fraction(grade: Grade) -> float:
    """The grade as a mass fraction [g/g]."""
    return grade.value * _FRACTION[grade.unit]


def converted(grade: Grade, unit: GradeUnit) -> Grade:
    """The same grade in another unit of the laboratory."""
    return Grade(fraction(grade) / _FRACTION[unit], unit)
