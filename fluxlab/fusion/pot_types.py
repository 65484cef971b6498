"""What goes into the pot and what the pot makes of it, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from fluxlab.fusion.bullion import Bullion
from fluxlab.fusion.cupel import CupelAdvice
from fluxlab.fusion.deportment import PotState
from fluxlab.fusion.gas import GasRow
from fluxlab.fusion.gas_timing import FoamSlag, GasTiming
from fluxlab.fusion.heat import Furnace, Heat
from fluxlab.fusion.heating import Heating
from fluxlab.fusion.losses import Settling, SlagColumn
from fluxlab.fusion.redox_types import Redox, Reducer, Wall
from fluxlab.fusion.routes import RouteName, StateName
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.issue import Issue
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import Vec

Verdict = Literal["idle", "short", "meets", "over"]
Means = Literal["reducer", "nitre", "iron"]


@dataclass(frozen=True, slots=True, eq=False)
class FusionCharge:
    """What goes into the pot, weights of pure substance [g].

    `charge` is the material itself; `elements` by symbol of everything in the pot, oxygen aside, sulphur of sulphides
    and of sulphates together; `sulphides` by formula, `sulphate_sulphur` the sulphur of sulphates, `sulphide_doubt` how
    much more sulphur of sulphides [g S] the roast may have left; `reducible` oxides
    and sulphates by formula, litharge and red lead of the fluxes among them, `flux_lead` the lead of those. `nitrates`
    by formula, metallic `iron`, `native` metals by symbol. `slag` [mol] counts every alkali of the charge, also that
    which sulphur will take up.

    `wanted_lead` is the button aimed at, None where there is no aim; `metal_wanted` says that the operator wants metal
    from the oxides in any case. `step` of the balance [g]. `carrier` is the mineral that holds the silver.
    `flux_gases` are the gases of the fluxes, `minerals` by name the (formula, mass) of what can still give off gas,
    `fluxes` the (name, formula, mass) of those that take heat to react, `water` is free. `pour` [degC], `hold` [min];
    the gas of each of so many equal `feeds` foams by itself. What is left out (None) is not reckoned. `figures` replace
    shipped figures for silver, by the names of `Knobs`; their low ends are where most silver is had. `prill` replaces
    the median size of the drops [micrometre], `budget` the band of oxygen taken over oxygen wanted by the operator [-],
    `rate` the rate of heating [degC/min]; `tables` hold every other figure of memory or judgement, the operator's own
    in its place.
    """

    route: RouteName
    charge: float
    elements: Mapping[str, float]
    slag: Vec
    sulphides: Mapping[str, float] = field(default_factory=dict)
    sulphate_sulphur: float = 0.0
    sulphide_doubt: float = 0.0
    reducible: Mapping[str, float] = field(default_factory=dict)
    flux_lead: float = 0.0
    reducers: tuple[Reducer, ...] = ()
    nitrates: Mapping[str, float] = field(default_factory=dict)
    iron: float = 0.0
    native: Mapping[str, float] = field(default_factory=dict)
    wall: Wall = field(default_factory=Wall)
    wanted_lead: float | None = None
    metal_wanted: bool = False
    step: float = 0.0
    carrier: str = ""
    flux_gases: tuple[GasRow, ...] = ()
    minerals: Mapping[str, tuple[str, float]] = field(default_factory=dict)
    fluxes: tuple[tuple[str, str, float], ...] = ()
    water: float = 0.0
    pour: float = 1150.0
    hold: float = 10.0
    feeds: int = 1
    column: SlagColumn | None = None
    foam: FoamSlag | None = None
    rate: float | None = None
    furnace: Furnace | None = None
    figures: Mapping[str, Estimate] = field(default_factory=dict)
    prill: float | None = None
    budget: tuple[float, float] | None = None
    tables: Tables = field(default_factory=shipped_tables)


@dataclass(frozen=True, slots=True)
class SulphurFate:
    """Where the sulphur goes [g S]: all of it, as dioxide, as alkali sulphate, in matte, still as sulphate, and free.

    `split` of the dioxide is of sulphate that splits. `layer` [g] is all of the matte under the slag. `free` is
    bound by zinc, manganese or soda. `soda_used` [g of soda ash] is soda that sulphate took up and that is no flux any
    more. `iron_wanted` in all with its range, or `nitre_wanted` more [g KNO3], would take it from lead and silver.
    """

    total: float
    dioxide: float
    split: float
    sulphate: float
    matte: float
    layer: float
    stays: float
    free: float
    soda_used: float
    iron_wanted: Estimate
    nitre_wanted: float


@dataclass(frozen=True, slots=True)
class Judgement:
    """Whether a pot is as it is wanted.

    `verdict` is "idle" where the charge holds nothing to judge by. `state` is that of the pot, `wanted` those that are
    wanted, `metal` whether metal is wanted from oxides. `means` is what the route drives with, `band` the budget [-]
    that goes with what is wanted. `by_budget` says that the budget decided, and not the state.
    """

    verdict: Verdict
    state: StateName
    wanted: tuple[StateName, ...]
    metal: bool
    means: Means
    band: tuple[float, float]
    by_budget: bool = False


@dataclass(frozen=True, slots=True)
class InThePot:
    """What the pot makes of a charge.

    `redox` the balance of oxygen, `state` how reducing the pot is, `judgement` whether it is wanted so,
    `sulphur` where that goes, `bullion` the button with
    the ends of every element, `settling` the drops (None without a slag column), `gases` all gas of the charge and
    `gas` when that of one feed comes, `heating` how fast the charge is heated, `heat` (None without a furnace),
    `cupel` (None where no lead collects), `retreat` whether slag and matte are worth another melt.
    """

    redox: Redox
    state: PotState
    judgement: Judgement
    sulphur: SulphurFate
    bullion: Bullion
    settling: Settling | None
    gases: tuple[GasRow, ...]
    gas: GasTiming
    heating: Heating
    heat: Heat | None
    cupel: CupelAdvice | None
    retreat: bool
    issues: tuple[Issue, ...]
