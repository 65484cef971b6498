"""Why a row weighs what it weighs, in the operator's words."""

from collections.abc import Mapping

from fluxlab.blend.types import HOUSE, KEPT_DOWN, LEAST, LOCKED, STOCK, UNUSED
from fluxlab.design.recipe import Line, Target
from fluxlab.design.windows import LITHARGE, words
from fluxlab.materials.flux_types import Component


def why(key: str, line: Line, component: Component, targets: Mapping[str, Target], grams: float) -> str:
    """One sentence for what holds a row: a target's end ("degree#lo"), a limit of its own, or the operator's hand."""
    if key == LOCKED:
        if line.grams is not None:
            return "Fixed by you"
        return "Waits for your weight" if component.lead_power != 0.0 else "Held by its own limits"
    if key == STOCK:
        stock = component.stock
        held_by_stock = stock is not None and (line.most is None or stock <= line.most)
        return "All there is on the shelf" if held_by_stock else "At the most you allow"
    if key == LEAST:
        return "At the least you allow"
    if key == HOUSE:
        return "As in the house recipe"
    if key == LITHARGE:
        return "Brings no more lead than the litharge holds"
    down = key.startswith(KEPT_DOWN)
    name, _, side = key.removeprefix(KEPT_DOWN).partition("#")
    target = targets.get(name)
    if key == UNUSED or target is None or grams <= 0.0:
        return _not_needed(component, targets)
    if down:
        end = figure(target.lo if side == "lo" else target.hi, name)
        return f"Kept down by the {words(name)['label'].lower()}, {end}"
    text = words(name)["up" if side == "lo" else "down"]
    return text.format(lo=figure(target.lo, name), hi=figure(target.hi, name))


def _not_needed(component: Component, targets: Mapping[str, Target]) -> str:
    """Words for a row at nothing; of what a route takes against sulphur, that only the sulphur does not ask for it."""
    for tag, key in (("iron", "iron_for_sulphur"), ("nitrate", "nitre_for_sulphur")):
        if tag in component.tags and key in targets and targets[key].on:
            return "The sulphur asks for none"
    return "Not needed"


def figure(value: float | None, key: str) -> str:
    """A target's end as it is shown."""
    return "" if value is None else f"{value:.{int(words(key)['decimals'])}f}"
