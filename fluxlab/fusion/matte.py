"""Matte and speiss: what the sulphur and the arsenic that are left make, and of which metals.

Sulphur goes to copper first, then to iron as far as there is any, then to lead, then to silver; what is left belongs to
zinc, manganese or soda and makes no layer. Arsenic that stays makes Fe5As2 as far as iron is there. The slag dissolves
some iron sulphide, the more the more alkaline it is; only what is over makes a layer.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from fluxlab import resources
from fluxlab.fusion.reactions import SPEISS
from fluxlab.fusion.tables import Table
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import atomic_mass, formula

MATTE_ORDER = (("Cu", "Cu2S"), ("Fe", "FeS"), ("Pb", "PbS"), ("Ag", "Ag2S"))
"""Metals in the order in which they take sulphur, each with its sulphide."""
SPEISS_PER_ARSENIC = formula(SPEISS).mass / (2.0 * atomic_mass("As"))
"""Speiss Fe5As2 from one gram of arsenic [g/g]: 2.863, computed."""
IRON_PER_ARSENIC = SPEISS_PER_ARSENIC - 1.0
"""Iron in the speiss of one gram of arsenic [g/g]: 1.863, computed."""


@dataclass(frozen=True, slots=True)
class Matte:
    """Sulphides that sulphur makes [g] by formula, in all `mass` [g]; `metals` [g] bound in them by symbol.

    `dissolved` [g] of it the slag takes up, `layer` [g] stands between slag and metal; `free_sulphur` [g] is bound by
    none of these metals.
    """

    sulphides: Mapping[str, float]
    metals: Mapping[str, float]
    mass: float
    dissolved: float
    layer: float
    free_sulphur: float


@dataclass(frozen=True, slots=True)
class Speiss:
    """Speiss as Fe5As2 [g]: arsenic and iron in it [g]."""

    mass: float
    arsenic: float
    iron: float


def sulphur_data() -> dict[str, Any]:
    """The tables of resources/fusion/sulphur.toml."""
    return resources.toml("fusion/sulphur.toml")


def matte(sulphur: float, metals: Mapping[str, float], dissolves: float = 0.0) -> Matte:
    """Matte of so much sulphide sulphur [g] and the metals that it may take [g]; the slag `dissolves` so much [g].

    `metals` by symbol; those of them that a matte does not hold are left aside.
    """
    left = max(sulphur, 0.0)
    sulphides: dict[str, float] = {}
    bound: dict[str, float] = {}
    for symbol, sulphide in MATTE_ORDER:
        whole = formula(sulphide)
        per_sulphur = whole.mass_fractions[symbol] / whole.mass_fractions["S"]
        taken = min(left, max(metals.get(symbol, 0.0), 0.0) / per_sulphur)
        if taken > 0.0:
            sulphides[sulphide] = taken / whole.mass_fractions["S"]
            bound[symbol] = min(taken * per_sulphur, metals[symbol])
            left -= taken
    mass = sum(sulphides.values())
    found = Matte(MappingProxyType(sulphides), MappingProxyType(bound), mass, 0.0, mass, left)
    return in_slag(found, dissolves)


def in_slag(found: Matte, dissolves: float) -> Matte:
    """A matte of which the slag dissolves so much iron sulphide [g], as far as there is any."""
    dissolved = min(found.sulphides.get("FeS", 0.0), max(dissolves, 0.0))
    return replace(found, dissolved=dissolved, layer=found.mass - dissolved)


def speiss(arsenic: float, iron: float) -> Speiss:
    """Speiss of so much arsenic that stays in the pot and the iron that it may take [g]."""
    held = min(max(arsenic, 0.0), max(iron, 0.0) / IRON_PER_ARSENIC)
    return Speiss(held * SPEISS_PER_ARSENIC, held, held * IRON_PER_ARSENIC)


def dissolved_sulphide(slag: float, alkalinity: float, data: Table | None = None) -> Estimate:
    """Iron sulphide that a slag [g] of an alkalinity [-] takes up without a layer, with its likely range [g]."""
    row = (data or sulphur_data())["dissolves"]
    way = (alkalinity - row["acid_at"]) / (row["alkaline_at"] - row["acid_at"])
    share: float = row["acid"] + min(max(way, 0.0), 1.0) * (row["alkaline"] - row["acid"])
    likely = max(slag, 0.0) * share
    return Estimate(likely, likely * row["less"], likely * row["more"])
