"""Reducers and oxidisers of a charge and what they come to, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluxlab.fusion.currency import LEAD_PER_OXYGEN, METAL_OXYGEN
from fluxlab.fusion.demand import Met
from fluxlab.fusion.litharge import SulphideLead
from fluxlab.fusion.nitre import Efficiency
from fluxlab.issue import Issue


@dataclass(frozen=True, slots=True)
class Reducer:
    """A reducer of the charge: its mass [g], its lead power with the likely range [g Pb per g]."""

    name: str
    grams: float
    power: float
    low: float
    high: float

    @property
    def oxygen(self) -> float:
        """Oxygen that it takes [g O]."""
        return self.grams * self.power / LEAD_PER_OXYGEN


@dataclass(frozen=True, slots=True)
class Wall:
    """Carbon that a pot wall gives to one melt, with its likely range [g]; nothing from a clay pot."""

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0


@dataclass(frozen=True, slots=True)
class Redox:
    """The balance of oxygen in a melt [g O unless said].

    `supply` is what reducers, sulphides, iron and the wall take, with its likely range; `demand` what is wanted of
    them, nitre included; `budget` [-] is one, iron left over aside, over the other, None where nothing is wanted. `met`
    tells the order in which it goes, what is met of each step. `by_source` is the supply of each source, sulphides as
    one. `given` is what nitre gives, `escapes` what of its oxygen does no work, `surplus` what is left of it when all
    reducers are burnt; `unspent` is reducer that found nothing to reduce, `iron_left` [g] metallic iron that is free
    for sulphur.

    `lead` [g Pb] comes down, with its likely range, out of `litharge` [g Pb] as oxide; `own_lead` [g Pb] of the charge
    as oxide is in it. `ferric` [0..1] is the share of the iron that stays Fe2O3. `unburnt` [g] is the sulphide, by
    formula, that no oxygen reached, `burnt` [g] the rest; `sulphides` says what the burning of all of it would give.
    `met_low` and `met_high` tell the same as `met`, nitre aside, at the ends of the supply. `brought_back` [g S] is
    sulphur of sulphates that a reducer turns into sulphide. `reach` is the oxygen that is there
    for sulphide and carbon.
    """

    supply: float
    supply_low: float
    supply_high: float
    demand: float
    budget: float | None
    given: float
    escapes: float
    surplus: float
    unspent: float
    iron_left: float
    met: tuple[Met, ...]
    met_low: tuple[Met, ...]
    met_high: tuple[Met, ...]
    by_source: Mapping[str, float]
    lead: float
    lead_low: float
    lead_high: float
    litharge: float
    ferric: float
    burnt: Mapping[str, float]
    unburnt: Mapping[str, float]
    brought_back: float
    reach: float
    sulphides: SulphideLead
    efficiency: Efficiency
    issues: tuple[Issue, ...]

    @property
    def spare(self) -> float:
        """Oxygen that iron left over could still take [g O]; it is in the supply and not in the budget."""
        return self.iron_left * METAL_OXYGEN["Fe"]
