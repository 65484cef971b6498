"""What an ore type is, as the operator describes it."""

from dataclasses import dataclass
from typing import Literal

Stage = Literal["ore", "concentrate", "calcine"]
GradeUnit = Literal["g/t", "oz/short ton", "oz/long ton", "%"]


@dataclass(frozen=True, slots=True)
class Share:
    """A share of a mineral, an oxide or an element [mass %], with its low and high as entered."""

    what: str
    likely: float
    low: float | None = None
    high: float | None = None
    known_from: str = ""


@dataclass(frozen=True, slots=True)
class Grade:
    """A grade as the laboratory gave it."""

    value: float
    unit: GradeUnit = "g/t"


@dataclass(frozen=True, slots=True)
class Lot:
    """The lot that the concentrate came from: its dry mass and that of the concentrate [g], grades of lot and tailing.

    The head sample's `sample` mass [g] and `top_size` of grain [mm] tell how far its grade may be off by chance.
    `figures` are the operator's own in place of shipped ones of memory or judgement, by key (resources/lot.toml).
    """

    mass: float | None = None
    concentrate: float | None = None
    silver: Grade | None = None
    gold: Grade | None = None
    tail_silver: Grade | None = None
    tail_gold: Grade | None = None
    sample: float | None = None
    top_size: float | None = None
    figures: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class OreType:
    """One ore type.

    `known_by` says which of the three descriptions counts; the other two are kept as typed. `ticked` are the minerals
    that an oxide or element assay may be turned into; with `as_is` the assay itself is used and no minerals are sought.
    `stage` is the material that the description and the grades speak of. `moisture` [mass %].
    `bulk_density` [g/cm3], None = estimated. `lot` is what the concentrate was won from, None = not told.
    """

    uid: str
    name: str
    group: str = ""
    known_by: Literal["minerals", "oxides", "elements"] = "minerals"
    minerals: tuple[Share, ...] = ()
    oxides: tuple[Share, ...] = ()
    elements: tuple[Share, ...] = ()
    ticked: tuple[str, ...] = ()
    as_is: bool = False
    stage: Stage = "concentrate"
    silver: Grade | None = None
    gold: Grade | None = None
    silver_carrier: str = "Acanthite/argentite"
    gold_carrier: str = "Native gold"
    moisture: float = 0.0
    bulk_density: float | None = None
    notes: str = ""
    lot: Lot | None = None
