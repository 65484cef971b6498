"""The solver's findings as sentences: the only file of the room that holds text for the operator."""

from math import ceil, floor, isfinite, log10

from fluxlab.blend.types import (
    HOUSE,
    KEPT_DOWN,
    LEAST,
    LOCKED,
    STOCK,
    UNUSED,
    Chance,
    Conflict,
    Effect,
    Note,
    Problem,
    Relief,
    Result,
    Rounded,
    Window,
    WindowState,
)
from fluxlab.issue import Issue, error, note, warning

_STATUS = {
    "ok": "Every target holds.",
    "relaxed": "The targets cannot all hold together; this is the nearest recipe.",
    "impossible": "Not even the physical limits hold with these fixed weights and stocks; this is the nearest recipe.",
    "undefined": "A target that must hold has no value for this charge.",
    "invalid": "The recipe was not solved, because a figure it needs is missing or makes no sense.",
}
_MARKS = {
    LOCKED: "Fixed by hand.",
    LEAST: "Held at the least you allow.",
    STOCK: "All that is allowed or in stock is used.",
    UNUSED: "Not needed.",
    HOUSE: "Kept near the house recipe; no target holds it.",
}
# Moves below this share of the largest one, or this many grams, are left out of a list.
_SMALL_SHARE, _SMALL_GRAMS = 0.02, 0.005


def sentences(p: Problem, r: Result, found: Conflict | None = None) -> tuple[str, ...]:
    """What the operator should read about a result: its status, each target that gave way, the conflict, used stock."""
    out = [_STATUS[r.status]]
    by_key = {w.key: w for w in p.windows}
    out += [window_sentence(by_key[w.key], w) for w in r.windows if w.state in ("below", "above", "undefined")]
    if found is not None:
        out.append(conflict_sentence(p, found))
    if r.status != "invalid":
        out += [stock_sentence(p, r, name) for name in r.at_stock]
    out += [note_issue(p, n).sentence for n in r.notes if n.code not in ("undefined", "fixed")]
    return tuple(out)


def window_sentence(w: Window, s: WindowState, effect: Effect | None = None, names: tuple[str, ...] = ()) -> str:
    """One target in words; with the effect of opening it (and the component names) also what that would change."""
    label = _capital(w.label)
    if s.state == "undefined":
        return f"{label} cannot be worked out: what it is measured against is missing from the charge."
    if s.state in ("below", "above"):
        asked, bound, wrong = (s.lo, "least", "short") if s.state == "below" else (s.hi, "most", "too much")
        return (
            f"{label}: at {bound} {_figure(w, asked)} was asked for; the recipe gives {_figure(w, s.value)}, "
            f"{_off(w, s.off_by)} {wrong} ({s.off_tol:.1f} tolerances)."
        )
    if s.state == "fixed":
        return f"{label} is {_figure(w, s.value)}; no free flux changes it."
    if s.state == "inside":
        return f"{label} is {_figure(w, s.value)}, inside its limits."
    side, limit = ("upper", s.hi) if s.state == "at_hi" else ("lower", s.lo)
    text = f"{label} is at its {side} limit {_figure(w, limit)}."
    if effect is not None:
        text += f" Opening it by {_off(w, w.tol)} changes: {_moves(names, effect)}."
    return text


def why_sentence(p: Problem, r: Result, code: str) -> str:
    """Why a component has its amount, from a code of `explain.why`."""
    if code in _MARKS:
        return _MARKS[code]
    down = code.startswith(KEPT_DOWN)
    key = code.removeprefix(KEPT_DOWN)
    w = next((w for w in p.windows if w.key == key), None)
    s = next((s for s in r.windows if s.key == key), None)
    if w is None or s is None:
        return ""
    upper = s.state in ("at_hi", "above")
    limit = f"{'upper' if upper else 'lower'} limit"
    if down:
        return f"Kept down by the {limit} of {w.label}."
    if s.state in ("below", "above"):
        return f"Brings {w.label} {'down' if upper else 'up'} towards its {limit}."
    return f"Brings {w.label} {'down' if upper else 'up'} to its {limit}."


def conflict_sentence(p: Problem, found: Conflict) -> str:
    """The targets that fight, and the change of each that would be enough on its own."""
    by_key = {w.key: w for w in p.windows}
    labels = [by_key[key].label for key in found.windows]
    if len(labels) == 1:
        text = f"{_capital(labels[0])} cannot be met, whatever the free fluxes weigh."
    else:
        text = f"These cannot all hold together: {_listed(labels)}."
    if found.reliefs:
        offers = [_offer(by_key[relief.window], relief) for relief in found.reliefs]
        text += f" Enough on its own: {', or '.join(offers)}."
    if found.more:
        text += " There is more than one such conflict."
    return text


def offered_limit(w: Window, relief: Relief) -> float:
    """The limit that a relief needs, rounded outwards to the decimals that the window shows [window's unit]."""
    scale = 10.0**w.decimals
    needed = 10.0**relief.needed if w.is_log else relief.needed
    shown = ceil(needed * scale - 1e-9) if relief.side == "hi" else floor(needed * scale + 1e-9)
    return log10(max(shown, 1.0) / scale) if w.is_log else shown / scale


