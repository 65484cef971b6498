"""Facts about the ore that caution rules ask for: what it is made of, by mineral."""

import re
from collections.abc import Iterable
from functools import lru_cache

from fluxlab.design.recipe import Work
from fluxlab.ore.analysis import mix
from fluxlab.ore.feed_types import Feed, FeedMineral
from fluxlab.ore.ore_types import OreType

_STUBBORN = frozenset({"FeCr2O4", "FeTiO3", "ZrSiO4", "SnO2", "FeWO4", "MnWO4", "Cr2O3", "ZrO2", "WO3"})
"""Chromite, ilmenite, zircon, cassiterite and wolframite, and the oxides that an assay gives for them."""
_CLOTTING = frozenset({"Sb2S3", "As4S4", "AsS", "As2S3"})
_RADIOACTIVE = re.compile(
    r"monazit|pitchblende|uraninit|thorianit|thorit|autunit|torbernit|carnotit|coffinit"
    r"|^U$|^Th$|^U3O8$|^UO[23]$|^ThO2$",
    re.IGNORECASE,
)
_SPEISS = ("Fe", "Ni", "Co")
_HIGHER_MANGANESE = ("MnO2", "Mn2O3", "Mn3O4")
_SULPHATES = ("BaSO4", "CaSO4")
_QUARTZ = 1.0
"""Share of quartz from which on an ore counts as siliceous [mass %]; judgement."""


def stubborn(feed: Feed) -> tuple[tuple[str, ...], float]:
    """The minerals of the ore that hardly dissolve, and their share [mass %]."""
    found = [m for m in feed.minerals if m.formula in _STUBBORN and m.likely > 0.0]
    return tuple(m.name for m in found), sum(m.likely for m in found)


def clotting(feed: Feed) -> tuple[str, ...]:
    """Sulphides of the ore that melt early in a roast."""
    return _named(feed.minerals, _CLOTTING)


def roast_start(feed: Feed) -> float | None:
    """Where the programme of the roast begins to burn, after drying [degC]; None where nothing is roasted."""
    steps = () if feed.roast is None else feed.roast.programme.steps
    return next((step.low for step in steps if step.key == "low"), None)


@lru_cache(maxsize=64)
def radioactive(ore: OreType) -> tuple[str, ...]:
    """What the description names that is radioactive, whichever of the three descriptions counts."""
    every = (*ore.minerals, *ore.oxides, *ore.elements)
    named = [share.what for share in every if share.likely > 0.0 or (share.high or 0.0) > 0.0]
    return tuple(dict.fromkeys(name for name in (*named, *ore.ticked) if _RADIOACTIVE.search(name)))


def speiss_metals(feed: Feed, iron: float) -> tuple[str, ...]:
    """Metals that arsenic makes speiss with; `iron` [g] is what the recipe adds as metal."""
    words = {"Fe": "iron", "Ni": "nickel", "Co": "cobalt"}
    return tuple(words[s] for s in _SPEISS if feed.elements.get(s, 0.0) > 0.0 or (s == "Fe" and iron > 0.0))


def lead_with_silica(feed: Feed) -> bool:
    """Whether the raw material holds lead and silica."""
    return feed.raw_elements.get("Pb", 0.0) > 0.0 and feed.raw_elements.get("Si", 0.0) > 0.0


def nickel_cobalt(feed: Feed) -> float:
    """Nickel and cobalt in the pot [g]."""
    return feed.elements.get("Ni", 0.0) + feed.elements.get("Co", 0.0)


def manganese(feed: Feed) -> float:
    """Higher manganese oxides in the pot [g]."""
    return sum(feed.reducible.get(name, 0.0) for name in _HIGHER_MANGANESE)


def sulphate_gangue(feed: Feed) -> float:
    """Barium and calcium sulphate in the pot [g]."""
    return sum(feed.reducible.get(name, 0.0) for name in _SULPHATES)


def unknown_share(work: Work, feed: Feed) -> float:
    """What the description does not name: of the dry charge by an assay, else of the ore, before shares are scaled to a
    whole [mass %]."""
    unnamed = feed.unnamed / feed.dry if feed.dry > 0.0 else 0.0
    return 100.0 * max(unnamed, mix(work.recipe.ore).missing)


def assayed(work: Work) -> bool:
    """Whether a laboratory has said anything about this ore."""
    ore = work.recipe.ore
    return ore.silver is not None or ore.gold is not None or ore.known_by != "minerals"


def quartz(feed: Feed) -> tuple[str, ...]:
    """The ore, named, where it holds quartz enough to count as siliceous."""
    rich = any(m.formula == "SiO2" and m.likely >= _QUARTZ for m in feed.minerals)
    return ("quartz in the ore",) if rich else ()


def _named(minerals: Iterable[FeedMineral], formulas: frozenset[str]) -> tuple[str, ...]:
    return tuple(m.name for m in minerals if m.formula in formulas and m.likely > 0.0)
