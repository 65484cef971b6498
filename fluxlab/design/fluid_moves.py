"""What each flux and each oxide moves in the slag: the derivative of its ratios and of its viscosity."""

from dataclasses import dataclass

import numpy as np

from fluxlab.design.balance import Balance
from fluxlab.design.fluid_types import Move
from fluxlab.design.recipe import Target
from fluxlab.design.windows import Shape, shape
from fluxlab.materials.oxides import MASS, OXIDES, Vec
from fluxlab.slag.viscosity import log_viscosity_slopes

PART = 0.01
"""One part more to a hundred parts of slag."""
_SEEN = 0.005
"""An oxide below this share of the slag [-] is not told."""
_NIL = 1e-12


def moves(found: Balance, pour: float) -> tuple[Move, ...]:
    """What a part more of each flux in the table and of each oxide in the slag changes; empty without a slag.

    A part is a hundredth of the slag's mass; `pour` [degC] is where the viscosity counts. Fluxes count by the oxides
    that they leave in the slag.
    """
    mass = float(MASS @ found.n)
    if mass <= 0.0:
        return ()
    asked = next((t for t in found.targets if t.key == "degree"), Target("degree", convention="SB"))
    ratios = [shape(found.setting, t) for t in (asked, Target("basicity"))]
    slopes = log_viscosity_slopes(found.n, pour)
    each = [_OfRatio.of(found, made) for made in ratios]
    known = bool(np.isfinite(slopes).all())
    part = PART * mass

    def of_flux(name: str, row: int, oxides: Vec) -> Move:
        degree, basicity = (None if r is None else r.by_flux(row, oxides, part) for r in each)
        return Move(name, "flux", degree, basicity, float(slopes @ oxides) * part if known else None)

    def of_oxide(i: int) -> Move:
        moles = 1.0 / float(MASS[i])
        degree, basicity = (None if r is None else float(r.by_oxide[i]) * (part * moles) for r in each)
        return Move(OXIDES[i], "oxide", degree, basicity, float(slopes[i]) * moles * part if known else None)

    yields = found.fluxes.Y
    fluxes = (of_flux(c.name, i, yields[:, i]) for i, c in enumerate(found.fluxes.components) if yields[:, i].any())
    seen = np.flatnonzero(MASS * found.n > _SEEN * mass).tolist()
    return (*fluxes, *(of_oxide(i) for i in seen))


@dataclass(frozen=True, slots=True, eq=False)
class _OfRatio:
    """Derivative of a ratio by the oxides [1/mol] and by the rows of the flux table [1/g]."""

    by_oxide: Vec
    by_row: Vec

    @staticmethod
    def of(found: Balance, made: Shape | None) -> "_OfRatio | None":
        """The derivative for the slag and the weights as they are; None where the ratio is undefined."""
        above, below = made or (None, None)
        if above is None or below is None:
            return None
        bottom = float(below.u @ found.n + below.v @ found.x) + below.c
        if bottom <= _NIL * float(np.abs(found.n).sum()):
            return None
        ratio = (float(above.u @ found.n + above.v @ found.x) + above.c) / bottom
        return _OfRatio((above.u - ratio * below.u) / bottom, (above.v - ratio * below.v) / bottom)

    def by_flux(self, row: int, oxides: Vec, grams: float) -> float:
        """The change for so many `grams` of a flux that leaves these oxides [mol/g]."""
        return float(self.by_oxide @ (grams * oxides)) + float(self.by_row[row]) * grams
