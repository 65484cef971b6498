"""The material in the pot: from the described ore and the charge to slag oxides, metals and what stands apart."""

from collections.abc import Mapping
from math import isfinite
from types import MappingProxyType

import numpy as np

from fluxlab.issue import Issue, error, note, warning
from fluxlab.materials import oxides
from fluxlab.materials.estimate import NINE_IN_TEN
from fluxlab.ore.as_weighed import explained
from fluxlab.ore.feed_types import Feed, FeedMineral, RoastBalance
from fluxlab.ore.ore_types import OreType, Stage
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan
from fluxlab.ore.unit_feed import UnitFeed, unit_feed

EARTHY = ("SiO2", "Al2O3", "TiO2", "CaO", "MgO", "BaO", "K2O", "Na2O")
"""Oxides of the earthy gangue."""
LOOSE = 0.50
"""Bulk density of an ore over the density of its grains, where it is not measured; judgement."""
_MUCH_RAW = 5.0
"""Raw material for so many times the calcine asks whether the ore is what it is said to be [g/g]; judgement."""
_SLURRY = 0.5
"""Water in an ore as it is weighed for the roast, above which the figure is asked about [g/g]; judgement."""
_EARTHY_MASS: oxides.Vec = oxides.MASS * np.array([float(symbol in EARTHY) for symbol in oxides.OXIDES])


def feed(
    ore: OreType, pot_feed: Stage, charge: float, ferric_share: float = 1.0, plan: RoastPlan = PERFECT_PLAN
) -> Feed:
    """The material in the pot for `charge` [g] as weighed, its iron split by `ferric_share` [0..1].

    The charge is what goes into the pot; an ore described raw and melted as calcine goes through the roast of the plan.
    The range of each oxide comes from the ranges of the shares, one after the other moved to its low and its high
    with the mix renormalised, the moves added as a root of squares.
    """
    unit = unit_feed(ore, pot_feed, plan)
    issues = list(unit.issues)
    charge, moisture = _sensible(ore, charge, unit.roast is not None, issues)
    wet = ore.stage == pot_feed and moisture > 0.0
    dry = charge * (1.0 - moisture) if wet else charge
    if wet and charge > 0.0:
        sentence = f"The charge as weighed holds {charge - dry:.1f} g of water."
        issues.append(warning("ore.moisture", sentence, "Dry it before it goes near the melt."))
    if unit.roast is not None and charge > 0.0 and unit.raw > _MUCH_RAW:
        sentence = f"The roast leaves {100.0 / unit.raw:.2g} % of this ore: {charge:g} g of calcine stand for"
        remedy = "Check the minerals; if they are right, recover metal from such an ore in another way."
        issues.append(warning("roast", f"{sentence} {unit.raw * dry / 1000.0:.3g} kg of it.", remedy))
    if unit.roast is not None and charge > 0.0 and moisture > _SLURRY:
        issues.append(_slurry(ore.moisture, charge, unit.raw * dry / (1.0 - moisture)))
    if ore.silver is None and unit.mix.entries:
        issues.append(note("ore.silver", "No silver assay: the silver is what the listed minerals hold."))
    slag = oxides.split_iron(unit.slag, ferric_share) * dry
    low, high = (oxides.grams(oxides.split_iron(end, ferric_share)) * 100.0 for end in (unit.low, unit.high))
    apart, metal, gases = (_times(amounts, dry) for amounts in (unit.apart, unit.metal, unit.gases))
    kept = float(oxides.MASS @ slag) + sum(map(sum, (apart.values(), metal.values(), gases.values())))
    spare = dry * (1.0 - unit.unnamed) - kept
    if spare > 1e-9:
        gases["O2"] = spare
    elements = _times(unit.elements, dry)
    raw = dry * unit.raw
    roasting = unit.roast is not None
    return Feed(
        stage=pot_feed,
        charge=charge,
        dry=dry,
        water=charge - dry,
        raw=raw,
        raw_as_weighed=raw / (1.0 - moisture) if roasting else charge,
        minerals=_minerals(unit, raw),
        oxides=slag,
        percent=oxides.grams(slag) / dry * 100.0 if dry > 0.0 else np.zeros(oxides.SIZE),
        low=low,
        high=high,
        apart=MappingProxyType(apart),
        metal=MappingProxyType(metal),
        gases=MappingProxyType(gases),
        oxygen=max(0.0, -spare) if spare < -1e-9 else 0.0,
        unnamed=dry * unit.unnamed,
        elements=MappingProxyType(elements),
        raw_elements=MappingProxyType(_times(unit.raw_elements, dry)),
        earthy_gangue=float(_EARTHY_MASS @ slag),
        sulphide=dry * unit.sulphide,
        sulphide_sulphur=apart.get("S", 0.0),
        carbonate=dry * unit.carbonate,
        reducible=MappingProxyType(_times(unit.reducible, dry)),
        fuel=MappingProxyType(_times(unit.fuel, dry)),
        solid_density=unit.grains,
        bulk_density=ore.bulk_density or LOOSE * unit.grains,
        bulk_known=bool(ore.bulk_density),
        silver_grade=_grade(unit, "Ag", ore.silver is not None),
        gold_grade=_grade(unit, "Au", ore.gold is not None),
        residual_percent=unit.mix.residual_percent,
        explained=unit.mix.explained,
        roast=_roast(unit, raw, dry) if roasting else None,
        issues=tuple(issues),
    )


