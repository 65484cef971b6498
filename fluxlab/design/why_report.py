"""Every reason for a recipe in the operator's words; worked out when the panel is opened."""

import numpy as np

from fluxlab.blend.explain import effects, limit_effects
from fluxlab.blend.explain import why as holders
from fluxlab.blend.problem import update
from fluxlab.blend.solve import solve
from fluxlab.blend.types import KEPT_DOWN, Effect, Vec
from fluxlab.design.balance import Balance
from fluxlab.design.limit_words import end, in_sentence, limit_words
from fluxlab.design.recipe import Work
from fluxlab.design.why import why
from fluxlab.design.why_types import Move, WhyLimit, WhyLine, WhyOxide, WhyReport
from fluxlab.design.windows import words
from fluxlab.materials.oxides import MASS, OXIDES
from fluxlab.ore.feed import EARTHY

# What moves by less, as a share of the largest move or in grams, is left out of a sentence.
_SMALL_SHARE, _SMALL_GRAMS = 0.02, 0.005


def why_report(work: Work, found: Balance) -> WhyReport:
    """For each flux the limit that holds it, for each oxide of the charge what one more gram needs [g/g], for each
    limit that holds the recipe what opening it a little buys [g]."""
    slopes = {e.cause: e for e in limit_effects(found.compiled, found.result)}
    bought = {key: _bought(found, key) for key in slopes if "#" in key}
    return WhyReport(_lines(found, bought), _oxides(found, slopes), _limits(work, found, bought))


def _bought(found: Balance, key: str) -> Vec:
    """Moves [g] when a limit is opened by one tolerance: solved anew, since the next limit may take over before."""
    c = found.compiled
    k = c.index[key]
    asked, tol = (float(c.window_lo[k]), float(c.window_hi[k])), float(c.tol[k])
    update(c, limits={key: (asked[0] - tol, asked[1] + tol)})
    after = solve(c, False).x
    update(c, limits={key: asked})
    return after - found.result.x


def _lines(found: Balance, bought: dict[str, Vec]) -> tuple[WhyLine, ...]:
    targets = {t.key: t for t in found.targets}
    rows = zip(found.fluxes.lines, found.fluxes.components, holders(found.compiled, found.result), strict=False)
    made = []
    for i, (line, component, key) in enumerate(rows):
        grams = float(found.x[i])
        limit = "" if key.startswith("@") else key.removeprefix(KEPT_DOWN)
        sentence = why(key, line, component, targets, grams)
        moved = float(bought[limit][i]) if limit in bought and grams > 0.0 else 0.0
        if abs(moved) >= _SMALL_GRAMS:
            sentence += f"; opening that by {_by(limit)} {_takes(moved)}"
        made.append(WhyLine(line.flux, component.name, grams, limit, sentence))
    return tuple(made)


def _takes(grams: float) -> str:
    return f"takes off {-grams:.2f} g" if grams < 0.0 else f"adds {grams:.2f} g"


def _by(key: str) -> str:
    """One tolerance of a target: how far a limit is opened in these sentences."""
    text = words(end(key)[0])
    return f"{float(text['tolerance']):g} {text['unit']}".rstrip()


def _oxides(found: Balance, slopes: dict[str, Effect]) -> tuple[WhyOxide, ...]:
    grams = found.feed.oxides * MASS
    present = tuple(OXIDES[i] for i in np.argsort(-grams, kind="stable") if grams[i] > 0.0)
    made = []
    for e in effects(found.compiled, found.result, present):
        moves = _moves(found, e.dx + _by_gangue(found, slopes, e.cause))
        holds_for = float(e.holds_for) if np.isfinite(e.holds_for) else None
        made.append(WhyOxide(e.cause, moves, holds_for, _oxide_sentence(e.cause, moves, holds_for)))
    return tuple(made)


def _by_gangue(found: Balance, slopes: dict[str, Effect], oxide: str) -> Vec:
    """What an earthy oxide asks for besides because parts of flux are counted against the gangue [g/g]."""
    moved = np.zeros(len(found.compiled.cost))
    if oxide not in EARTHY or found.setting.gangue <= 0.0:
        return moved
    c = found.compiled
    for key in ("parts#lo", "parts#hi"):
        if key in slopes:
            k = c.index[key]
            limit = float(c.window_lo[k] if key.endswith("lo") else c.window_hi[k])
            opening = limit / found.setting.gangue * (-1.0 if key.endswith("lo") else 1.0)
            moved = moved + slopes[key].dx * opening / float(c.tol[k])
    return moved


def _limits(work: Work, found: Balance, bought: dict[str, Vec]) -> tuple[WhyLimit, ...]:
    made = []
    for key, moved in bought.items():
        dx = moved[: len(found.x)]
        flux = float(found.fluxes.is_flux @ dx)
        price = np.where(np.abs(dx) > 0.0, found.fluxes.price, 0.0)
        cost = None if np.isnan(price).any() or not price.any() else float(price @ dx)
        moves = _moves(found, dx)
        text = f"Opening {in_sentence(limit_words(found, key))} by {_by(key)}: {_listed(moves)}"
        if len(moves) > 1:
            same = abs(flux) < _SMALL_GRAMS
            text += ": the same flux" if same else f": {abs(flux):.2f} g of flux {'less' if flux < 0.0 else 'more'}"
            text += " in all"
        if cost is not None:
            text += f", {abs(cost):.2f} {work.shelf.currency}".rstrip() + (" saved" if cost < 0.0 else " more")
        tolerance = float(words(end(key)[0])["tolerance"])
        made.append(WhyLimit(key, tolerance, moves, flux, cost, text))
    return tuple(sorted(made, key=lambda w: w.flux))


def _moves(found: Balance, dx: Vec) -> tuple[Move, ...]:
    """The moves worth telling, the largest first."""
    largest = float(np.abs(dx).max(initial=0.0))
    least = max(_SMALL_GRAMS, _SMALL_SHARE * largest)
    rows = zip(found.fluxes.components, dx.tolist(), strict=False)
    moves = [Move(c.uid, c.name, g) for c, g in rows if abs(g) >= least]
    return tuple(sorted(moves, key=lambda m: -abs(m.grams)))


def _oxide_sentence(oxide: str, moves: tuple[Move, ...], holds_for: float | None) -> str:
    if not moves:
        return f"One more gram of {oxide} in the charge changes nothing{_lasting(holds_for)}"
    return f"One more gram of {oxide} in the charge asks for {_listed(moves)}{_lasting(holds_for)}"


def _lasting(holds_for: float | None) -> str:
    return "" if holds_for is None or holds_for < 0.05 else f" (for the next {holds_for:.1f} g)"


def _listed(moves: tuple[Move, ...]) -> str:
    if not moves:
        return "nothing changes"
    return "; ".join(f"{abs(m.grams):.2f} g {'more' if m.grams > 0.0 else 'less'} {in_sentence(m.name)}" for m in moves)
