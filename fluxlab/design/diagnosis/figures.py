"""The figures of a report that make a cause likely or unlikely: what the pot is reckoned to make of the charge."""

from dataclasses import dataclass
from functools import cached_property

from fluxlab.design.diagnosis.charge_figures import ChargeFigures
from fluxlab.design.pot_text import SUBSTANCES
from fluxlab.design.pot_types import AS_SULPHATE, IN_MATTE, IN_SLAG, DropsReport

IRON = frozenset(SUBSTANCES[oxide] for oxide in ("Fe2O3", "Fe3O4"))
MANGANESE = frozenset(SUBSTANCES[oxide] for oxide in ("MnO2", "Mn2O3", "Mn3O4"))
BASES = frozenset(SUBSTANCES[oxide] for oxide in ("CuO", "Cu2O", "CuSO4", "Bi2O3", "Pb3O4", "PbO", "PbSO4"))
"""Names under which the report lists oxides that give up oxygen; of the bases the metal comes down."""
STILL_SULPHIDE = (IN_MATTE, IN_SLAG)
REACHED = 1e-3
"""Oxygen that is not worth reducing [g]; judgement."""


IRON_OF_SULPHUR, IRON_OF_SPEISS = 1.742, 0.651
"""Iron that sulphur takes as FeS [g/g], and iron in speiss as Fe5As2 [mass fraction]; computed."""
PRECIOUS, NOT_BASE = ("Ag", "Au"), ("Ag", "Au", "Pb", "Fe")
"""Metals of a button that are no base metal; and those that make it neither hard nor grey, or are told apart."""


