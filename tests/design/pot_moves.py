"""What each own figure of the pot is tried on, and what may be seen to move."""

from collections.abc import Mapping
from dataclasses import replace

from fluxlab.fusion.losses import SlagColumn
from fluxlab.fusion.ore_gas import row
from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.pot_types import FusionCharge, InThePot
from fluxlab.fusion.where_types import Where
from tests.fusion.pots import fusion_charge

ORE = {"SiO2": 30.0, "Fe2O3": 10.0, "PbCO3": 8.0, "CuFeS2": 6.0, "PbS": 6.0, "FeAsS": 5.0, "ZnS": 3.0, "MnO2": 3.0}
_NOBLE = {"Ag": 1.5, "Au": 0.2}


def charges() -> Mapping[str, FusionCharge]:
    """Charges by name: of sulphide, without silver, of sulphate, much of it under soda, with nitre and so on."""
    raw = fusion_charge({**ORE, **_NOBLE}, charcoal=2.0, metal_wanted=True, full=True)
    sulphate = {"SiO2": 30.0, "Fe2O3": 10.0, "PbSO4": 12.0, "CuFeS2": 1.0, "ZnCO3": 4.0, **_NOBLE}
    over_nitre = {"SiO2": 30.0, "FeS2": 4.0, "ZnS": 1.0, **_NOBLE}
    layers = {"SiO2": 30.0, "FeAs2": 8.0, "Cu2CO3(OH)2": 12.0, "ZnS": 1.5, "PbS": 1.5, "PbCO3": 6.0, **_NOBLE}
    nitre = fusion_charge(over_nitre, "nitre", nitre=8.0, litharge=40.0, full=True)
    return {
        "raw": raw,
        "gold": replace(raw, elements={**raw.elements, "Ag": 0.0}),
        "calcine": fusion_charge(sulphate, charcoal=0.6, metal_wanted=True, full=True),
        "soda": fusion_charge({"SiO2": 5.0, "PbS": 15.0, "ZnS": 5.0, **_NOBLE}, charcoal=2.0),
        "nitre": nitre,
        "half burnt": fusion_charge({"SiO2": 30.0, "FeS2": 8.0, "PbCO3": 20.0, **_NOBLE}, "nitre", nitre=8.0),
        "potash": replace(raw, fluxes=(("potash", "K2CO3", 20.0), ("borax", "Na2B4O7·5H2O", 30.0))),
        "still": replace(raw, column=None),
        "speiss": fusion_charge({"SiO2": 30.0, "FeAsS": 12.0, "PbS": 3.0, **_NOBLE}, "iron", iron=10.0, full=True),
        "trace": fusion_charge({"SiO2": 30.0, "Fe2O3": 25.0, "PbCO3": 10.0, "PbSO4": 0.9, **_NOBLE}, "iron"),
        "arsenate": fusion_charge({"SiO2": 30.0, "FeAsO4·2H2O": 10.0, "PbCO3": 9.0, **_NOBLE}, charcoal=0.3, full=True),
        "layers": fusion_charge(layers, "iron", iron=10.0, full=True),
        "copper": fusion_charge({"SiO2": 30.0, "Cu2CO3(OH)2": 8.0, **_NOBLE}, charcoal=3.0, full=True),
        "oxidising": fusion_charge({"SiO2": 30.0, "PbCO3": 9.0, "ZnCO3": 4.0}, "nitre", nitre=0.3, full=True),
        "unreduced": fusion_charge({"SiO2": 30.0, "MnO2": 8.0, **_NOBLE}, full=True),
        "stiff": replace(raw, column=SlagColumn(20.0, 15.0, 40.0, 2.8, 35.0, 9.2)),
        "flux": replace(raw, flux_gases=(row("soda", "CO2", 0.4, 1150.0, "Na2CO3"), row("borax", "H2O", 0.3, 1150.0))),
        "gas": replace(raw, flux_gases=(row("nitre", "N2", 0.1, 1150.0), row("ore", "As2O3", 0.1, 1150.0))),
    }


