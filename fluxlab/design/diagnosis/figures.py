"""The figures of a report that make a cause likely or unlikely."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from fluxlab.design.pot_types import DropsReport
from fluxlab.design.report_types import Report
from fluxlab.design.ticket_rows import holds
from fluxlab.materials.trade_facts import evident


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
    def sulphate_sulphur(self) -> float:
        """Sulphate sulphur in the pot [mass % of the charge]; 0.4005 is the sulphur of SO3, computed."""
        return self.of_charge(0.4005 * sum(row.grams for row in self.report.ore.apart if row.name == "SO3"))

    @property
    def precious(self) -> float | None:
        """Silver and gold that the charge holds at most [g]."""
        return self.report.precious_metal_limit

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
