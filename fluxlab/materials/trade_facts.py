"""Trade facts of a flux that caution rules ask for, and what its formula says about them by itself."""

from collections.abc import Callable, Mapping
from functools import lru_cache

from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component

TAGS: Mapping[str, str] = {
    "hydrated": "holds water",
    "gas-former": "gives off gas",
    "fluoride": "holds fluoride",
    "lead": "holds lead",
    "nitrate": "is a nitrate",
    "oxidiser": "gives oxygen",
    "reducer": "takes oxygen",
    "chloride": "holds chloride",
    "iron": "is metallic iron",
    "forbidden": "must never go into the pot",
}
# R14 of the caution rules: ammonium, chlorates, perchlorates, peroxides, powders of light metals
_FORBIDDEN_PARTS = ("NH4", "ClO3", "ClO4")
_PEROXIDES = frozenset({"Na2O2", "K2O2", "BaO2", "CaO2", "H2O2", "Li2O2", "SrO2", "MgO2", "ZnO2"})
_LIGHT_METALS = frozenset({"Al", "Mg", "Zn"})
MadeOf = ByFormula | ByAnalysis | ByParts


def in_words(tags: frozenset[str]) -> str:
    """The ticked facts as one line."""
    return ", ".join(words for tag, words in TAGS.items() if tag in tags) or "nothing special"


@lru_cache(maxsize=512)
def suggested(made_of: MadeOf) -> frozenset[str]:
    """The facts that a formula or an analysis shows by itself; a jar has those of its parts."""
    if isinstance(made_of, ByParts):
        return frozenset()
    if isinstance(made_of, ByAnalysis):
        names = "".join(name for name, share in made_of.oxides if share > 0.0)
        loss = {"H2O": {"hydrated", "gas-former"}, "CO2": {"gas-former"}}.get(made_of.loss, set())
        return frozenset(loss | _of_atoms(frozenset(_elements(names))))
    text = made_of.formula.replace(" ", "")
    atoms = frozenset(_elements(text))
    facts = _of_atoms(atoms)
    if "NO3" in text or ("N" in atoms and "O" in atoms and "H" not in atoms):
        facts |= {"nitrate", "oxidiser", "gas-former"}
    if "H" in atoms and "C" not in atoms:
        facts |= {"hydrated", "gas-former"}
    if "CO3" in text:
        facts |= {"gas-former"}
    elif "C" in atoms:
        facts |= {"reducer"}
    if atoms == {"Fe"}:
        facts |= {"iron"}
    if text in _PEROXIDES or (atoms <= _LIGHT_METALS and atoms) or any(part in text for part in _FORBIDDEN_PARTS):
        facts |= {"forbidden"}
    return frozenset(facts)


# What a formula shows and no missing tick may hide; the other facts are the operator's to judge.
_EVIDENT = frozenset({"nitrate", "fluoride", "lead", "hydrated", "chloride", "forbidden"})


def evident(component: Component) -> frozenset[str]:
    """The facts of a flux: those that are ticked, and the dangerous ones that its formula or analysis shows."""
    return component.tags | (suggested(component.made_of) & _EVIDENT)


def carried_over(old: Component, made_of: MadeOf) -> frozenset[str]:
    """Facts of a flux whose description changed: what was ticked by hand stays, what the formula says follows it."""
    return (old.tags - suggested(old.made_of)) | suggested(made_of)


def power_by_formula(component: Component, lookup: Callable[[str], Component | None]) -> float:
    """Lead that the flux makes (positive) or burns (negative) when all its oxygen is used [g Pb/g]."""
    from fluxlab.materials.fluxes import yields

    made = yields(component, lookup)
    given = sum(gas.grams for gas in made.gases if gas.species == "O2")
    return (made.oxygen - given) * LEAD_PER_OXYGEN


LEAD_PER_OXYGEN = 207.2 / 15.999
"""Lead that goes with one gram of oxygen in PbO [g/g], IUPAC standard atomic weights."""


def _of_atoms(atoms: frozenset[str]) -> set[str]:
    facts = set()
    if "F" in atoms:
        facts.add("fluoride")
    if "Pb" in atoms:
        facts.add("lead")
    if atoms & {"Cl", "Br", "I"}:
        facts.add("chloride")
    return facts


def _elements(text: str) -> list[str]:
    found, i = [], 0
    while i < len(text):
        if text[i].isupper():
            two = text[i : i + 2]
            found.append(two if len(two) == 2 and two[1].islower() else text[i])
            i += len(found[-1])
        else:
            i += 1
    return found
