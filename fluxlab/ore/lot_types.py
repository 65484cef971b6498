"""A lot of ore on its way over the table and through the roast: plain values."""

from dataclasses import dataclass

from fluxlab.issue import Issue
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.ore_types import GradeUnit


@dataclass(frozen=True, slots=True)
class GradeErrors:
    """How far assays may be off, as one standard deviation of the value [%]; memory and judgement, to be overwritten.

    The head's takes in its sampling, which can be worse: see `sampling_error`.
    """

    head: float = 10.0
    concentrate: float = 4.0
    tail: float = 8.0
    weighing: float = 0.5


USUAL_ERRORS = GradeErrors()


@dataclass(frozen=True, slots=True)
class Sampling:
    """What a sample was taken of, for Gy's estimate: `sample` and `lot` [g], `top_size` [mm], `content` [g/g] of the
    mineral that carries the metal, its `density` and that of the rest [g/cm3], the size below which it stands free
    [mm] (None: it is free at the top size). `shape` and `grading` are Gy's factors, from memory.
    """

    sample: float
    lot: float
    top_size: float
    content: float
    density: float
    gangue_density: float = 2.65
    liberation: float | None = None
    shape: float = 0.5
    grading: float = 0.25


@dataclass(frozen=True, slots=True)
class MetalBalance:
    """One metal from the lot to the calcine. Amounts [g], shares [%], grades in the unit of the laboratory.

    `by_weight` is the table recovery from masses and grades of lot and concentrate, `two_product` the one from the
    three grades alone, each None where something is not known; `recovery` is the surer of them. `kept` is what the
    roast keeps, `overall` both together.
    """

    metal: str
    unit: GradeUnit
    head: float | None
    concentrate: float | None
    tail: float | None
    calcine: Estimate | None
    in_lot: Estimate | None
    in_concentrate: Estimate | None
    in_calcine: Estimate | None
    enrichment: Estimate | None
    by_weight: Estimate | None
    two_product: Estimate | None
    recovery: Estimate | None
    kept: Estimate
    overall: Estimate | None


@dataclass(frozen=True, slots=True)
class LotBalance:
    """Lot, concentrate and calcine [g, dry], the concentration ratio by weight and by grades, and the metals."""

    lot: float | None
    concentrate: float | None
    calcine: float | None
    ratio: float | None
    ratio_by_grades: float | None
    metals: tuple[MetalBalance, ...]
    issues: tuple[Issue, ...]
