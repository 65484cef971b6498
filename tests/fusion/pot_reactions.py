"""Reactions that stand behind the figures of the pot, worked out from formulas alone, to check those figures by."""

from fluxlab.fusion.reactions import SPEISS, Reaction, leftover
from fluxlab.materials.formulas import formula


def closed(made: dict[str, float]) -> Reaction:
    """The reaction with the oxygen that it takes from or gives to the pot."""
    oxygen = leftover(made).get("O", 0.0)
    return {**made, "O": -oxygen} if oxygen else made


def reduce(substance: str, becomes: str) -> Reaction:
    """One mole of an oxide giving up oxygen until it is another substance of the same atoms [mol]."""
    first, second = formula(substance).atoms, formula(becomes).atoms
    symbol = next(s for s in second if s != "O")
    return closed({substance: -1.0, becomes: first[symbol] / second[symbol]})


def nitrate(salt: str) -> Reaction:
    """One mole of a nitrate giving alkali, nitrogen and oxygen [mol]."""
    return closed({salt: -1.0, f"{salt.removesuffix('NO3')}2O": 0.5, "N2": 0.5})


def sulphide_of(metal: str, sulphide: str) -> Reaction:
    """One mole of metal taking up sulphur from elsewhere, told as "S" [mol]."""
    atoms = formula(sulphide).atoms
    return {metal: -1.0, "S": -atoms["S"] / atoms[metal], sulphide: 1.0 / atoms[metal]}


def speiss_of_arsenic() -> Reaction:
    """One mole of arsenic taking up iron as speiss [mol]."""
    return {"As": -1.0, "Fe": -2.5, SPEISS: 0.5}


def burn_carbon(fuel: str) -> Reaction:
    """One mole of charcoal, starch or another compound of carbon, hydrogen, oxygen and potash burnt whole [mol]."""
    atoms = formula(fuel).atoms
    made = {fuel: -1.0, "CO2": atoms.get("C", 0.0), "H2O": atoms.get("H", 0.0) / 2.0, "K2O": atoms.get("K", 0.0) / 2.0}
    return closed({species: n for species, n in made.items() if n})
