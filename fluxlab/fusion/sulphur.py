"""What sulphur asks for: soda where it becomes sulphate or a soda slag, iron where it becomes iron sulphide."""

from fluxlab.materials.formulas import atomic_mass, formula

SODA_PER_SULPHUR = formula("Na2CO3").mass / atomic_mass("S")
"""Soda ash that one gram of sulphur takes up [g/g]: 3.31, computed."""

IRON_PER_SULPHUR = atomic_mass("Fe") / atomic_mass("S")
"""Iron that makes FeS with one gram of sulphur [g/g]: 1.742, computed."""

COPPER_PER_SULPHUR = 2.0 * atomic_mass("Cu") / atomic_mass("S")
"""Copper that makes Cu2S with one gram of sulphur [g/g]: 3.964, computed."""


def soda_for_sulphur(sulphur: float) -> float:
    """Soda ash that sulphur [g] uses up, and that is then no flux any more [g]."""
    return sulphur * SODA_PER_SULPHUR


def iron_for_sulphur(sulphur: float, copper: float = 0.0) -> float:
    """Iron that takes up the sulphur [g] that copper [g] does not hold as Cu2S [g].

    Copper holds sulphur faster than iron does, so iron cannot take that part away.
    """
    return max(sulphur - copper / COPPER_PER_SULPHUR, 0.0) * IRON_PER_SULPHUR


def iron_sulphide(sulphur: float) -> float:
    """Iron sulphide FeS that sulphur [g] makes [g]."""
    return sulphur * (1.0 + IRON_PER_SULPHUR)
