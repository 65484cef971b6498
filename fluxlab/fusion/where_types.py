"""Where each element of a pot ends, and by which figures, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluxlab.fusion.matte import Matte, Speiss


@dataclass(frozen=True, slots=True)
class Where:
    """Where one element ends [g]: in the button, as drops in the slag, in slag, matte or speiss, as fume, on tools."""

    button: float
    drops: float
    slag: float
    matte: float
    speiss: float
    fume: float
    handling: float

    @property
    def total(self) -> float:
        """All of the element [g]."""
        return self.button + self.drops + self.slag + self.matte + self.speiss + self.fume + self.handling


@dataclass(frozen=True, slots=True)
class Knobs:
    """Figures that decide where silver ends, each the operator's to change.

    Ratios of silver in matte, in sulphide that the slag dissolves, in speiss and in slag to that in the metal [-];
    `trapped` [g/g] of the metal hangs in the slag as drops, `handling` [g/g] of silver and gold is lost on tools;
    `sulphur` [g] makes matte, of which the slag `dissolves` [g] so much iron sulphide.
    """

    matte_ratio: float
    dissolved_ratio: float
    speiss_ratio: float
    slag_ratio: float
    trapped: float
    handling: float
    sulphur: float
    dissolves: float


@dataclass(frozen=True, slots=True)
class Ends:
    """Where every element ends [g] by symbol, with the matte and the speiss that form."""

    elements: Mapping[str, Where]
    matte: Matte
    speiss: Speiss


def layer_masses(elements: Mapping[str, Where], soft: Matte, hard: Speiss) -> tuple[float, float]:
    """Mass of the matte's layer and of the speiss [g], with the metals besides that the `elements` have in them."""
    also = sum(w.matte for w in elements.values()) - sum(soft.metals.values())
    layer = soft.layer / soft.mass if soft.mass > 0.0 else 0.0
    return soft.layer + max(also, 0.0) * layer, max(sum(w.speiss for w in elements.values()), hard.mass)
