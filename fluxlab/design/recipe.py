"""The recipe and the shelf: two frozen values from which every figure follows."""

from dataclasses import dataclass, field
from typing import Literal

from fluxlab.design.workshop import Workshop
from fluxlab.materials.flux_types import Component
from fluxlab.ore.ore_types import OreType, Stage
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan
from fluxlab.vessel.vessel_types import Crucible, Mould

RouteName = Literal["roast and melt", "nitre", "iron", "lead collection"]
Convention = Literal["S", "SB", "SBA base", "SBA acid", "all soda"]
Kind = Literal["must", "wish"]
GoalName = Literal["least flux", "least cost", "closest to house recipe", "thinnest slag"]


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the flux table: `grams` is a weight fixed by the operator, None while the solver chooses [g]."""

    flux: str
    grams: float | None = None
    least: float | None = None
    most: float | None = None
    hidden: bool = False


@dataclass(frozen=True, slots=True)
class Target:
    """A band for one quantity; each end is a must or a wish.

    `auto` ends are computed from the ore by the route's rule (flux to ore).
    `convention` names the silicate degree meant.
    """

    key: str
    lo: float | None = None
    hi: float | None = None
    lo_kind: Kind = "must"
    hi_kind: Kind = "must"
    on: bool = True
    auto: bool = False
    convention: Convention | None = None


@dataclass(frozen=True, slots=True)
class Recipe:
    """A melt as designed. `charge` [g] is the mass of what goes into the pot, which `pot_feed` names.

    `ferric_share` [0..1] is the part of the iron counted as Fe2O3, None = by the route. `pour_temperature` [degC],
    `hold` [min], `mould_preheat` [degC, None = not confirmed].
    `dry` records that charge, flux, pot and mould were dried.
    `feeds` is the number of parts in which the charge goes into the pot.
    `roast` is how this charge is roasted: it belongs to the batch and its weighing, not to the ore.
    `scrap` records that metal scrap or unknown pieces are in the charge. `house` is the recipe to stay close to [g].
    `pot_figures` are the operator's own in place of shipped ones of the pot, each in the unit of the report's row;
    `crystal_figures` [mass % or degC] those that set a warning of crystals off.
    """

    uid: str
    name: str
    ore: OreType
    charge: float = 100.0
    pot_feed: Stage = "calcine"
    route: RouteName = "roast and melt"
    lines: tuple[Line, ...] = ()
    targets: tuple[Target, ...] = ()
    goal: GoalName = "least flux"
    house: tuple[tuple[str, float], ...] = ()
    ferric_share: float | None = None
    crucible: str = ""
    mould: str = ""
    pour_temperature: float = 1150.0
    hold: float = 10.0
    feeds: int = 1
    mould_preheat: float | None = None
    dry: bool = False
    scrap: bool = False
    notes: str = ""
    roast: RoastPlan = PERFECT_PLAN
    pot_figures: tuple[tuple[str, float], ...] = ()
    crystal_figures: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Shelf:
    """What the workshop has: fluxes, pots, moulds, the balance's step [g], the currency sign for prices, its card."""

    fluxes: tuple[Component, ...] = ()
    crucibles: tuple[Crucible, ...] = ()
    moulds: tuple[Mould, ...] = ()
    balance_step: float = 0.1
    currency: str = ""
    notes: str = ""
    workshop: Workshop = field(default_factory=Workshop)

    def flux(self, uid: str) -> Component | None:
        """The component with this id, None if the shelf has none."""
        return next((c for c in self.fluxes if c.uid == uid), None)

    def crucible(self, uid: str) -> Crucible | None:
        """The pot with this id, None if the shelf has none."""
        return next((c for c in self.crucibles if c.uid == uid), None)

    def mould(self, uid: str) -> Mould | None:
        """The mould with this id, None if the shelf has none."""
        return next((m for m in self.moulds if m.uid == uid), None)


@dataclass(frozen=True, slots=True)
class Work:
    """The recipe on the bench together with the shelf it draws on: the value that an edit changes and undo restores."""

    recipe: Recipe
    shelf: Shelf = field(default_factory=Shelf)
