"""Ways out of targets that fight, each tried before it is offered."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, floor, isfinite

from fluxlab.blend.explain import conflict
from fluxlab.blend.types import Relief
from fluxlab.design.balance import Balance, balance
from fluxlab.design.edits.common import line_index
from fluxlab.design.edits.flux import add_flux, fix_weight, set_limits
from fluxlab.design.edits.plan import set_target, set_targets
from fluxlab.design.holding import holds
from fluxlab.design.limit_words import end, in_sentence, target_of
from fluxlab.design.offer_types import Offer
from fluxlab.design.plan_offers import FILLS, plan_offers
from fluxlab.design.recipe import Target, Work
from fluxlab.design.report_types import Mend
from fluxlab.design.resolve import NO_GAS_FILL
from fluxlab.design.windows import words
from fluxlab.materials.trade_facts import evident

# A limit eased to the last digit leaves the solver a set as thin as that digit; so many tolerances are given besides,
# more where that is not enough.
_BESIDES = (0.02, 0.2, 1.0, 5.0, 25.0)
_NOT_OFFERED = frozenset({"forbidden", "lead", "nitrate", "oxidiser", "reducer", "iron", "chloride"})
_MOST_ADDED = 3
_BRIM = 100.0
"""No fill limit is eased beyond the brim [%]."""


def offers(work: Work, found: Balance) -> tuple[Offer, ...]:
    """Every single change that lets all targets hold, the gentlest easing first; empty where they hold already.

    What relaxing each target alone would take comes from the smallest set that fights; where no single one would do,
    all that gave way are offered together.
    """
    if holds(found):
        return ()
    fight = conflict(found.compiled)
    fighting = (*(w.key for w in found.result.opened), *(fight.windows if fight else ()))
    eased = _eased(work, found, fight.reliefs if fight else ())
    rows = (*_freed(work, found), *_allowed(work, found))
    plans = plan_offers(work, fighting)
    made = (*eased, *rows, *plans)
    if not eased:
        made = (*made, *_accepted(work, found))
    return made if rows or plans else (*made, *_added(work))


def _eased(work: Work, found: Balance, reliefs: Sequence[Relief]) -> tuple[Offer, ...]:
    reliefs = sorted(reliefs, key=lambda r: abs(r.needed - r.asked) / _tolerance(found, r.window))
    made = (_ease(work, found, r) for r in reliefs if isfinite(r.needed))
    return tuple(offer for offer in made if offer is not None)


def _tolerance(found: Balance, key: str) -> float:
    c = found.compiled
    return float(c.tol[c.index[key]])


def _ease(work: Work, found: Balance, relief: Relief) -> Offer | None:
    """The offer to move one limit as far as is needed, None where that does not do."""
    away = 1.0 if relief.side == "hi" else -1.0
    for besides in _BESIDES:
        value = relief.needed + away * besides * _tolerance(found, relief.window)
        target = eased_target(work, found, relief.window, value)
        if target is None:
            return None
        _, tried = set_target(work, target)
        if holds(balance(tried)):
            text = _moved_words(work, target, end(relief.window)[1])
            return Offer("ease", relief.window, f"{text} would be enough", Mend(text, "set_target", (target,)))
    return None


def eased_target(work: Work, found: Balance, key: str, value: float) -> Target | None:
    """The recipe's target with the end behind a window moved to a value of that window, rounded outwards.

    None where there is no such target, as for the physical limits.
    """
    name, side = end(key)
    asked = next((t for t in work.recipe.targets if t.key == name), None)
    if asked is None or not isfinite(value):
        return None
    value = _as_typed(found, asked, value)
    scale = 10.0 ** int(words(name)["decimals"])
    if side == "hi":
        high = ceil(value * scale - 1e-9) / scale
        return None if name in FILLS and high > _BRIM else replace(asked, hi=high)
    low = floor(value * scale + 1e-9) / scale
    return replace(asked, lo=max(low, 0.0) if value >= -1.0 / scale else low)


def _as_typed(found: Balance, asked: Target, value: float) -> float:
    """A value of a window in the unit that the operator types."""
    if asked.key == "cover" and found.setting.pot is not None:
        pot, metal = found.setting.pot, found.setting.cover_metal
        return pot.level(metal + max(value, 0.0)) - pot.level(metal)
    if asked.key == "viscosity":
        return float(10.0 ** min(value, 30.0))
    if asked.key == "gas_fill" and asked.hi is not None:
        now = target_of(found, "gas_fill#hi")
        if now is not None and now.hi is not None and now.hi != asked.hi:
            part = (now.hi - NO_GAS_FILL) / (asked.hi - NO_GAS_FILL)
            return NO_GAS_FILL + (value - NO_GAS_FILL) / part
    return value


def _moved_words(work: Work, target: Target, side: str) -> str:
    """ "Silicate degree down to 0.93"."""
    text = words(target.key)
    value = target.lo if side == "lo" else target.hi
    unit = f" {text['unit']}" if text["unit"] else ""
    way = "down" if side == "lo" else "up"
    return f"{text['label']} {way} to {value:.{int(text['decimals'])}f}{unit}"


def _accepted(work: Work, found: Balance) -> Iterator[Offer]:
    """Everything that gave way eased to what the nearest recipe gives; it is then solved anew."""
    for besides in _BESIDES:
        tried, moved = work, []
        for w in found.result.opened:
            side = end(w.key)[1]
            away = 1.0 if side == "hi" else -1.0
            target = eased_target(tried, found, w.key, w.value + away * besides * _tolerance(found, w.key))
            if target is None:
                return
            _, tried = set_target(tried, target)
            moved.append((target.key, side))
        if holds(balance(tried)):
            by_key = {t.key: t for t in tried.recipe.targets}
            listed = ", ".join(in_sentence(_moved_words(work, by_key[key], side)) for key, side in moved)
            targets = tuple(by_key[key] for key in dict.fromkeys(key for key, _ in moved))
            _, tried = set_targets(work, targets)
            sentence = f"Take what this recipe gives: {listed}; the weights are then found anew"
            yield Offer("accept", "", sentence, Mend("Accept the nearest recipe", "set_targets", (targets,)))
            return


def _freed(work: Work, found: Balance) -> Iterator[Offer]:
    """Rows fixed by hand that need only be freed."""
    for line in found.fluxes.lines:
        if line.grams is None:
            continue
        _, tried = fix_weight(work, line.flux, None)
        after = balance(tried)
        if holds(after):
            name, grams = _name(work, line.flux), _weight(after, line.flux)
            text = f"Free {name}: {grams:.0f} g instead of {line.grams:.10g} g would do"
            yield Offer("free", line.flux, text, Mend(f"Free {name}", "fix_weight", (line.flux, None)))


def _allowed(work: Work, found: Balance) -> Iterator[Offer]:
    """Rows whose own least or most need only be lifted."""
    for line in found.fluxes.lines:
        if line.grams is not None or (line.least is None and line.most is None):
            continue
        _, tried = set_limits(work, line.flux, None, None)
        after = balance(tried)
        if holds(after):
            name, grams = _name(work, line.flux), _weight(after, line.flux)
            text = f"Lift the limits of {name}: {grams:.0f} g would do"
            yield Offer(
                "allow", line.flux, text, Mend(f"Lift the limits of {name}", "set_limits", (line.flux, None, None))
            )


def _added(work: Work) -> tuple[Offer, ...]:
    """Fluxes of the shelf that need only be added, the lightest recipes first."""
    made = []
    for component in work.shelf.fluxes:
        there = line_index(work.recipe, component.uid) is not None
        if there or component.lead_power != 0.0 or evident(component) & _NOT_OFFERED or component.stock == 0.0:
            continue
        _, tried = add_flux(work, component.uid)
        after = balance(tried)
        if holds(after):
            grams = _weight(after, component.uid)
            text = f"Add {in_sentence(component.name)}: {grams:.0f} g would do"
            mend = Mend(f"Add {in_sentence(component.name)}", "add_flux", (component.uid,))
            made.append((float(after.x.sum()), Offer("add", component.uid, text, mend)))
    return tuple(offer for _, offer in sorted(made, key=lambda pair: pair[0])[:_MOST_ADDED])


def _name(work: Work, flux: str) -> str:
    component = work.shelf.flux(flux)
    return in_sentence(component.name) if component else flux


def _weight(found: Balance, flux: str) -> float:
    lines = found.fluxes.lines
    return next((float(g) for line, g in zip(lines, found.x, strict=True) if line.flux == flux), 0.0)