def _sensible(ore: OreType, charge: float, roasting: bool, issues: list[Issue]) -> tuple[float, float]:
    """Charge [g] and moisture [g/g] that can be worked with; what could not is said."""
    if not isfinite(charge) or charge < 0.0:
        issues.append(error("charge", f"A charge of {charge:g} g is not possible.", "Give the charge in grams."))
        charge = 0.0
    if not isfinite(ore.moisture) or not 0.0 <= ore.moisture < 100.0:
        taken = "as dry, before its roast" if roasting else "as dry, and as damp in the cautions"
        sentence = f"A moisture of {ore.moisture:g} % is not possible; the ore is taken {taken}."
        issues.append(error("ore.moisture", sentence, "Give 0 % or more, and less than 100 %."))
        return charge, 0.0
    return charge, ore.moisture / 100.0


def _slurry(moisture: float, charge: float, damp: float) -> Issue:
    """What is said of an ore [g as weighed] that would be mostly water [mass %]."""
    weighed = f"{damp:.0f} g" if damp < 1000.0 else f"{damp / 1000.0:.{1 if damp < 1e4 else 0}f} kg"
    sentence = f"At {moisture:g} % moisture {charge:g} g of calcine stand for {weighed} of ore as it is weighed."
    return warning("ore.moisture", sentence, "Check the moisture: an ore that is mostly water is a slurry.")


def _minerals(unit: UnitFeed, raw: float) -> tuple[FeedMineral, ...]:
    return tuple(
        FeedMineral(
            e.mineral.name, e.mineral.formula, 100.0 * e.likely, 100.0 * e.low, 100.0 * e.high, e.likely * raw, e.flag
        )
        for e in unit.mix.entries
    )


def _times(amounts: Mapping[str, float], by: float) -> dict[str, float]:
    return {name: amount * by for name, amount in amounts.items()}


def _grade(unit: UnitFeed, element: str, assayed: bool) -> float | None:
    grade = 1e6 * unit.elements.get(element, 0.0)
    return grade if assayed or grade > 0.0 else None


def _roast(unit: UnitFeed, raw: float, dry: float) -> RoastBalance:
    assert unit.roast is not None
    assert unit.roast_of is not None
    likely, low, high = _change(unit)
    return RoastBalance(
        raw=raw,
        calcine=dry,
        oxygen=unit.roast.oxygen * raw,
        gases=MappingProxyType(_times(unit.roast.gases, raw)),
        solids=MappingProxyType(_times(unit.roast.solids, raw)),
        change=likely,
        change_low=low,
        change_high=high,
        figures=unit.roast_of.figures,
        programme=unit.roast_of.programme,
    )


def _change(unit: UnitFeed) -> tuple[float, float, float]:
    """Change of the dry weight in the roast, likely, low and high [%]: as weighed where a roast explains it."""
    reading = explained(unit.roast_of)
    if reading is None:
        likely, low, high = (100.0 * change for change in unit.change)
        return likely, low, high
    off = NINE_IN_TEN * reading.error
    return reading.weighed, max(reading.weighed - off, -100.0), reading.weighed + off
