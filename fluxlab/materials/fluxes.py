"""The fluxes: those that every new shelf starts with, and what a gram of any flux delivers."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

from fluxlab import resources
from fluxlab.issue import Issue, Severity, error
from fluxlab.materials.flux_plain import nothing, plain
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component, Part
from fluxlab.materials.jar import mixed
from fluxlab.materials.yield_types import Yield

Lookup = Callable[[str], Component | None]


@cache
def shipped() -> tuple[Component, ...]:
    """The fluxes that every new shelf starts with, each figure with its source."""
    document = resources.toml("fluxes.toml")
    defaults = document["defaults"]
    return tuple(_component(uid, defaults | row) for uid, row in document.items() if uid != "defaults")


def yields(component: Component, lookup: Lookup) -> Yield:
    """What one gram of the flux as weighed delivers [mol/g, g/g].

    `lookup` finds the parts of a jar by their ids. A flux that cannot be read delivers nothing and says why.
    """
    return _yields(component, lookup, ())


def _yields(component: Component, lookup: Lookup, above: tuple[str, ...]) -> Yield:
    if isinstance(component.made_of, ByParts):
        return _jar(component, component.made_of.parts, lookup, (*above, component.uid))
    power = component.lead_power
    return replace(
        plain(component.made_of, component.purity, component.purity_range, component.uid),
        lead_power=power,
        lead_power_range=component.lead_power_range or (power, power),
        swell=component.swell,
        tags=component.tags,
    )


def _jar(component: Component, parts: tuple[Part, ...], lookup: Lookup, path: tuple[str, ...]) -> Yield:
    where = f"lines.{component.uid}"
    problems = _bad_shares(component, parts, where)
    found: list[tuple[Yield, float]] = []
    for part in parts:
        flux = lookup(part.flux)
        if part.flux in path:
            problems.append(error(where, f"{component.name} is a part of itself.", "Take it out of its own parts."))
        elif flux is None:
            sentence = f"{component.name} has a part that is not on the shelf: {part.flux}."
            problems.append(error(where, sentence, "Put that flux on the shelf or take it out of the jar."))
        else:
            inner = _yields(flux, lookup, path)
            problems.extend(replace(issue, where=where, sentence=_named(flux, issue)) for issue in inner.issues)
            found.append((inner, flux.loose_density))
    issues = tuple(dict.fromkeys(problems))
    if any(problem.severity is Severity.ERROR for problem in issues):
        return nothing(component.uid, issues)
    return mixed(component.uid, parts, found, issues)


def _named(flux: Component, issue: Issue) -> str:
    return issue.sentence if issue.sentence.startswith(flux.name) else f"{flux.name}: {issue.sentence}"


def _bad_shares(component: Component, parts: tuple[Part, ...], where: str) -> list[Issue]:
    problems = []
    if sum(part.likely for part in parts) <= 0.0 or any(part.likely < 0.0 for part in parts):
        sentence = f"The parts of {component.name} do not add up to anything."
        problems.append(error(where, sentence, "Give each part its weight."))
    for part in parts:
        low, high = part.likely if part.low is None else part.low, part.likely if part.high is None else part.high
        if not 0.0 <= low <= part.likely <= high:
            sentence = f"The range of {part.flux} in {component.name} does not hold its likely share."
            problems.append(error(where, sentence, "Give low, likely and high in rising order."))
    return problems


def _component(uid: str, row: dict[str, Any]) -> Component:
    oxides = row.get("oxides")
    return Component(
        uid=uid,
        name=row["name"],
        made_of=ByAnalysis(tuple(oxides.items())) if oxides else ByFormula(row["formula"]),
        form=row["form"],
        purity=row["purity"],
        purity_range=row["purity_range"],
        loose_density=row["loose"],
        tapped_density=row["tapped"],
        lead_power=row.get("lead_power", 0.0),
        lead_power_range=tuple(row["lead_power_range"]) if "lead_power_range" in row else None,
        swell=row["swell"],
        tags=frozenset(row.get("tags", ())),
        source=_source(row),
    )


def _source(row: dict[str, Any]) -> str:
    """Where each figure of a component is from, as one text."""
    composition = row.get("composition_source", "composition from the formula")
    titles = ("purity_source", "density_source", "swell_source", "power_source", "remark")
    return "; ".join([composition, *(row[title] for title in titles if title in row)]) + "."
