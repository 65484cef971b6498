"""What can be added to a description: minerals, oxides and elements, to be picked from a list."""

from collections.abc import Iterable

from fluxlab.gui.ore.share_columns import Kind
from fluxlab.gui.tables.formulas import typeset
from fluxlab.gui.tables.pick_list import Item

BESIDE_OXIDES = ("S", "SO3", "CO2", "H2O", "LOI")
"""What laboratories report beside the oxides."""
NOTES = {"LOI": "loss on ignition", "S": "sulphur", "F": "fluorine"}
LISTED_MINERALS = 3


def offers(kind: Kind, present: Iterable[str]) -> list[Item]:
    """Everything of a kind that is not there yet."""
    there = set(present)
    made = {"minerals": mineral_items, "oxides": _oxide_items, "elements": _element_items}[kind]()
    return [item for item in made if item.key not in there]


def mineral_items() -> list[Item]:
    """The list of minerals with their formulas; a search finds the elements too."""
    from fluxlab.materials.minerals import minerals

    return [Item(m.name, m.name, typeset(m.formula), m.formula) for m in minerals().values()]


def silver_items(element: str) -> list[Item]:
    """The minerals that hold an element, richest first."""
    from fluxlab.materials.minerals import holding

    return [Item(m.name, m.name, typeset(m.formula), m.formula) for m in holding(element)]


def minerals_for(elements: Iterable[str], present: Iterable[str]) -> list[Item]:
    """The list of minerals, those first that hold something of what was assayed."""
    from fluxlab.materials.minerals import minerals

    found, there = set(elements), set(present)
    items = [i for i in mineral_items() if i.key not in there]
    known = minerals()
    return sorted(items, key=lambda i: not found & set(known[i.key].read.atoms))


def _oxide_items() -> list[Item]:
    from fluxlab.materials.oxides import OXIDES

    return [Item(name, typeset(name), NOTES.get(name, ""), name) for name in (*OXIDES, *BESIDE_OXIDES)]


def _element_items() -> list[Item]:
    from fluxlab.materials.minerals import holding, minerals

    symbols = sorted({symbol for m in minerals().values() for symbol in m.read.atoms if symbol not in ("O", "H")})
    return [Item(s, s, "in " + ", ".join(m.name.lower() for m in holding(s)[:LISTED_MINERALS])) for s in symbols]