def seen(charge: FusionCharge) -> dict[str, dict[str, float]]:
    """What an operator may see of a pot, by name, under what it belongs to."""
    pot = in_the_pot(charge)
    return {
        "oxygen": _oxygen(pot),
        "metal": _metal(pot) | _layers(pot),
        "drops": _drops(pot),
        "gas": _gas(pot),
        "heat": _heat(pot),
        "heating": _heating(pot),
        "words": _words(pot),
    }


def _oxygen(pot: InThePot) -> dict[str, float]:
    redox, fate = pot.redox, pot.sulphur
    return {
        "oxygen taken": redox.supply,
        "oxygen taken, range": redox.supply_high - redox.supply_low,
        "oxygen wanted": redox.demand,
        "oxygen of nitre": redox.given,
        "oxygen of nitre, range": redox.efficiency.high - redox.efficiency.low,
        "lead of litharge": redox.lead,
        "sulphide burnt": sum(redox.burnt.values()),
        "sulphate": fate.sulphate,
        "brought back": redox.brought_back,
        "iron wanted": fate.iron_wanted.value,
        "nitre wanted": fate.nitre_wanted,
        "state": pot.state.position,
    }


def _metal(pot: InThePot) -> dict[str, float]:
    ends, found = pot.bullion.ends.elements, pot.bullion
    nothing = Where(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    told = {}
    for symbol in ("Ag", "Au", "Pb", "Cu", "Zn", "As"):
        where = ends.get(symbol, nothing)
        told |= {
            f"{symbol} in metal": where.button + where.drops + where.handling,
            f"{symbol} as drops": where.drops,
            f"{symbol} on tools": where.handling,
            f"{symbol} in slag": where.slag,
            f"{symbol} in matte": where.matte,
            f"{symbol} in speiss": where.speiss,
            f"{symbol} as fume": where.fume,
        }
    told["button, range"] = found.mass.high - found.mass.low
    told["density, range"] = found.density.high - found.density.low if found.density else 0.0
    return told


def _layers(pot: InThePot) -> dict[str, float]:
    layers, ends = pot.bullion.layers, pot.bullion.ends
    return {
        "sulphide": ends.matte.mass,
        "dissolved": layers.dissolved.value,
        "dissolved, range": layers.dissolved.high - layers.dissolved.low,
        "matte, range": layers.matte.high - layers.matte.low,
        "speiss": layers.speiss.value,
        "speiss, range": layers.speiss.high - layers.speiss.low,
    }


def _drops(pot: InThePot) -> dict[str, float]:
    drops = pot.settling
    if drops is None:
        return {}
    return {
        "trapped": drops.trapped,
        "trapped, low end": drops.trapped_low,
        "trapped, high end": drops.trapped_high,
        "hold wanted": drops.wanted,
        "hold advised": drops.advised,
    }


def _gas(pot: InThePot) -> dict[str, float]:
    gas = pot.gas
    return {
        "foam": gas.peak.foam / pot.heating.rate.value if gas.peak else 0.0,
        "time for gas": gas.time_needed,
        "gas": sum(r.cold for r in pot.gases),
    }


def _heating(pot: InThePot) -> dict[str, float]:
    """What goes with the rate of heating; `foam` above is that of a degree a minute."""
    return {"rate": pot.heating.rate.value, "time given to gas": pot.gas.time_planned}


def _heat(pot: InThePot) -> dict[str, float]:
    heat = pot.heat
    if heat is None:
        return {}
    return {
        "heat": heat.total,
        "heat of the slag": heat.slag,
        "heat of the metal": heat.metal,
        "heat of the gas": heat.gases,
        "heat of reactions": heat.reactions,
        "heat of the pot": heat.pot,
        "heat of the lining": heat.lining,
        "minutes": heat.minutes.value,
        "minutes, range": heat.minutes.high - heat.minutes.low,
    }


def _words(pot: InThePot) -> dict[str, float]:
    said = " ".join(issue.sentence for issue in pot.issues)
    return {
        "slag worth a melt": float(pot.retreat),
        "speiss warned of": float("speiss would form" in said),
        "soda slag warned of": float("Soda and sulphide without iron" in said),
        "too little reducer": float("metal stays in the slag" in said),
        "too much reducer": float("times the reducer" in said),
    }
