"""What can stand in for a flux when its jar is empty."""

import numpy as np

from fluxlab.design.balance import Balance, balance
from fluxlab.design.edits.common import line_index
from fluxlab.design.edits.flux import add_flux, swap_flux
from fluxlab.design.limit_words import in_sentence, limit_words
from fluxlab.design.offer_types import Offer
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_types import Mend
from fluxlab.materials.flux_types import Component
from fluxlab.materials.fluxes import yields
from fluxlab.materials.oxides import OXIDES, Vec
from fluxlab.materials.trade_facts import evident
from fluxlab.materials.yield_types import Yield

_MOST, _TRIED = 3, 6
# Oxides that do the same work count as one; how alike two fluxes are is the cosine between their moles by work.
_WORK = (
    ("SiO2",), ("B2O3", "P2O5"), ("Na2O", "K2O", "Li2O"), ("CaO", "MgO", "BaO", "SrO"), ("PbO",), ("FeO", "Fe2O3"),
    ("CaF2", "F"), ("MnO",), ("ZnO",), ("Al2O3",),
)  # fmt: skip
_AS_WORK: Vec = np.array([[float(symbol in group) for symbol in OXIDES] for group in _WORK])
_ALIKE = 0.85
"""How alike a stand-in must be; judgement: boric acid may stand for borax, sand not for soda."""
_SAID = (
    ("gas-former", "it will swell"),
    ("hydrated", "it holds water"),
    ("fluoride", "it gives off fluoride"),
    ("chloride", "it gives off fumes"),
    ("lead", "it brings lead"),
)


def empty_jars(work: Work, found: Balance) -> tuple[str, ...]:
    """Rows of which the shelf has nothing, or all of which this recipe uses up."""
    used_up = set(found.result.at_stock)
    return tuple(
        line.flux
        for line, component in zip(found.fluxes.lines, found.fluxes.components, strict=True)
        if component.stock is not None
        and (component.stock <= 0.0 or (line.flux in used_up and (line.most is None or component.stock <= line.most)))
    )


def swap_offers(work: Work, found: Balance, flux: str = "") -> tuple[Offer, ...]:
    """What can stand in for `flux`, or for every empty jar [g of each by solving with it], the likest first."""
    wanted = (flux,) if flux else empty_jars(work, found)
    gave = frozenset(w.key for w in found.result.opened)
    return tuple(offer for each in wanted for offer in _offers_for(work, each, gave))


def _offers_for(work: Work, flux: str, gave: frozenset[str]) -> list[Offer]:
    index = line_index(work.recipe, flux)
    missing = work.shelf.flux(flux)
    if index is None or missing is None:
        return []
    line, own = work.recipe.lines[index], yields(missing, work.shelf.flux)
    made = []
    for component in work.shelf.fluxes:
        there = line_index(work.recipe, component.uid)
        in_use = there is not None and not work.recipe.lines[there].hidden
        if component.uid == flux or in_use or component.stock == 0.0 or "forbidden" in evident(component):
            continue
        other = yields(component, work.shelf.flux)
        likeness = _likeness(own, other)
        if likeness >= _ALIKE:
            made.append((-likeness, component, equivalent(own, other)))
    made.sort(key=lambda each: (round(each[0], 3), len(evident(each[1]))))
    tried = [_offer(work, line, missing, component, ratio, gave) for _, component, ratio in made[:_TRIED]]
    tried.sort(key=lambda pair: not pair[0])
    return [offer for _, offer in tried[:_MOST]]


def _likeness(a: Yield, b: Yield) -> float:
    """How alike two fluxes work [0..1]: reducers and oxidisers by that alone, the others by their oxides."""
    if a.lead_power or b.lead_power:
        return float(a.lead_power * b.lead_power > 0.0)
    work_a, work_b = _AS_WORK @ a.oxides, _AS_WORK @ b.oxides
    size = float(np.linalg.norm(work_a) * np.linalg.norm(work_b))
    return float(work_a @ work_b) / size if size > 0.0 else 0.0


def equivalent(a: Yield, b: Yield) -> float:
    """Grams of b that do the work of one gram of a [g/g]: by lead power, or by the oxides that matter most in a."""
    if a.lead_power and b.lead_power:
        return a.lead_power / b.lead_power
    work_a, work_b = _AS_WORK @ a.oxides, _AS_WORK @ b.oxides
    main = int(np.argmax(np.minimum(work_a, work_b)))
    return float(work_a[main] / work_b[main]) if work_b[main] > 0.0 else 0.0


def _offer(
    work: Work, line: Line, missing: Component, by: Component, ratio: float, gave: frozenset[str]
) -> tuple[bool, Offer]:
    """The offer, and whether nothing gives way with this flux that did not before."""
    name, other = in_sentence(missing.name), in_sentence(by.name)
    arguments: tuple[object, ...] = (line.flux, by.uid)
    if line.grams is not None:
        weight = round(line.grams * ratio / work.shelf.balance_step) * work.shelf.balance_step
        arguments = (line.flux, by.uid, round(weight, 9))
        _, tried = swap_flux(work, line.flux, by.uid, round(weight, 9))
        text, mend = f"No {name}: {weight:.10g} g of {other}", Mend(f"Use {other}", "swap_flux", arguments)
    elif (missing.stock or 0.0) > 0.0:
        _, tried = add_flux(work, by.uid)
        text, mend = f"Not enough {name}: {{}} g of {other} beside it", Mend(f"Add {other}", "add_flux", (by.uid,))
    else:
        _, tried = swap_flux(work, line.flux, by.uid)
        text, mend = f"No {name}: {{}} g of {other}", Mend(f"Use {other}", "swap_flux", arguments)
    after = balance(tried)
    worse = [w.key for w in after.result.opened if w.key not in gave]
    sentence = text.format(f"{_weight(after, by.uid):.0f}") + _doubts(after, missing, by, worse)
    return not worse, Offer("swap", line.flux, sentence, mend)


def _doubts(after: Balance, missing: Component, by: Component, worse: list[str]) -> str:
    """What is to be said of a stand-in: what it does in the pot, and the first target that it cannot hold."""
    said = [words for tag, words in _SAID if tag in evident(by) and tag not in evident(missing)][:1]
    said += [f"{in_sentence(limit_words(after, worse[0]))} does not hold then"] if worse else []
    return "".join(f"; {words}" for words in said)


def _weight(found: Balance, flux: str) -> float:
    lines = found.fluxes.lines
    return next((float(g) for line, g in zip(lines, found.x, strict=True) if line.flux == flux), 0.0)
