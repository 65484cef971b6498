"""What a gram of a flux does in the pot beside making slag: reduce, oxidise, take sulphur, bring metal."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType

from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.nitre import NITRATES
from fluxlab.issue import Issue
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, Component
from fluxlab.materials.formulas import formula, read
from fluxlab.materials.oxides import INDEX, Vec

BRINGS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "PbO": ("Pb", 1.0), "Cu2O": ("Cu", 2.0), "FeO": ("Fe", 1.0), "Fe2O3": ("Fe", 2.0), "ZnO": ("Zn", 1.0),
        "Sb2O3": ("Sb", 2.0), "As2O3": ("As", 2.0), "NiO": ("Ni", 1.0), "CoO": ("Co", 1.0), "SnO2": ("Sn", 1.0),
        "Bi2O3": ("Bi", 2.0), "CdO": ("Cd", 1.0),
    }
)  # fmt: skip
"""Oxides of the basis whose metal may leave the slag: the metal and its atoms in one formula unit."""
_NOTHING: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Role:
    """What one gram of a flux as weighed does in the pot [g/g].

    `reducer` is its lead power with the range [g Pb/g], None for what is no reducer. `iron` is metallic iron;
    `nitrates`, `reducible` and `sulphides` go by formula; `heated` is the formula by which it takes heat to react, with
    the pure share. `lead` is the lead of what is reducible.
    """

    reducer: tuple[float, float, float] | None = None
    iron: float = 0.0
    nitrates: Mapping[str, float] = field(default_factory=lambda: _NOTHING)
    reducible: Mapping[str, float] = field(default_factory=lambda: _NOTHING)
    sulphides: Mapping[str, float] = field(default_factory=lambda: _NOTHING)
    heated: tuple[str, float] = ("", 0.0)
    lead: float = 0.0


@lru_cache(maxsize=256)
def role_of(flux: Component) -> Role:
    """What one gram of a plain flux does in the pot [g/g]; a jar has no role of its own, its parts have.

    A substance that cannot be read does nothing. Lead powers are of the flux as weighed and beat its formula.
    """
    parts = _parts(flux)
    heated = next(iter(parts.items())) if isinstance(flux.made_of, ByFormula) and parts else ("", 0.0)
    iron = sum(g for text, g in parts.items() if set(formula(text).atoms) == {"Fe"})
    if iron > 0.0:
        return Role(iron=iron)
    salts = {text: g for text, g in parts.items() if text in NITRATES}
    if salts:
        return Role(nitrates=MappingProxyType(salts), heated=heated)
    sulphides = {text: g for text, g in parts.items() if _is_sulphide(text)}
    if sulphides:
        return Role(sulphides=MappingProxyType(sulphides))
    if flux.lead_power > 0.0:
        low, high = flux.lead_power_range or (flux.lead_power, flux.lead_power)
        return Role(reducer=(flux.lead_power, low, high), heated=heated)
    reducible = {text: g for text, g in parts.items() if oxygen_demand(text) > 0.0}
    lead = _lead_in(reducible)
    if flux.lead_power < 0.0:
        reducible = _by_power(reducible, -flux.lead_power)
    return Role(reducible=MappingProxyType(reducible), heated=heated, lead=lead)


def metals_of(oxides: Vec) -> dict[str, float]:
    """Metals that may leave the slag, of an amount of oxides [mol] [g] by symbol."""
    found: dict[str, float] = {}
    for oxide, (symbol, atoms) in BRINGS.items():
        moles = float(oxides[INDEX[oxide]])
        if moles > 0.0:
            found[symbol] = found.get(symbol, 0.0) + moles * atoms * formula(symbol).mass
    return found


def _parts(flux: Component) -> dict[str, float]:
    """Substances in a gram of a plain flux, by formula [g/g]."""
    pure = min(flux.purity, 1.0)
    if isinstance(flux.made_of, ByFormula):
        found = {flux.made_of.formula.strip(): pure}
    elif isinstance(flux.made_of, ByAnalysis):
        found = {text.strip(): pure * percent / 100.0 for text, percent in flux.made_of.oxides}
    else:
        found = {}
    return {text: g for text, g in found.items() if g > 0.0 and not isinstance(read(text), Issue)}


def _is_sulphide(text: str) -> bool:
    atoms = formula(text).atoms
    return "S" in atoms and "O" not in atoms


def _by_power(reducible: Mapping[str, float], power: float) -> dict[str, float]:
    """Oxidisers [g/g] scaled so that together they keep up so much lead [g Pb/g], as far as their own lead goes.

    Litharge is none of them; it takes the lead that this leaves over, so that no lead is made or lost.
    """
    oxidisers = {s: g for s, g in reducible.items() if s != "PbO"}
    theory = sum(g * oxygen_demand(s) * LEAD_PER_OXYGEN for s, g in oxidisers.items())
    if theory <= 0.0:
        return dict(reducible)
    there, bound = _lead_in(reducible), _lead_in(oxidisers)
    scale = min(power / theory, there / bound) if bound > 0.0 else power / theory
    litharge = (there - scale * bound) / formula("PbO").mass_fractions["Pb"]
    scaled = {s: g * scale for s, g in oxidisers.items()}
    return {**scaled, "PbO": litharge} if litharge > 0.0 else scaled


def _lead_in(substances: Mapping[str, float]) -> float:
    return sum(g * formula(s).mass_fractions.get("Pb", 0.0) for s, g in substances.items())
