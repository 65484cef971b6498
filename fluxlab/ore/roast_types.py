"""The roast as planned or weighed, and the state in which it leaves the material: plain values."""

from dataclasses import dataclass
from typing import Literal

from fluxlab.issue import Issue
from fluxlab.materials.estimate import Estimate

RoastKind = Literal["perfect", "planned", "weighed"]
Pairs = tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class RoastPlan:
    """How the charge is roasted.

    "perfect" reckons with the limit that no roast reaches, "planned" with what the temperatures and times below leave,
    "weighed" also asks which of the likely states explain the weights `before` and `after` [g]; the first is of the
    material as it went on the tray, with its moisture. The heat goes from `start_temperature` after drying to
    `finish_temperature` [degC]; `minutes` from the first heat to the end, without drying; `bed_depth` and
    `particle_size` [mm]; `balance_error` of one weighing [g].
    What follows overrules the program's own figures, which are memory and judgement: shares from 0 to 1 of a mineral
    burnt or decomposed, of a metal (by symbol) left as sulphate, of the arsenic kept as arsenate, of the antimony that
    fumes, of the iron left magnetic, of the silver lost; `figures` of the programme, by key and in the units of
    resources/roast/own_figures.toml.
    """

    kind: RoastKind = "perfect"
    finish_temperature: float = 740.0
    minutes: float = 90.0
    bed_depth: float = 10.0
    rabbled: bool = True
    particle_size: float = 0.1
    before: float | None = None
    after: float | None = None
    balance_error: float = 0.1
    conversion: Pairs = ()
    sulphate: Pairs = ()
    arsenate: float | None = None
    antimony_fumed: float | None = None
    magnetite: float | None = None
    silver_loss: float | None = None
    start_temperature: float = 350.0
    figures: Pairs = ()


PERFECT_PLAN = RoastPlan()


@dataclass(frozen=True, slots=True)
class RoastState:
    """How far a roast went; all shares from 0 to 1, the default being the perfect roast.

    `conversion` by mineral: the share of its sulphur and arsenic that is gone, the labile part first, or of another
    mineral that has decomposed; minerals that are not named are through. `sulphate` by metal: the share of what has
    been burnt, or of a carbonate, that is sulphate. `arsenate`: kept of the arsenic burnt; `antimony_fumed`: of the
    antimony burnt; `magnetite`: of the iron burnt and not sulphate.
    """

    conversion: Pairs = ()
    sulphate: Pairs = ()
    arsenate: float = 0.0
    antimony_fumed: float = 0.0
    magnetite: float = 0.0


PERFECT = RoastState()


@dataclass(frozen=True, slots=True)
class Ranges:
    """What a roast does, with ranges: change of the dry weight [% of raw], sulphur and arsenic left [% of calcine]."""

    change: Estimate
    sulphur: Estimate
    sulphide_sulphur: Estimate
    sulphate_sulphur: Estimate
    arsenic: Estimate


@dataclass(frozen=True, slots=True)
class Explanation:
    """One kind of roast that explains a weight: how likely it is among all that do [%] and what it leaves [%]."""

    words: str
    likely: float
    sulphur: Estimate


@dataclass(frozen=True, slots=True)
class RoastReading:
    """What a weighing says of a roast.

    `weighed` is the change of the dry weight [% of raw] and `error` its standard deviation. `explained` is False where
    no state of this ore comes near it; then everything else speaks of the roast as planned. `state` is the mean of the
    states that explain it, `ranges` theirs. `effective` is how many of the tried states count.
    """

    weighed: float
    error: float
    explained: bool
    state: RoastState
    ranges: Ranges
    explanations: tuple[Explanation, ...]
    effective: float
    issues: tuple[Issue, ...] = ()


@dataclass(frozen=True, slots=True)
class RoastFigures:
    """What the roast of this charge leaves: the state that is reckoned with, and the ranges around it.

    The change of weight in `ranges` is what was predicted before any weighing. `silver_loss` in % of the silver, not
    taken off the silver in the pot. `reading` where the roast was weighed. `own` are the operator's figures of the
    programme that make sense, by key.
    """

    kind: RoastKind
    state: RoastState
    ranges: Ranges
    silver_loss: Estimate
    reading: RoastReading | None = None
    own: Pairs = ()


@dataclass(frozen=True, slots=True)
class RoastStep:
    """One step of the programme: temperature from `low` to `high` [degC], `minutes`, what to do, and on whose word."""

    key: str
    title: str
    low: float
    high: float
    minutes: float
    action: str
    source: str


@dataclass(frozen=True, slots=True)
class Programme:
    """The steps of the roast and what this ore warns of."""

    steps: tuple[RoastStep, ...]
    warnings: tuple[Issue, ...]
