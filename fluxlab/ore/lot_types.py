"""A lot of ore on its way over the table and through the roast: plain values."""

from dataclasses import dataclass

from fluxlab.issue import Issue
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.ore_types import GradeUnit


@dataclass(frozen=True, slots=True)
class GradeErrors:
    """How far assays and weights may be off, as one standard deviation of the value [%], and where that is from.

    The sampling of the head comes on top: see `sampling_error`.
    """

    head: float
    concentrate: float
    tail: float
    weighing: float
    source: str


@dataclass(frozen=True, slots=True)
class LotFigures:
    """What the balance of a lot takes from memory and judgement, or the operator's own (resources/lot.toml).

    `charge` [% of the value] is how far one charge may be from its lot in grade, one standard deviation.
    Gy's `shape` and `grading`; `liberation`, the size below which the mineral stands free [% of the largest grain];
    densities [g/cm3] of the carriers and of the rest; the sampling error is good to a `factor`. Above `much` [%] a
    larger sample is asked for, recoveries more than `apart` standard deviations from each other are at odds, and a head
    grade as unsure as `untold` [%] tells no recovery by weight.
    """

    errors: GradeErrors
    charge: float
    shape: float
    grading: float
    liberation: float
    silver_density: float
    gold_density: float
    gangue_density: float
    factor: float
    much: float
    apart: float
    untold: float


@dataclass(frozen=True, slots=True)
class Sampling:
    """What a sample was taken of, for Gy's estimate: `sample` and `lot` [g], `top_size` [mm], `content` [g/g] of the
    mineral that carries the metal, its `density` and that of the rest [g/cm3], the size below which it stands free
    [mm]. `shape` and `grading` are Gy's factors.
    """

    sample: float
    lot: float
    top_size: float
    content: float
    density: float
    gangue_density: float
    liberation: float
    shape: float
    grading: float


@dataclass(frozen=True, slots=True)
class MetalBalance:
    """One metal from the lot to the calcine. Amounts [g], shares [%], grades in the unit of the laboratory.

    `by_weight` is the table recovery from masses and grades of lot and concentrate, `two_product` the one from the
    three grades alone, each None where something is not known; `recovery` is the surer of them. `kept` is what the
    roast keeps, `overall` both together. `sampling` is how far the sample of the lot may be off by chance, one standard
    deviation, None where its weight and grain are not told.
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
    sampling: Estimate | None


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
