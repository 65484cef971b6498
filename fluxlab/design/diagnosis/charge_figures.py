"""The figures of charge and slag that make a cause likely or unlikely."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from fluxlab.design.report_types import Report, TargetReport
from fluxlab.design.ticket_rows import holds
from fluxlab.materials.trade_facts import evident

ARSENIC = 0.757
"""Arsenic in its white oxide [mass fraction]; computed."""
LEAD = 0.928
"""Lead in litharge [mass fraction]; computed. Red lead has hardly less."""


def must_missed(target: TargetReport) -> bool:
    """Whether a hard limit is broken."""
    low = target.state == "below" and target.lo_kind == "must"
    return target.on and (low or (target.state == "above" and target.hi_kind == "must"))


@dataclass(frozen=True)
class ChargeFigures:
    """A report, asked for what a diagnosis needs. Shares in mass % of the slag, masses in g."""

    report: Report

    @cached_property
    def oxides(self) -> Mapping[str, float]:
        """Oxides of the slag, iron as FeO and Fe2O3 [mass %]."""
        return {row.name: self.of_slag(row.grams) for row in self.report.slag.oxides}

    def oxide(self, *names: str) -> float:
        """Oxides of the slag together [mass %]."""
        return sum(self.oxides.get(name, 0.0) for name in names)

    def of_slag(self, grams: float) -> float:
        """A mass as a share of the slag [mass %]."""
        return 100.0 * grams / (self.report.slag.mass or 1.0)

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
    def viscosity(self) -> float | None:
        """Viscosity of the slag at the pour [Pa s]; None where it cannot be told."""
        fluid = self.report.fluid
        return None if fluid is None or fluid.at_pour is None else fluid.at_pour.value

    @property
    def spare_heat(self) -> float | None:
        """By how much the pour is hotter than this slag needs to be melted and as thin as wanted [degC]; below 0 where
        it is too cold, None where the slag's melting cannot be told."""
        fluid = self.report.fluid
        wanted = () if fluid is None else (fluid.melt_free, fluid.pour_wanted)
        needs = [each.value for each in wanted if each is not None]
        return self.report.work.recipe.pour_temperature - max(needs) if needs else None

    @property
    def lead(self) -> float:
        """All lead of the pot, that of ore and fluxes [g]."""
        return self.report.ore.lead + LEAD * self.tagged("lead")

    @property
    def lead_share(self) -> float:
        """All lead of the pot as a part of all that is charged [mass %]."""
        return 100.0 * self.lead / self.report.charge_total if self.report.charge_total > 0.0 else 0.0

    @property
    def roast_taken(self) -> bool:
        """Whether the roast is taken as perfect, so that nobody reckoned or weighed what it leaves."""
        return self.report.ore.roast is not None and self.report.ore.roast.perfect

    def roasted_off(self, species: str) -> float:
        """A gas that the roast is reckoned to drive off [mass % of the charge]."""
        roast = self.report.ore.roast
        return 0.0 if roast is None else self.of_charge(sum(grams for name, grams, _ in roast.gases if name == species))

    @property
    def arsenic_before(self) -> float:
        """Arsenic of the ore before the roast [mass % of the charge]."""
        return self.of_charge(self.report.ore.arsenic) + ARSENIC * self.roasted_off("As4O6")