def effect_sentence(p: Problem, e: Effect) -> str:
    """What one more gram (or mole) of an oxide asks of the recipe."""
    unit = "gram" if e.per == "g" else "mole"
    lasts = f" (holds for the next {e.holds_for:.2f} {e.per})" if isfinite(e.holds_for) else ""
    return f"One more {unit} of {e.cause} in the charge needs: {_moves(p.components, e)}{lasts}."


def stock_sentence(p: Problem, r: Result, name: str) -> str:
    """That a component is used up to its upper bound."""
    grams = r.x[p.components.index(name)]
    return f"All {grams:.1f} g of {name} that may be used are used."


def rounding_sentence(p: Problem, rounded: Rounded) -> str:
    """How the recipe fared on the balance's grid; empty when every target kept by the recipe is kept."""
    by_key = {w.key: w for w in p.windows}
    if rounded.method == "failed":
        room = f" {_capital(by_key[rounded.too_coarse].label)} leaves the least room." if rounded.too_coarse else ""
        return f"No weights on this balance's steps keep the targets that must hold.{room}"
    if rounded.kept_all:
        return ""
    gave = _listed([by_key[w.key].label for w in rounded.broken])
    return f"Rounding to the balance moves this out of its band: {gave}. What must hold still holds."


def chance_sentence(p: Problem, chance: Chance) -> str:
    """The chance that every must holds, and what holds it back."""
    text = f"All targets that must hold do so in {100.0 * chance.musts:.0f} of 100 likely ores"
    w = next((w for w in p.windows if w.key == chance.weakest), None)
    return f"{text}; {w.label} fails most often." if w is not None and chance.musts < 1.0 else f"{text}."


def note_issue(p: Problem, n: Note) -> Issue:
    """A repair or refusal as an issue; `where` is the window key, component or oxide that it speaks of."""
    label = next((w.label for w in p.windows if w.key == n.subject), n.subject)
    match n.code:
        case "not_a_number":
            return error(n.subject, f"{_capital(label)}: a figure is not a number.", "Enter a number.")
        case "empty_window":
            return error(
                n.subject,
                f"{_capital(label)}: the lower limit lies above the upper one.",
                "Lower the one or raise the other.",
            )
        case "bad_tolerance":
            return error(n.subject, f"{_capital(label)}: the tolerance must be more than zero.", "Enter a tolerance.")
        case "bad_scale":
            return error(n.subject, f"{_capital(label)}: scale and balance step must be more than zero.")
        case "negative_amount":
            return warning(n.subject, f"Less than no {label} would be left; it is counted as none.", "Check the ore.")
        case "more_than_stock":
            return warning(n.subject, f"{_capital(label)}: more is wanted than there is; {n.value:.1f} g are used.")
        case "undefined":
            return note(n.subject, f"{_capital(label)} has no value for this charge.")
        case "fixed":
            return note(n.subject, f"{_capital(label)} cannot be changed by any free flux; it holds.")
        case "fixed_outside":
            return warning(
                n.subject,
                f"{_capital(label)} is outside its limits and no free flux can change it.",
                "Free a line or choose another flux.",
            )
        case "no_oxides":
            return note("charge", "No ore is entered; the recipe stands for the fluxes alone.")
        case "no_prices":
            return note("cost", "No flux has a price; the recipe stays near the house recipe.")
        case "all_locked":
            return note("lines", "Every weight is fixed by hand; nothing is left to solve.")


def _moves(names: tuple[str, ...], e: Effect) -> str:
    largest = float(abs(e.dx).max(initial=0.0))
    kept = [
        (name, d)
        for name, d in zip(names, e.dx.tolist(), strict=True)
        if abs(d) >= max(_SMALL_GRAMS, _SMALL_SHARE * largest)
    ]
    kept.sort(key=lambda pair: -abs(pair[1]))
    return ", ".join(f"{name} {d:+.2f} g" for name, d in kept) if kept else "nothing"


def _offer(w: Window, relief: Relief) -> str:
    return f"{w.label} {'up' if relief.side == 'hi' else 'down'} to {_figure(w, offered_limit(w, relief))}"


def _figure(w: Window, value: float) -> str:
    unit = f" {w.unit}" if w.unit not in ("", "-") else ""
    return f"{10.0**value if w.is_log else value:.{w.decimals}f}{unit}"


def _off(w: Window, amount: float) -> str:
    """An amount with one decimal more than the window shows: it is small beside the value itself."""
    if w.is_log:
        return f"{10.0**amount:.2f} times"
    unit = f" {w.unit}" if w.unit not in ("", "-") else ""
    return f"{amount:.{w.decimals + 1}f}{unit}"


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _capital(text: str) -> str:
    """The label as the start of a sentence; labels that begin with a formula keep their letters."""
    return text[:1].upper() + text[1:] if text[1:2].islower() or text[1:2] in ("", " ") else text
