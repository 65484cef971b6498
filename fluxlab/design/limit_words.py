"""The ends of targets in words, by the keys of their windows ("degree#lo")."""

from fluxlab.design.balance import Balance
from fluxlab.design.recipe import Target
from fluxlab.design.windows import LITHARGE, words

_SIDES = {"lo": "at least", "hi": "at most"}


def end(key: str) -> tuple[str, str]:
    """Target and side ("lo" or "hi", empty for a limit that is no target's) of a window's key."""
    name, _, side = key.partition("#")
    return name, side


def target_of(found: Balance, key: str) -> Target | None:
    """The target behind a window's key, with the ends that count for this charge; None for a physical limit."""
    name, _ = end(key)
    return next((t for t in found.targets if t.key == name), None)


def end_words(target: Target, side: str) -> str:
    """One end of a target: "Zinc oxide at most 12.0 %"."""
    text = words(target.key)
    value = target.lo if side == "lo" else target.hi
    unit = f" {text['unit']}" if text["unit"] else ""
    figure = "" if value is None else f" {value:.{int(text['decimals'])}f}{unit}"
    return f"{text['label']} {_SIDES[side]}{figure}"


def limit_words(found: Balance, key: str) -> str:
    """The end of a target that a window stands for; the physical ones have words of their own."""
    if key == LITHARGE:
        return "No more lead than the litharge holds"
    target = target_of(found, key)
    return key if target is None else end_words(target, end(key)[1])


def in_sentence(text: str) -> str:
    """Words as they stand inside a sentence; labels that begin with a formula keep their letters."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
