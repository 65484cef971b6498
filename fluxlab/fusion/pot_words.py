"""What the pot says in words."""

from collections.abc import Iterator

from fluxlab.fusion.brought_down import bare_iron
from fluxlab.fusion.bullion import Bullion
from fluxlab.fusion.matte import Matte
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import bearable
from fluxlab.fusion.pot_types import FusionCharge, SulphurFate
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphur import IRON_PER_SULPHUR
from fluxlab.issue import Issue, note, warning
from fluxlab.materials.formulas import formula
from fluxlab.slag.metals import METALS

_TELLING = 0.05
"""Masses below this [g] are not spoken of."""
_SODA = formula("Na2CO3").mass
_HARDLY_ANY = 0.1
"""Part of the sulphur of a matte that iron could take, below which iron is no help against it [g/g]: judgement."""
_SOLID = 90.0
"""Share of a button [%] of one metal, from which on the others make it no easier to melt: judgement."""
_MERCURY = "Hg"
_SULPHIDES = {"Cu2S": "copper sulphide", "FeS": "iron sulphide", "PbS": "lead sulphide", "Ag2S": "silver sulphide"}


def grams(value: float) -> str:
    """A mass [g] in words, as fine as it is worth."""
    if value >= 99.5:
        return f"{value:.0f} g"
    if value >= 9.95:
        return f"{value:.1f} g"
    if value >= 0.1:
        return f"{value:.2f} g"
    return f"{value * 1000:.0f} mg" if value >= 0.0005 else "0 g"


def pot_issues(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Bullion, melt: Melt) -> tuple[Issue, ...]:
    """What the operator should know of sulphur and metals in his charge."""
    return (*_sulphur(charge, fate, found, melt), *_metals(charge, found), *_solid(charge, redox, found))


def nitre_helps(charge: FusionCharge, fate: SulphurFate) -> bool:
    """Whether nitre for the sulphide that is left may be advised: never so much that the mix could go off."""
    nitre = fate.nitre_wanted + sum(charge.nitrates.values())
    return fate.nitre_wanted > _TELLING and bearable(nitre, sum(charge.sulphides.values()), charge.charge)


def against_matte(charge: FusionCharge, fate: SulphurFate, found: Bullion) -> str:
    """What keeps the sulphur from silver and lead; empty where no layer of matte is to be expected."""
    if found.layers.matte.value <= _TELLING:
        return ""
    soft = found.ends.matte
    iron, little = fate.iron_wanted, _HARDLY_ANY * IRON_PER_SULPHUR * fate.matte
    if charge.iron >= iron.low > little:
        first = f"Iron is there enough, {grams(charge.iron)}: what it makes of the sulphur is matte too{_mostly(soft)}"
    elif iron.value > little:
        span = f"{grams(iron.value)} ({grams(iron.low)} to {grams(iron.high)})"
        first = f"{span} of iron in all takes the sulphur from lead and silver, and makes iron sulphide of it"
    else:
        first = f"Iron takes next to nothing from it{_mostly(soft)}"
    rest = "A further roast burns it"
    if nitre_helps(charge, fate):
        rest = f"{rest}, or {grams(fate.nitre_wanted)} of nitre more in a clay pot"
    return f"{first}. {rest}."


def _mostly(soft: Matte) -> str:
    """What a matte is made of, where it is one sulphide for the most part or two."""
    told = [_SULPHIDES[s] for s, g in sorted(soft.sulphides.items(), key=lambda each: -each[1]) if g > 0.2 * soft.mass]
    return f", here {' and '.join(told)}" if told else ""


