"""Balanced reactions of the pot, as moles of each substance: negative what goes in, positive what comes out.

Oxygen that passes between reducers and oxidisers stands as "O". Every reaction keeps its atoms.
"""

from collections.abc import Mapping
from types import MappingProxyType

from fluxlab.materials.formulas import formula

Reaction = Mapping[str, float]
BURNT_TO: Mapping[str, tuple[str, float, float]] = MappingProxyType(
    {
        "Fe": ("FeO", 1, 1), "Zn": ("ZnO", 1, 1), "Pb": ("PbO", 1, 1), "Mn": ("MnO", 1, 1), "Ni": ("NiO", 1, 1),
        "Co": ("CoO", 1, 1), "Cd": ("CdO", 1, 1), "Cu": ("Cu2O", 2, 1), "Sb": ("Sb2O3", 2, 3), "As": ("As2O3", 2, 3),
        "Sn": ("SnO2", 1, 2), "Te": ("TeO2", 1, 2), "Se": ("SeO2", 1, 2), "Mo": ("MoO3", 1, 3), "C": ("CO2", 1, 2),
        "S": ("SO2", 1, 2),
    }
)  # fmt: skip
"""What an element burns to, how many of its atoms and how many oxygens are in one formula unit."""
SPEISS = "Fe5As2"


def burn(mineral: str, held: float) -> Reaction:
    """One mole of a sulphide or arsenide burnt [mol], `held` [mol/mol] of its sulphur and arsenic kept by soda.

    Sulphur goes to sulphur dioxide and sodium sulphate, arsenic to As2O3 and sodium arsenate.
    """
    made: dict[str, float] = {mineral: -1.0}
    for symbol, n in formula(mineral).atoms.items():
        if symbol == "S":
            _add(made, "SO2", n * (1.0 - held))
            _soda(made, "Na2SO4", n * held, 1.0)
        elif symbol == "As":
            _add(made, "As2O3", n * (1.0 - held) / 2.0)
            _soda(made, "Na3AsO4", n * held, 1.5)
        elif symbol in BURNT_TO:
            oxide, metals, _ = BURNT_TO[symbol]
            _add(made, oxide, n / metals)
        else:
            _add(made, symbol, n)
    return _closed(made)


def leftover(reaction: Reaction) -> Mapping[str, float]:
    """Atoms that a reaction does not account for [mol]; all nought in a balanced one."""
    left: dict[str, float] = {}
    for species, n in reaction.items():
        for symbol, count in formula(species).atoms.items():
            left[symbol] = left.get(symbol, 0.0) + n * count
    return MappingProxyType(left)


def _soda(made: dict[str, float], salt: str, n: float, alkali: float) -> None:
    _add(made, salt, n)
    _add(made, "Na2CO3", -n * alkali)
    _add(made, "CO2", n * alkali)


def _add(made: dict[str, float], species: str, n: float) -> None:
    if n:
        made[species] = made.get(species, 0.0) + n


def _closed(made: Mapping[str, float]) -> Reaction:
    """The reaction with the oxygen that it takes from or gives to the pot."""
    oxygen = leftover(made).get("O", 0.0)
    return MappingProxyType({**made, "O": -oxygen} if oxygen else dict(made))
