"""What the report says of the pot: oxygen, sulphur, metal, silver, gas, drops and heat; nothing here computes."""

from dataclasses import dataclass
from typing import Literal

from fluxlab.design.plain_types import Amount, Answer
from fluxlab.issue import Issue

PotStateName = Literal["oxidising", "neutral", "reducing", "reducing with iron"]


@dataclass(frozen=True, slots=True)
class OxygenRow:
    """One thing that takes or gives up oxygen: `oxygen` [g O], the same as `lead` [g Pb].

    `met_percent` is how much of what is wanted a reducer reaches, None for what takes oxygen. `becomes` says what the
    substance turns into.
    """

    name: str
    takes: bool
    oxygen: float
    lead: float
    met_percent: float | None
    becomes: str
    source: str


@dataclass(frozen=True, slots=True)
class RedoxReport:
    """Reducers against what wants reducing [g O and g Pb].

    `supply` and `demand` [g O], iron that found no oxide in neither, their ratio `budget` [-] with the band that goes
    with what is wanted, in words `asked`. `verdict` tells whether the pot is as it is wanted: "short" of reducer,
    "over" it, or "idle" with nothing to judge by. `lead` [g Pb] comes down, of `lead_there` [g Pb] as oxide.
    `nitre_percent` of the nitre's oxygen does work, None without nitre.
    `ferric_percent` of the iron stays Fe2O3 by this balance; `iron` puts that into words beside what the slag is
    reckoned with, empty without iron. `lead_wanted` [g Pb] is the button aimed at; for it the
    charge still wants so much of a reducer, `reducer_wanted` of `reducer_name`, or of nitre, `nitre_wanted` [g]; None
    where no button is aimed at, or where it would take more nitre than the mix can bear, as `sentence` then says.
    `pot_burnt` [g C] is what the nitre could burn off a graphite pot.
    """

    supply: Amount
    demand: float
    supply_lead: Amount
    demand_lead: float
    budget: float | None
    budget_low: float
    budget_high: float
    verdict: Literal["idle", "short", "meets", "over"]
    asked: str
    lead: Amount
    lead_there: float
    ferric_percent: float
    iron: str
    nitre_percent: Amount | None
    lead_wanted: float | None
    reducer_name: str
    reducer_wanted: Amount | None
    nitre_wanted: float | None
    pot_burnt: float
    rows: tuple[OxygenRow, ...]
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class SulphurRow:
    """One end of the sulphur: sulphur in it [g S], and the mass of what it makes [g], None where that is no layer."""

    name: str
    sulphur: float
    mass: Amount | None
    words: str
    source: str


BURNT, AS_SULPHATE, STILL_SULPHATE = "leaves as sulphur dioxide", "alkali sulphate", "still sulphate"
"""Where sulphur is no sulphide any more, or was none."""
IN_MATTE, IN_SLAG = "matte", "iron sulphide in the slag"


@dataclass(frozen=True, slots=True)
class SulphurReport:
    """Where sulphur and arsenic go [g].

    `matte` and `speiss` are layers on the metal, `dissolved` is iron sulphide in the slag. `soda_used` [g of soda ash]
    is no flux any more; `iron_wanted` in all or `nitre_wanted` more [g] would take the sulphur from lead and silver;
    `against` says what of that helps here, and nothing where no matte is to be expected.
    """

    total: float
    rows: tuple[SulphurRow, ...]
    matte: Amount
    dissolved: Amount
    speiss: Amount
    soda_used: float
    iron_wanted: Amount | None
    nitre_wanted: float | None
    against: str
    sentence: str

    @property
    def sulphide(self) -> float:
        """Sulphur that stays or becomes sulphide: matte, sulphide in the slag, or bound otherwise [g S]."""
        ended = (BURNT, AS_SULPHATE, STILL_SULPHATE)
        return sum(row.sulphur for row in self.rows if row.name not in ended)


@dataclass(frozen=True, slots=True)
class MetalRow:
    """One metal of the button: mass [g], share of the button [%], and what its range rests on."""

    symbol: str
    name: str
    grams: Amount
    percent: float
    source: str


