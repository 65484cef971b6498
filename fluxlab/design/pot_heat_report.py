"""Drops, gas and heat of the pot, for the report."""

from math import isfinite

from fluxlab.design.pot_metal_report import amount
from fluxlab.design.pot_text import hold_sentence
from fluxlab.design.pot_types import DropsReport, GasSource, GasStage, HeatReport, HeatRow, PotGasReport
from fluxlab.design.report_types import Amount
from fluxlab.fusion.gas import GasRow
from fluxlab.fusion.gas_timing import GasStep
from fluxlab.fusion.heat import Heat
from fluxlab.fusion.heating import Whose
from fluxlab.fusion.losses import Settling
from fluxlab.fusion.pot_types import FusionCharge, InThePot

_STRETCHES = ((350.0, "drying and first heat"), (700.0, "up to red heat"), (900.0, "as it sinters and softens"))
_LAST = "as the liquid charge boils"
_RATES: dict[Whose, str] = {
    "own": "your own rate",
    "furnace": "the mean from cold that the furnace gives",
    "usual": "the usual rate of a small kiln, judgement",
}


def drops_report(charge: FusionCharge, found: Settling | None) -> DropsReport | None:
    """What the hold brings down [%, min]; None where slag or pot is not known."""
    if found is None:
        return None
    table = charge.tables.losses
    hold, prills = table["hold"], table["prills"]
    wanted = found.wanted if isfinite(found.wanted) else None
    percent = Amount(100.0 * found.trapped, 100.0 * found.trapped_low, 100.0 * found.trapped_high)
    return DropsReport(
        size=hold["size"],
        settled_size=found.settled if isfinite(found.settled) else None,
        trapped_percent=percent,
        planned=charge.hold,
        wanted=wanted,
        advised=found.advised,
        sentence=hold_sentence(charge.hold, wanted, found.advised, hold["most"]),
        source=f"Stokes' law, computed; sizes of drops: {prills['source']}; hold: {hold['source']}",
    )


def gas_report(charge: FusionCharge, pot: InThePot) -> PotGasReport:
    """When gas comes and how high it foams [degC, L, mm]."""
    gas, slag = pot.gas, charge.foam
    liquid = slag is not None
    foam = (gas.peak.foam if gas.peak else 0.0) if liquid else None
    return PotGasReport(
        litres=sum(row.cold for row in pot.gases),
        stages=_stages(gas.steps),
        sources=tuple(_source(row) for row in sorted(pot.gases, key=lambda row: -row.cold) if row.cold > 0.01),
        degrees_a_minute=amount(pot.heating.rate),
        rate_words=_RATES[pot.heating.whose],
        foam=foam,
        free=slag.free if slag is not None else None,
        minutes_needed=gas.time_needed if liquid and isfinite(gas.time_needed) else None,
        minutes_planned=gas.time_planned if liquid else None,
        too_fast=gas.stage,
        feeds_needed=gas.feeds,
        tried=gas.tried,
        sentence=gas.issues[0].sentence if gas.issues else _quiet(foam, slag.free if slag is not None else None),
        source=f"{charge.tables.foam['index']['source']}; {charge.tables.foam['slag']['source']}",
    )


def _quiet(foam: float | None, free: float | None) -> str:
    if foam is None or free is None:
        return "How high it foams is not known without a pot and the viscosity of the slag."
    return f"The foam would stand {foam:.0f} mm high on the melt, and {free:.0f} mm are free."


def _source(row: GasRow) -> GasSource:
    return GasSource(row.source, row.species, row.grams, row.cold, row.low, row.high, row.window)


def _stages(steps: tuple[GasStep, ...]) -> tuple[GasStage, ...]:
    """The steps of the heat gathered into four stretches [degC]."""
    found: dict[str, list[GasStep]] = {}
    for step in steps:
        middle = (step.low + step.high) / 2.0
        name = next((words for top, words in _STRETCHES if middle < top), _LAST)
        found.setdefault(name, []).append(step)
    return tuple(
        GasStage(
            name=name,
            low=part[0].low,
            high=part[-1].high,
            litres=sum(step.litres for step in part),
            foam=max(step.foam for step in part),
            giver=_giver(part),
        )
        for name, part in found.items()
    )


def _giver(part: list[GasStep]) -> str:
    """What gives most of the gas of a stretch."""
    litres: dict[str, float] = {}
    for step in part:
        for name, each in step.by_source.items():
            litres[name] = litres.get(name, 0.0) + each
    return max(litres, key=lambda name: litres[name])


def heat_report(pot: InThePot, charge: FusionCharge, burns_propane: bool) -> HeatReport | None:
    """Heat, time and propane to the pour [kJ, min, g]; None without a pot or a burner."""
    found = pot.heat
    if found is None or not isfinite(found.minutes.high) or not isfinite(found.propane.high):
        return None
    table = charge.tables.heat
    rows = (
        HeatRow("oxides of the charge", found.slag, table["sensible"]["source"]),
        HeatRow("metal and matte", found.metal, table["sensible_metal"]["source"]),
        HeatRow("gas that leaves", found.gases, table["sensible_gas"]["source"]),
        HeatRow("reactions and drying", found.reactions, table["reaction"]["source"]),
        HeatRow("pot", found.pot, table["body"]["source"]),
        HeatRow("lining", found.lining, table["body"]["source"]),
    )
    dear = found.by_flux[0] if found.by_flux else None
    costs = f" {dear[0]} takes {dear[1]:.0f} kJ of it." if dear is not None and dear[1] > 0.05 * found.total else ""
    fuel = f", about {found.propane.value:.0f} g of propane" if burns_propane else ""
    time = _time_words(pot, found)
    return HeatReport(
        total=found.total,
        rows=rows,
        fluxes=tuple(HeatRow(name, kj, table["reaction"]["source"]) for name, kj in found.by_flux),
        minutes=amount(found.minutes),
        propane=amount(found.propane) if burns_propane else None,
        power=0.0 if charge.furnace is None else charge.furnace.power,
        sentence=f"Furnace heat {found.total:.0f} kJ, for charge, pot and lining: {time}{fuel}.{costs}",
        source=table["burner"]["source"],
    )


def _time_words(pot: InThePot, found: Heat) -> str:
    """The time to the pour, and the rate that goes with it."""
    minutes, rate = found.minutes, pot.heating.rate.value
    if pot.heating.whose == "own":
        return f"{minutes.value:.0f} min from cold at your {rate:.6g} °C a minute"
    told = f", {rate:.0f} °C a minute" if pot.heating.whose == "furnace" else ""
    return f"{minutes.value:.0f} min ({minutes.low:.0f} to {minutes.high:.0f}) from cold{told}"