@dataclass(frozen=True)
class Figures(ChargeFigures):
    """A report, asked for what a diagnosis needs. Shares in mass % of the slag, masses in g."""

    @property
    def sulphide_sulphur(self) -> float:
        """Sulphide sulphur in the pot [mass % of the charge]."""
        return self.of_charge(sum(row.grams for row in self.report.ore.apart if row.name == "S"))

    @property
    def sulphide_left(self) -> float:
        """Sulphur that is still sulphide when the charge has melted, in matte, slag or metal [mass % of the charge]."""
        if self.report.pot is None:
            return self.sulphide_sulphur
        left = sum(row.sulphur for row in self.report.pot.sulphur.rows if row.name in STILL_SULPHIDE)
        return self.of_charge(left)

    @property
    def alkali_sulphate(self) -> float:
        """Alkali sulphate that floats on the slag [mass % of the charge]."""
        rows = () if self.report.pot is None else self.report.pot.sulphur.rows
        return self.of_charge(sum(row.mass.value for row in rows if row.name == AS_SULPHATE and row.mass is not None))

    @property
    def spare_iron(self) -> float:
        """Metallic iron over what sulphur and arsenic take [g]: all sulphide that is left counts as FeS, so that it is
        rather too little."""
        taken = IRON_OF_SULPHUR * self.sulphide_left * self.report.ore.charge / 100.0 + IRON_OF_SPEISS * self.speiss
        return max(self.tagged("iron") - taken, 0.0)

    @property
    def iron_met(self) -> float:
        """Metallic iron over what the sulphur asks for [-]; 0 where it asks for none."""
        wanted = None if self.report.pot is None else self.report.pot.sulphur.iron_wanted
        return 0.0 if wanted is None or wanted.value <= 0.0 else self.tagged("iron") / wanted.value

    @property
    def sulphate_sulphur(self) -> float:
        """Sulphate sulphur in the pot [mass % of the charge]; 0.4005 is the sulphur of SO3, computed."""
        return self.of_charge(0.4005 * sum(row.grams for row in self.report.ore.apart if row.name == "SO3"))

    @property
    def button(self) -> float | None:
        """The button that is to be expected [g]; None where no grade is given and no other metal comes down."""
        found = 0.0 if self.report.pot is None else self.report.pot.button.mass.value
        return None if self.report.precious_metal_limit is None and found <= 0.0 else found

    def in_button(self, *symbols: str) -> float:
        """Metals that are reckoned to come down in the button [g]."""
        metals = () if self.report.pot is None else self.report.pot.button.metals
        return sum(row.grams.value for row in metals if row.symbol in symbols)

    @property
    def hardeners(self) -> float:
        """Metals of the button but silver, gold, lead and iron [g]."""
        metals = () if self.report.pot is None else self.report.pot.button.metals
        return sum(row.grams.value for row in metals if row.symbol not in NOT_BASE)

    def of_button(self, grams: float) -> float:
        """A mass as a share of the button that is to be expected [mass %]."""
        return 100.0 * grams / self.button if self.button else 0.0

    @property
    def matte(self) -> float:
        """Matte that the pot is reckoned to make [g]."""
        return 0.0 if self.report.pot is None else self.report.pot.sulphur.matte.value

    @property
    def speiss(self) -> float:
        """Speiss that the pot is reckoned to make [g]."""
        return 0.0 if self.report.pot is None else self.report.pot.sulphur.speiss.value

    @property
    def budget(self) -> float | None:
        """Reducers over what is to be reduced [-]; None where nothing is."""
        return None if self.report.pot is None else self.report.pot.redox.budget

    @property
    def drops(self) -> DropsReport | None:
        """The metal drops in the slag; None where they cannot be told."""
        return None if self.report.pot is None else self.report.pot.drops

    @property
    def base_wanted(self) -> bool:
        """Whether a button of base metal is aimed at."""
        return any(target.key == "lead_button" and target.on for target in self.report.targets)

    @property
    def metal_asked(self) -> bool:
        """Whether metal is wanted from oxides: a lead button, or a share of what can be reduced."""
        return any(target.key in ("lead_button", "reducer_budget") and target.on for target in self.report.targets)

    @property
    def too_much_lead(self) -> float:
        """How much lead comes down over the band that is aimed at [g]."""
        over = (t for t in self.report.targets if t.key == "lead_button" and t.on and t.state == "above")
        return sum(target.off_by for target in over)

    @property
    def lead_off(self) -> float:
        """How far the lead of the button lies outside the band that is aimed at [g]."""
        return sum(target.off_by for target in self.report.targets if target.key == "lead_button" and target.on)

    @property
    def base_share(self) -> float:
        """Metals of the button but silver and gold [part of the charge]."""
        if self.report.pot is None or self.report.ore.charge <= 0.0:
            return 0.0
        metals = self.report.pot.button.metals
        return sum(row.grams.value for row in metals if row.symbol not in PRECIOUS) / self.report.ore.charge

    @property
    def layer_share(self) -> float:
        """Matte and speiss together [part of the charge]."""
        return (self.matte + self.speiss) / self.report.ore.charge if self.report.ore.charge > 0.0 else 0.0

    def recovery(self, metal: str) -> float:
        """Silver or gold that comes into the button [%]; 0 where the charge holds none."""
        if self.report.pot is None:
            return 0.0
        button = self.report.pot.button
        found = button.silver_recovery_percent if metal == "silver" else button.gold_recovery_percent
        return 0.0 if found is None else found.value

    @cached_property
    def _asked(self) -> tuple[tuple[str, float, float], ...]:
        """What gives up oxygen, in the order of reduction: name, all of its oxygen, what of it is not reached [g]."""
        rows = () if self.report.pot is None else self.report.pot.redox.rows
        return tuple(
            (row.name, row.oxygen, row.oxygen * (1.0 - (row.met_percent or 0.0) / 100.0))
            for row in rows
            if not row.takes
        )

    def unmet_up_to(self, oxides: frozenset[str]) -> tuple[tuple[str, float], ...]:
        """What is reduced before the last of these oxides, them with it, and is not reached: name, oxygen [g]; empty
        where they are reached or are not there."""
        left = [(name, oxygen) for name, _, oxygen in self._asked]
        ends = [k for k, (name, oxygen) in enumerate(left) if name in oxides and oxygen > REACHED]
        return tuple(row for row in left[: ends[-1] + 1] if row[1] > REACHED) if ends else ()

    def unmet_share(self, oxides: frozenset[str]) -> float:
        """Part of the oxygen of these oxides that no reducer reaches [-]; 0 where they are not there."""
        own = [(asked, left) for name, asked, left in self._asked if name in oxides]
        asked = sum(each for each, _ in own)
        return sum(left for _, left in own) / asked if asked > 0.0 else 0.0
