"""What each stop of the run says of the job: its one live fact, from the report alone."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fluxlab.design.button_words import button_name, expected_button, mass_words

if TYPE_CHECKING:
    from fluxlab.design.report_types import Answer, Report

STOPS = ("Ore", "Flux", "Weigh-out", "Melts", "Shelf")


@dataclass(frozen=True, slots=True)
class StopFacts:
    """The lines under a stop's name, and the five answers where they stand."""

    first: str = ""
    second: str = ""
    answers: "tuple[Answer, ...]" = ()


@dataclass(frozen=True, slots=True)
class RunFacts:
    """The whole run: masses that set the width of the band [g], and the words at each stop."""

    charge: float
    flux: float
    metal: float
    stops: tuple[StopFacts, ...]


def run_facts(report: "Report", melts: int = 0, mark: str = ".") -> RunFacts:
    """The run for a report; `melts` are on record, figures carry the decimal `mark`."""
    ratio = "" if report.flux_to_ore is None else f"{report.flux_to_ore:.2f} : 1".replace(".", mark)
    answers = tuple(v.answer for v in report.verdicts)
    return RunFacts(
        charge=report.ore.charge,
        flux=report.flux_mass,
        metal=_metal(report),
        stops=(
            StopFacts(f"{report.ore.charge:.1f} g".replace(".", mark), report.ore.feed),
            StopFacts(f"+ {report.flux_mass:.1f} g".replace(".", mark), ratio, answers),
            StopFacts(f"{report.charge_total:.1f} g".replace(".", mark), "reckoned"),
            StopFacts(
                _metal_words(report, mark),
                "no melt yet" if melts == 0 else f"{melts} on record",
            ),
            StopFacts(_fluxes(report), _short(report)),
        ),
    )


def _metal(report: "Report") -> float:
    """Metal that comes down [g], at most where it is not predicted."""
    button = expected_button(report.pot)
    return report.precious_metal_limit or 0.0 if button is None else button.value


def _metal_words(report: "Report", mark: str) -> str:
    button, roast = expected_button(report.pot), report.ore.roast
    if roast is not None and roast.weight_explained is False:
        return "not known"
    if button is not None:
        # the strip has no room for "button 0.058 g"
        mass = f"{1000.0 * button.value:.0f} mg" if button.value < 0.0995 else mass_words(button.value, mark)
        return f"{mass} lead" if button_name(report) == "lead" else f"button {mass}"
    if report.pot is not None and report.pot.button.silver_recovery_percent is not None:
        return "no button"
    limit = report.precious_metal_limit
    return "not known" if limit is None else f"≤ {limit:.3g} g".replace(".", mark)


def _fluxes(report: "Report") -> str:
    count = len(report.work.shelf.fluxes)
    return "1 flux" if count == 1 else f"{count} fluxes"


def _short(report: "Report") -> str:
    """The flux whose stock covers less than two melts like this one."""
    low = [
        (line.stock / line.grams, line.name)
        for line in report.lines
        if line.stock is not None and line.grams > 0 and line.stock < 2 * line.grams
    ]
    if not low:
        return ""
    return f"{min(low)[1].split(',')[0].lower()} low"