def _sulphur(charge: FusionCharge, fate: SulphurFate, found: Bullion, melt: Melt) -> Iterator[Issue]:
    ends = found.ends
    if found.layers.matte.value > _TELLING:
        silver = ends.elements["Ag"].matte if "Ag" in ends.elements else 0.0
        sentence = f"The matte would hold {grams(silver)} of silver."
        ways = ["Roast the ore further"]
        if fate.iron_wanted.value > _TELLING and charge.iron < fate.iron_wanted.low:
            ways.append(f"take {grams(fate.iron_wanted.value)} of iron in all")
        if nitre_helps(charge, fate):
            ways.append(f"in a clay pot burn the sulphide with about {grams(fate.nitre_wanted)} of nitre")
        yield warning("ore", sentence, f"{', or '.join(ways)}.")
    sulphide = fate.matte + fate.free
    share = charge.tables.sulphur["soda_slag"]["share"]
    if sulphide > max(share * melt.alkali * _SODA, _TELLING) and melt.alkali > 0.0 and charge.iron <= 0.0:
        sentence = "Soda and sulphide without iron make a slag that dissolves silver."
        yield warning("lines", sentence, "Add metallic iron, so that the sulphur ends as iron sulphide.")
    if fate.soda_used > _TELLING:
        sentence = f"Sulphur takes up {grams(fate.soda_used)} of soda as sulphate: that much is no flux."
        yield note("lines", sentence, "Soda that the program weighs has it in; where you fixed the soda, add as much.")


def _metals(charge: FusionCharge, found: Bullion) -> Iterator[Issue]:
    ends = found.ends
    arsenic = charge.elements.get("As", 0.0)
    if arsenic > charge.tables.sulphur["speiss_forms"]["least"] * charge.charge and ends.speiss.mass > _TELLING:
        sentence = "A speiss would form, which takes silver and is hard to treat."
        yield warning("ore", sentence, "Roast the arsenic off under capture, and keep iron out of the charge.")
    vapour = ends.elements["As"].fume if "As" in ends.elements else 0.0
    if vapour > _TELLING:
        sentence = f"About {grams(vapour)} of arsenic leaves as vapour, which is poison."
        yield warning("ore", sentence, "Roast the arsenic off under capture before the melt; never breathe the fume.")
    if charge.elements.get(_MERCURY, 0.0) > 0.0:
        sentence = "All mercury leaves as vapour."
        yield warning("ore", sentence, "Do not melt this: mercury has to be taken off in a retort first.")
    held = sum(charge.elements.get(metal, 0.0) for metal in ("Ag", "Au"))
    if held > 0.0 and not found.parts:
        where = "in matte and slag" if found.layers.matte.value > _TELLING else "in the slag"
        yield warning("ore", f"No metal comes down: silver and gold stay {where}.", "Add a collector.")


def iron_over(redox: Redox, found: Bullion) -> float:
    """Metallic iron that neither oxides, nor sulphur, nor arsenic, nor the button take up [g]."""
    where = found.ends.elements.get("Fe")
    taken = 0.0 if where is None else where.matte + where.speiss + where.button + where.drops
    return min(max(bare_iron(redox) - taken, 0.0), redox.iron_left)


def _solid(charge: FusionCharge, redox: Redox, found: Bullion) -> Iterator[Issue]:
    """Metal that stays solid at the pour: it is no part of a poured button."""
    over, melts = iron_over(redox, found), charge.tables.deportment["dissolves"]["iron_melts"]
    if over > _TELLING and charge.pour < melts:
        sentence = f"About {grams(over)} of iron is left over. It does not melt below {melts:.0f} °C:"
        told = "it stays as sponge and grains in slag and matte, drops of silver on it, and is no button."
        yield note("lines", f"{sentence} {told}", "Draw rod and nails out before the pour.")
    first = found.parts[0] if found.parts else None
    points = {"Fe": melts} | {symbol: metal.melting_point for symbol, metal in METALS.items()}
    if first is not None and first.percent > _SOLID and points.get(first.symbol, 0.0) > charge.pour:
        sentence = f"The button would be {first.percent:.0f} % of a metal that melts at {points[first.symbol]:.0f} °C:"
        pour = f"at {charge.pour:.0f} °C it stays as sponge and grains and cannot be poured."
        yield warning("lines", f"{sentence} {pour}", "Pour hotter, or give it a collector such as lead.")
