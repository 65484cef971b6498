"""How far the ends of the elements may be off: one figure after the other moved to its ends, squares added."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from math import sqrt

from fluxlab.fusion.deportment import Shares
from fluxlab.fusion.matte import in_slag, speiss
from fluxlab.fusion.where import Bases, Pot, hanging, where_bases, where_noble
from fluxlab.fusion.where_types import Ends, Knobs, Where, layer_masses
from fluxlab.materials.estimate import Estimate

_FOR_BASE_METALS = ("sulphur", "trapped")
"""The figures that move base metals too; the others speak of silver and gold alone."""


@dataclass(frozen=True, slots=True)
class KnobRanges:
    """The figures that decide where silver ends, at their likely value, where most silver and where least is had."""

    likely: Knobs
    best: Knobs
    worst: Knobs


@dataclass(frozen=True, slots=True)
class Moved:
    """Where every element ends [g] with one figure at one of its ends, and what of it are the base metals."""

    bases: Bases
    elements: Mapping[str, Where]


@dataclass(frozen=True, slots=True)
class Places:
    """Where the silver is [g], each with its likely range: button, drops in the slag, dissolved in the slag, matte,
    speiss, fume, pot and tools."""

    button: Estimate
    drops: Estimate
    slag: Estimate
    matte: Estimate
    speiss: Estimate
    fume: Estimate
    handling: Estimate


@dataclass(frozen=True, slots=True)
class Layers:
    """What lies between metal and slag or in the slag [g], with its likely range.

    `matte` is the layer of it, `dissolved` the iron sulphide in the slag, `speiss` the layer of Fe5As2.
    """

    matte: Estimate
    dissolved: Estimate
    speiss: Estimate


def moves(pot: Pot, knobs: KnobRanges, share: Mapping[str, Shares], likely: Bases) -> list[Moved]:
    """The ends of the elements [g] with one figure at its best, then at its worst, for each that has a range.

    `likely` are the base metals as they lie with every figure at its likely value.
    """
    usual = {s: hanging(w, knobs.likely.trapped) for s, w in likely.elements.items()}
    found = []
    for field in fields(Knobs):
        for end in (knobs.best, knobs.worst):
            there = getattr(end, field.name)
            if there == getattr(knobs.likely, field.name) or (field.name == "dissolves" and not likely.matte.mass):
                continue
            knob = replace(knobs.likely, **{field.name: there})
            bases, metals = likely, usual
            if field.name == "dissolves":
                bases = replace(likely, matte=in_slag(likely.matte, there))
            elif field.name in _FOR_BASE_METALS:
                bases = where_bases(pot, knob, share) if field.name == "sulphur" else likely
                metals = {s: hanging(w, knob.trapped) for s, w in bases.elements.items()}
            found.append(Moved(bases, metals | where_noble(pot, bases, knob, share)))
    return found


def spread(value: float, ends: Iterable[float], most: float | None = None) -> Estimate:
    """A value with the range that its moves to the ends make, their squares added, kept between 0 and `most`."""
    less = more = 0.0
    for end in ends:
        off = end - value
        if off < 0.0:
            less += off * off
        else:
            more += off * off
    high = value + sqrt(more)
    return Estimate(value, max(value - sqrt(less), 0.0), high if most is None else min(high, max(most, value)))


def places(pot: Pot, ends: Ends, moved: Iterable[Moved], share: Mapping[str, Shares]) -> Places | None:
    """Where the silver is [g]; None where there is none."""
    silver = ends.elements.get("Ag")
    if silver is None or silver.total <= 0.0:
        return None
    each = [m.elements["Ag"] for m in moved]
    total = silver.total
    fume = pot.miss("Ag", share["Ag"], "fume") * pot.elements["Ag"]
    return Places(
        button=spread(silver.button, (w.button for w in each), total),
        drops=spread(silver.drops, (w.drops for w in each), total),
        slag=spread(silver.slag, (w.slag for w in each), total),
        matte=spread(silver.matte, (w.matte for w in each), total),
        speiss=spread(silver.speiss, (w.speiss for w in each), total),
        fume=Estimate(silver.fume, max(silver.fume - fume, 0.0), min(silver.fume + fume, total)),
        handling=spread(silver.handling, (w.handling for w in each), total),
    )


def layers(pot: Pot, ends: Ends, moved: Iterable[Moved], share: Mapping[str, Shares]) -> Layers:
    """Matte, dissolved sulphide and speiss with their ranges [g], the metals in them that have no formula there too."""
    others = [(m.bases.matte, layer_masses(m.elements, m.bases.matte, m.bases.speiss)[0]) for m in moved]
    layer, hard = layer_masses(ends.elements, ends.matte, ends.speiss)
    return Layers(
        matte=spread(layer, (*(each for _, each in others), *_about(layer, pot))),
        dissolved=spread(ends.matte.dissolved, (each.dissolved for each, _ in others)),
        speiss=_speiss(pot, ends, hard, share),
    )


def _speiss(pot: Pot, ends: Ends, mass: float, share: Mapping[str, Shares]) -> Estimate:
    """Speiss of so much `mass` [g] with its range: by the share of the arsenic, as far as there is iron."""
    arsenic, iron = max(pot.elements.get("As", 0.0), 0.0), pot.iron_for_speiss(ends.matte, share)
    if "As" not in share or arsenic <= 0.0:
        return Estimate(0.0, 0.0, 0.0)
    part, wide, also = share["As"].matte, pot.miss("As", share["As"], "matte"), mass - ends.speiss.mass
    by_share = (speiss(arsenic * each, iron).mass + also for each in (part - wide, min(part + wide, 1.0)))
    return spread(mass, (*by_share, *_about(mass, pot)))


def _about(layer: float, pot: Pot) -> tuple[float, float]:
    """A layer [g] is not known to better than the metals in it are."""
    off: float = pot.tables.sulphur["matte_metals"]["off"]
    return (1.0 - off) * layer, (1.0 + off) * layer
