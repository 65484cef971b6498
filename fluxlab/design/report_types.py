"""The report: everything that is known of a recipe before the furnace is lit. Views read nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fluxlab.design.chance_types import ChanceReport
from fluxlab.design.fluid_types import FluidReport
from fluxlab.design.plain_types import NONE
from fluxlab.design.plain_types import Amount as Amount
from fluxlab.design.plain_types import Answer as Answer
from fluxlab.design.plain_types import Mend as Mend
from fluxlab.design.pot_types import FigureRow, PotReport
from fluxlab.design.recipe import Convention, Kind, Work
from fluxlab.issue import Issue
from fluxlab.ore.roast_types import RoastKind

CautionLevel = Literal["block", "warn", "caution"]


@dataclass(frozen=True, slots=True)
class ShareRow:
    """One mineral, oxide or element of the material in the pot: share [mass %] and mass [g]."""

    name: str
    percent: Amount
    grams: float
    flag: str = ""


@dataclass(frozen=True, slots=True)
class RoastStep:
    """One step of the roast: from `low` to `high` [degC] in `minutes`, what to do, and where that comes from."""

    title: str
    low: float
    high: float
    minutes: float
    action: str
    source: str


@dataclass(frozen=True, slots=True)
class RoastReport:
    """The roast behind this charge: masses [g], gas volumes [L at 25 degC, 1 atm], shares of the calcine [%].

    `mass_change_percent` is what was predicted before any weighing, `weighed_change_percent` what the weights say, of
    the dry raw mass. `weight_explained` is None where nothing was weighed; `explained_by` are the kinds of roast that
    explain the weight, in words. `silver_loss_percent` is not taken off the silver in the pot. `air_litres` is what an
    open tray wants. `sources` says what the ranges rest on, `figures` are those of the programme that rest on memory
    or judgement, which the operator may replace.
    """

    raw_mass: float
    calcine_mass: float
    mass_change_percent: Amount
    oxygen_needed: float
    gases: tuple[tuple[str, float, float], ...]
    sulphur_left: float
    arsenic_left: float
    perfect: bool = True
    kind: RoastKind = "perfect"
    sulphur_percent: Amount = NONE
    sulphide_sulphur_percent: Amount = NONE
    sulphate_sulphur_percent: Amount = NONE
    arsenic_percent: Amount = NONE
    silver_loss_percent: Amount = NONE
    air_litres: Amount = NONE
    weighed_change_percent: float | None = None
    weight_explained: bool | None = None
    explained_by: tuple[str, ...] = ()
    programme: tuple[RoastStep, ...] = ()
    warnings: tuple[Issue, ...] = ()
    sources: tuple[str, ...] = ()
    figures: tuple[FigureRow, ...] = ()


@dataclass(frozen=True, slots=True)
class MetalReport:
    """One metal from the lot to the calcine: grades in the laboratory's `unit`, masses [g], shares [%].

    `recovery_percent` is the surer of the two table recoveries, `overall_percent` that after the roast,
    `sampling_percent` how far the lot's sample may be off by chance, one standard deviation.
    """

    metal: str
    unit: str
    head: float | None
    concentrate: float | None
    tail: float | None
    calcine: Amount | None
    in_lot: Amount | None
    in_concentrate: Amount | None
    in_calcine: Amount | None
    enrichment: Amount | None
    by_weight_percent: Amount | None
    two_product_percent: Amount | None
    recovery_percent: Amount | None
    kept_percent: Amount
    overall_percent: Amount | None
    sampling_percent: Amount | None = None


@dataclass(frozen=True, slots=True)
class LotReport:
    """The lot that the concentrate came from [g, dry]: parts of it to one of concentrate, by weight and by grades.

    `figures` are those of memory or judgement, which the operator may replace.
    """

    lot_mass: float | None
    concentrate_mass: float | None
    calcine_mass: float | None
    ratio: float | None
    ratio_by_grades: float | None
    metals: tuple[MetalReport, ...]
    sources: tuple[str, ...]
    issues: tuple[Issue, ...]
    figures: tuple[FigureRow, ...] = ()


@dataclass(frozen=True, slots=True)
class OreReport:
    """The ore as it goes into the pot. `oxides` lists slag oxides; `apart` what no slag model holds [g]."""

    feed: str
    charge: float
    minerals: tuple[ShareRow, ...]
    oxides: tuple[ShareRow, ...]
    apart: tuple[ShareRow, ...]
    silver: float
    gold: float
    lead: float
    copper: float
    sulphur: float
    arsenic: float
    antimony: float
    silver_grade_gpt: float | None
    gold_grade_gpt: float | None
    residual_percent: float | None
    earthy_gangue: float
    bulk_density: float
    bulk_density_known: bool
    roast: RoastReport | None
    lot: LotReport | None = None


@dataclass(frozen=True, slots=True)
class LineReport:
    """One flux row: `grams` as solved or fixed [g], `share` of the flux [%], `why` in words."""

    flux: str
    name: str
    form: str
    grams: float
    fixed: bool
    share: float
    least: float | None
    most: float | None
    stock: float | None
    cost: float | None
    loose_volume: float
    why: str
    missing: bool = False


@dataclass(frozen=True, slots=True)
class TargetReport:
    """One target with the value that the recipe reaches. `state` speaks of the band as a whole.

    A value under `floor` is told as "under the floor" only: nothing as small was ever measured.
    """

    key: str
    label: str
    unit: str
    value: float | None
    lo: float | None
    hi: float | None
    lo_kind: Kind
    hi_kind: Kind
    on: bool
    state: Literal["inside", "at lo", "at hi", "below", "above", "undefined", "off"]
    off_by: float
    decimals: int
    sentence: str
    source: str
    convention: Convention | None = None
    floor: float | None = None

    @property
    def too_small(self) -> bool:
        """Whether the value lies under the floor."""
        return self.value is not None and self.floor is not None and self.value < self.floor


@dataclass(frozen=True, slots=True)
class IndexReport:
    """Slag indices: degree by convention (keys S, SB, SBA base, SBA acid, all soda), basicities, NBO/T [-]."""

    degree: Mapping[str, float | None]
    basicity_mass: float | None
    basicity_mole: float | None
    optical_basicity: float | None
    nbo_per_t: float | None
    nbo_per_t_with_boron: float | None
    borate_share: float | None


@dataclass(frozen=True, slots=True)
class SlagReport:
    """The slag: mass [g], oxides, indices, density [g/cm3] and volume [cm3] with the range of the method."""

    mass: float
    oxides: tuple[ShareRow, ...]
    apart: tuple[ShareRow, ...]
    ferric_share: float
    indices: IndexReport
    density: Amount
    volume: Amount


@dataclass(frozen=True, slots=True)
class Stage:
    """One feed of the charge: mass [g], loose volume [cm3], height of the heap below the rim [mm]."""

    mass: float
    volume: float
    from_rim: float


@dataclass(frozen=True, slots=True)
class FillReport:
    """The pot: loose heap (cold), the same at its highest while it swells (still solid), and quiet melt (hot).

    Fractions of the brim [-], volumes [cm3], levels from the floor [mm]. `feeds` is how many parts are planned,
    `stages` what each of them is, `feeds_needed` how many equal parts would stay within the limits (0: no number does);
    the loose and swollen figures speak of the fullest planned feed.
    """

    brim: float
    loose_volume: float
    loose_fraction: float
    loose_level: float
    loose_from_rim: float
    swollen_volume: float
    swollen_fraction: float
    swollen_level: float
    swollen_from_rim: float
    melt_volume: float
    melt_fraction: float
    melt_level: float
    melt_from_rim: float
    metal_volume: float
    metal_level: float
    cover: float
    half_level: float
    two_thirds_level: float
    gas_formers: bool
    feeds: int
    feeds_needed: int
    stages: tuple[Stage, ...]
    melts_needed: int


@dataclass(frozen=True, slots=True)
class MouldReport:
    """The mould after the pour: levels where each layer ends, from the tip [mm], volumes [cm3], freeboard [mm].

    From below: metal, speiss, matte, slag, with the masses [g] that the balance of the pot predicts; `metal_mass` is
    None where that is not known and the metal is that of the assay. The targets reckon with `aimed_volume` [cm3].
    """

    capacity: float
    metal_volume: float
    metal_level: float
    slag_volume: float
    slag_level: float
    fraction: float
    freeboard: float
    metal_name: str = "metal"
    metal_mass: float | None = None
    speiss_mass: float = 0.0
    speiss_volume: float = 0.0
    speiss_level: float = 0.0
    matte_mass: float = 0.0
    matte_volume: float = 0.0
    matte_level: float = 0.0
    aimed_volume: float | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """One of the five plain answers."""

    key: Literal["melt", "fit", "metal", "safe", "sure"]
    question: str
    answer: Answer
    word: str
    figure: str
    reason: str
    mend: Mend | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """A rule that applies to this recipe. `lift` says who may lift a block."""

    rule: str
    level: CautionLevel
    title: str
    sentence: str
    because: str
    lift: Literal["never", "operator", "cause"]
    source: str


@dataclass(frozen=True, slots=True)
class SolveReport:
    """How the solver fared: its status, what gave way, the conflict in words, and the check line."""

    status: Literal["ok", "relaxed", "impossible", "undefined", "invalid"]
    sentences: tuple[str, ...]
    gave_way: tuple[str, ...]
    residual: float
    kernel: str
    solves: int


@dataclass(frozen=True, slots=True)
class Report:
    """Everything that views, the ticket and the command line show of a recipe."""

    work: Work
    ore: OreReport
    lines: tuple[LineReport, ...]
    flux_mass: float
    flux_cost: float | None
    flux_to_ore: float | None
    flux_mass_without_wish: float | None
    without_wish: str
    charge_total: float
    targets: tuple[TargetReport, ...]
    slag: SlagReport
    fill: FillReport | None
    mould: MouldReport | None
    verdicts: tuple[Verdict, ...]
    cautions: tuple[Caution, ...]
    solve: SolveReport
    issues: tuple[Issue, ...]
    precious_metal_limit: float | None
    gas_litres: float | None = None
    fluid: FluidReport | None = None
    pot: PotReport | None = None
    chance: ChanceReport | None = None
