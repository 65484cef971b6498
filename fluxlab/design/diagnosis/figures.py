"""The figures of a report that make a cause likely or unlikely."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from fluxlab.design.pot_text import SUBSTANCES
from fluxlab.design.pot_types import IN_MATTE, IN_SLAG, DropsReport
from fluxlab.design.report_types import Report
from fluxlab.design.ticket_rows import holds
from fluxlab.materials.trade_facts import evident

IRON = frozenset(SUBSTANCES[oxide] for oxide in ("Fe2O3", "Fe3O4"))
MANGANESE = frozenset(SUBSTANCES[oxide] for oxide in ("MnO2", "Mn2O3", "Mn3O4"))
BASES = frozenset(SUBSTANCES[oxide] for oxide in ("CuO", "Cu2O", "CuSO4", "Bi2O3", "Pb3O4", "PbO", "PbSO4"))
"""Names under which the report lists oxides that give up oxygen; of the bases the metal comes down."""
STILL_SULPHIDE = (IN_MATTE, IN_SLAG)
REACHED = 1e-3
"""Oxygen that is not worth reducing [g]; judgement."""


@dataclass(frozen=True)
class Figures:
    """A report, asked for what a diagnosis needs. Shares in mass % of the slag, masses in g."""

    report: Report

    @cached_property
    def oxides(self) -> Mapping[str, float]:
        """Oxides of the slag, iron as FeO and Fe2O3 [mass %]."""
        total = self.report.slag.mass or 1.0
        return {row.name: 100.0 * row.grams / total for row in self.report.slag.oxides}

    def oxide(self, *names: str) -> float:
        """Oxides of the slag together [mass %]."""
        return sum(self.oxides.get(name, 0.0) for name in names)

    @property
    def iron(self) -> float:
        """All iron of the slag as FeO [mass %]."""
        return self.oxide("FeO") + 0.8998 * self.oxide("Fe2O3")

    @cached_property
    def minerals(self) -> str:
        """Names of the minerals of the ore, for looking."""
        return " ".join(row.name.lower() for row in self.report.ore.minerals if row.percent.value > 0.0)

    def tagged(self, tag: str) -> float:
        """Mass of the rows that are, or hold, fluxes of a trade fact [g]."""
        shelf = self.report.work.shelf
        total = 0.0
        for line in self.report.lines:
            component = shelf.flux(line.flux)
            if component is not None and (holds(component, tag, shelf) or tag in evident(component)):
                total += line.grams
        return total

    def share(self, tag: str) -> float:
        """The same as a part of the whole charge [mass %]."""
        return 100.0 * self.tagged(tag) / self.report.charge_total if self.report.charge_total > 0.0 else 0.0

    @property
    def degree(self) -> float | None:
        """Silicate degree with boron among the acids [-]."""
        return self.report.slag.indices.degree.get("SB")

    @property
    def fill(self) -> float | None:
        """Loose charge in the pot [part of the brim]."""
        return None if self.report.fill is None else self.report.fill.loose_fraction

    def of_charge(self, grams: float) -> float:
        """A mass as a share of what goes into the pot [mass %]."""
        return 100.0 * grams / self.report.ore.charge if self.report.ore.charge > 0.0 else 0.0

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

    @property
    def viscosity(self) -> float | None:
        """Viscosity of the slag at the pour [Pa s]; None where it cannot be told."""
        fluid = self.report.fluid
        return None if fluid is None or fluid.at_pour is None else fluid.at_pour.value

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
    def lead_off(self) -> float:
        """How far the lead of the button lies outside the band that is aimed at [g]."""
        return sum(target.off_by for target in self.report.targets if target.key == "lead_button" and target.on)

    @property
    def base_share(self) -> float:
        """Metals of the button but silver and gold [part of the charge]."""
        if self.report.pot is None or self.report.ore.charge <= 0.0:
            return 0.0
        metals = self.report.pot.button.metals
        return sum(row.grams.value for row in metals if row.symbol not in ("Ag", "Au")) / self.report.ore.charge

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
