"""The recipe that makes the chance of all musts great enough, and what that costs; worked out when it is asked for."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from fluxlab.blend.chance import robust
from fluxlab.blend.problem import Compiled, compile
from fluxlab.blend.types import MUST, Result, Vec
from fluxlab.blend.viscosity_cut import tangent
from fluxlab.design.balance import Balance
from fluxlab.design.chance import Held, held, in_hundred, pour_of_recipe
from fluxlab.design.chance_types import SaferReport
from fluxlab.design.lead_miss import miss_of_lead
from fluxlab.design.likely import Likely, Pour, likely, steered
from fluxlab.design.limit_words import end, in_sentence, limit_words
from fluxlab.design.melt_law import VISCOSITY, law
from fluxlab.design.recipe import Work
from fluxlab.design.safer_polish import polished
from fluxlab.design.settle import settle, table_weights
from fluxlab.ore.samples import CHECK, TRAIN

WANTED = 0.9
"""Chance that "make it safer" aims at unless told otherwise; judgement."""
# The search sees its own ores only and flatters itself; it is asked for so much more until the other set agrees.
_MORE = (0.0, 0.01, 0.03)
# The viscosity is a tangent in the search, taken anew at what was found.
_TANGENTS = 3
_SURER = 1e-9


def safer(work: Work, found: Balance, wanted: float = WANTED, pour: Pour | None = None) -> SaferReport:
    """The recipe whose chance that every must holds reaches `wanted` [0..1], or the surest one found.

    Wishes that hold are kept as long as that is enough; else they are let go and named.
    """
    pour = pour or pour_of_recipe(found)
    before, x, judged = _surest(work, found, wanted, pour)
    if steered(found) and judged.together > before + _SURER:
        # More of a reducer misses by more: what was found is sought once more with the miss that it has itself.
        _, x, judged = _surest(work, found, wanted, pour, miss_of_lead(work, found, x))
    return _report(work, found, wanted, before, x, judged)


def _surest(
    work: Work, found: Balance, wanted: float, pour: Pour | None, lead_miss: float | None = None
) -> tuple[float, Vec, Held]:
    """Chance before, the surest weights found [g], and what holds with them."""
    train, check = (likely(work, found, seed, pour, lead_miss=lead_miss) for seed in (TRAIN, CHECK))
    before = held(found, found.result.x, check, pour)
    best = (before.together, found.result.x, before)
    if before.together < wanted:
        for x in _candidates(found, train, wanted):
            judged = held(found, x, check, pour)
            if judged.together > best[0] + _SURER:
                best = (judged.together, x, judged)
            if best[0] >= wanted:
                break
    if best[0] < wanted:
        x = polished(found, best[1], train, pour)
        judged = held(found, x, check, pour)
        if judged.together > best[0] + _SURER:
            best = (judged.together, x, judged)
    return before.together, best[1], best[2]


def _candidates(found: Balance, train: Likely, wanted: float) -> Iterator[Vec]:
    """Weights [g] of robust recipes, wishes kept and then let go, each asked for a little more than the one before."""
    for wishes in (True, False):
        c = _problem(found, wishes)
        limited = VISCOSITY in c.index
        for more in _MORE:
            for _ in range(_TANGENTS if limited else 1):
                result, _ = robust(c, train.oxides, min(wanted + more, 1.0), None, "musts", train.shift)
                yield result.x
                if limited:
                    tangent(c, VISCOSITY, law(found.setting.temperature), result.x)
            if _missed(result):
                break


def _missed(result: Result) -> bool:
    """Whether the musts fight already for the likely ore: then asking for more changes nothing."""
    return result.trace is None or result.trace.kind != "strict"


def _problem(found: Balance, wishes: bool) -> Compiled:
    """The solved problem again, without the wishes that gave way, or without any."""
    c = found.compiled
    gave = {w.key for w in found.result.opened}
    windows = []
    for k, w in enumerate(c.problem.windows):
        dropped = w.priority > MUST and (not wishes or w.key in gave)
        lo, hi = (-np.inf, np.inf) if dropped else (float(c.window_lo[k]), float(c.window_hi[k]))
        windows.append(replace(w, lo=lo, hi=hi))
    made, _ = compile(replace(c.problem, b=c.b, ref=c.ref, windows=tuple(windows)))
    return made


def _report(work: Work, found: Balance, wanted: float, before: float, x: Vec, judged: Held) -> SaferReport:
    chance = judged.together
    moved = x[: len(found.x)] - found.x
    more = float(found.fluxes.is_flux @ moved)
    price = np.where(np.abs(moved) > 0.0, found.fluxes.price, 0.0)
    cost = None if np.isnan(price).any() or not price.any() else float(price @ moved)
    weights = table_weights(found, x.tolist())
    reached = chance >= wanted
    held_back = "" if reached else judged.weakest
    given_up = _given_up(found, x)
    mend = None
    if chance > before + _SURER:
        mend = settle(work, weights, f"Make it safer ({more:+.0f} g of flux)".replace("-", "−"))
    sentence = _sentence(found, before, chance, reached, held_back, more, cost, work.shelf.currency, given_up)
    return SaferReport(wanted, reached, before, chance, weights, more, cost, held_back, given_up, sentence, mend)


def _given_up(found: Balance, x: Vec) -> tuple[str, ...]:
    """Wishes that hold on the bench and not at x, in words."""
    c = found.compiled
    both = c.G @ x + c.U @ c.b + c.C
    gone = []
    for k, w in enumerate(c.problem.windows):
        state = found.result.windows[k]
        if w.priority <= MUST or state.off_tol > 0.0 or both[c.count + k] <= 0.0:
            continue
        value = both[k] / both[c.count + k]
        if value < c.window_lo[k] - 1e-3 * w.tol or value > c.window_hi[k] + 1e-3 * w.tol:
            gone.append(limit_words(found, w.key))
    return tuple(gone)


def _sentence(
    found: Balance,
    before: float,
    chance: float,
    reached: bool,
    held_back: str,
    more: float,
    cost: float | None,
    currency: str,
    given_up: tuple[str, ...],
) -> str:
    if chance <= before + _SURER:
        text = f"Every must holds in {in_hundred(before)} of 100 likely ores already"
        if not reached:
            text = f"No surer recipe was found: {in_hundred(before)} of 100 likely ores"
    else:
        money = "" if cost is None else f" and {cost:.2f} {currency}".rstrip()
        price = f"{abs(more):.0f} g of flux{money} {'more' if more >= 0.0 else 'less'}"
        text = f"{in_hundred(before)} → {in_hundred(chance)} of 100 likely ores, for {price}"
        text = text if reached else f"At most {in_hundred(chance)} of 100 likely ores was found, for {price}"
    if held_back:
        text += f"; {in_sentence(_held(found, held_back))} holds it back"
    if given_up:
        text += f"; given up: {', '.join(in_sentence(words) for words in given_up)}"
    return text


def _held(found: Balance, key: str) -> str:
    return "Viscosity at the pour" if end(key)[0] == "viscosity" else limit_words(found, key)