@dataclass(frozen=True, slots=True)
class ButtonReport:
    """The button: mass [g], metals, fineness [parts in a thousand], density [g/cm3], all with ranges.

    `yield_percent` is the button over the charge. `silver_recovery_percent` and `gold_recovery_percent` are of the
    silver and gold in the charge; None where there is none.
    """

    mass: Amount
    metals: tuple[MetalRow, ...]
    silver_fineness: Amount
    gold_fineness: Amount
    density: Amount | None
    yield_percent: float
    silver_recovery_percent: Amount | None
    gold_recovery_percent: Amount | None
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class SilverRow:
    """One place where silver ends: mass [g], share of all silver [%], what can be done about it."""

    place: str
    grams: Amount
    percent: float
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class DropsReport:
    """Metal drops in the slag and the hold that brings them down [min].

    `trapped_percent` of the metal hangs in the slag after the `planned` hold. `wanted` lets drops of `size`
    [micrometre] settle, None for never; `advised` is the same between the shortest and the longest sensible hold.
    """

    size: float
    settled_size: float | None
    trapped_percent: Amount
    planned: float
    wanted: float | None
    advised: float
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class GasStage:
    """Gas of one stretch of the heat [degC] of one feed: hot litres, foam height [mm], what gives most of it."""

    name: str
    low: float
    high: float
    litres: float
    foam: float
    giver: str


@dataclass(frozen=True, slots=True)
class GasSource:
    """Gas of one flux or mineral: species, mass [g], litres at 25 degC, and when it comes [degC]."""

    name: str
    species: str
    grams: float
    litres: float
    low: float | None
    high: float | None
    words: str


@dataclass(frozen=True, slots=True)
class PotGasReport:
    """When gas comes and how high it foams.

    `litres` is all of it at 25 degC. It comes as the charge is heated, evenly by so many `degrees_a_minute`
    [degC/min], which give the time to the pour too; `rate_words` say whose rate that is. `foam` [mm] against the
    `free` height [mm] over the slag, both None where slag or pot are not known. Gas comes through the liquid charge for
    `minutes_planned` as heated, for `minutes_needed` at the fastest even rate that keeps the foam in. `too_fast` says
    that it foams over as heated; so many `feeds_needed` would keep it in (0: no number does). `tried` says that the
    rule was tried for such a slag.
    """

    litres: float
    stages: tuple[GasStage, ...]
    sources: tuple[GasSource, ...]
    degrees_a_minute: Amount
    rate_words: str
    foam: float | None
    free: float | None
    minutes_needed: float | None
    minutes_planned: float | None
    too_fast: bool
    feeds_needed: int
    tried: bool
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class HeatRow:
    """One taker of heat [kJ]."""

    name: str
    heat: float
    source: str


@dataclass(frozen=True, slots=True)
class HeatReport:
    """Heat of charge, pot and lining to the pour [kJ], time [min] and propane [g] with ranges.

    `propane` is None where none is burnt. `rows` add up to `total`; `fluxes` say what each flux costs of it, reaction
    and gas together.
    """

    total: float
    rows: tuple[HeatRow, ...]
    fluxes: tuple[HeatRow, ...]
    minutes: Amount
    propane: Amount | None
    power: float
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class CupelReport:
    """The cupel of a lead button: least mass [g], silver that it costs [%] with its range, whether to scorify first.

    `silver_loss_percent` is None where the button holds no silver.
    """

    cupel: float
    silver_loss_percent: Amount | None
    scorify: bool
    sentence: str
    source: str


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One figure of memory or judgement that the operator may replace: its `value` in `unit`, whether it is his `own`.

    `key` is the name by which it is replaced; `shipped` is the program's own figure with its range, and its source.
    `group` is the heading under which it stands.
    """

    key: str
    words: str
    unit: str
    value: Amount
    own: bool
    source: str
    shipped: Amount
    shipped_source: str
    group: str


@dataclass(frozen=True, slots=True)
class PotReport:
    """Everything that happens between the charge and the pour.

    `answer`, `figure` and `reason` answer "Will the metal come down?". `state` says how reducing the pot is. `drops` is
    None where the slag's viscosity or the pot is not known, `heat` without a pot, `cupel` where no lead collects.
    `watch` names the caution rules that the route brings with it, whether or not they speak up now.
    `retreat` says whether slag and matte are worth another melt, in words; empty where they are not. `figures` are
    those that may be replaced.
    """

    answer: Answer
    figure: str
    reason: str
    state: PotStateName
    route_source: str
    watch: tuple[str, ...]
    redox: RedoxReport
    sulphur: SulphurReport
    button: ButtonReport
    silver: tuple[SilverRow, ...]
    drops: DropsReport | None
    gas: PotGasReport
    heat: HeatReport | None
    cupel: CupelReport | None
    retreat: str
    figures: tuple[FigureRow, ...]
    issues: tuple[Issue, ...]
