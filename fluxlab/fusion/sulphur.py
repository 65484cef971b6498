"""What sulphur asks for: soda where it becomes sulphate or a soda slag, iron where it becomes iron sulphide."""

from fluxlab.materials.formulas import atomic_mass, formula

SODA_PER_SULPHUR = formula("Na2CO3").mass / atomic_mass("S")
"""Soda ash that one gram of sulphur takes up [g/g]: 3.31, computed."""

IRON_PER_SULPHUR = atomic_mass("Fe") / atomic_mass("S")
"""Iron that makes FeS with one gram of sulphur [g/g]: 1.742, computed."""


def soda_for_sulphur(sulphur: float) -> float:
    """Soda ash that sulphur [g] uses up, and that is then no flux any more [g]."""
    return sulphur * SODA_PER_SULPHUR
