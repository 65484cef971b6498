"""Plain JSON values to frozen values, by the types of their fields; what does not fit is an Issue naming the path."""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import datetime
from functools import cache
from math import isfinite
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from fluxlab.issue import Issue, error
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts
from fluxlab.store.keys import Figure

Figures = Mapping[type, Mapping[str, Figure]]

# Where a field may hold one of several kinds of value, the key "by" says which.
TAG = "by"
TAGS: dict[type, str] = {ByFormula: "formula", ByAnalysis: "analysis", ByParts: "parts"}


def key_of(figures: Figures, owner: type, field: str) -> str:
    """The key of a field in a document."""
    meaning = figures.get(owner, {}).get(field)
    return field if meaning is None else meaning.key(field)


@cache
def hints(kind: type) -> dict[str, Any]:
    """The types of the fields of a frozen value."""
    return get_type_hints(kind)


class Reader:
    """Reads plain values by type and gathers the issues; `key` and `figures` describe the fields."""

    def __init__(self, figures: Figures, ranges: bool) -> None:
        self.figures = figures
        self.ranges = ranges
        self.issues: list[Issue] = []

    def read(self, hint: Any, plain: Any, where: str, figure: Figure | None) -> Any:
        """The value of type `hint`; anything at all once an issue was found."""
        if is_dataclass(hint):
            return self._record(hint, plain, where)
        origin = get_origin(hint)
        if origin in (Union, UnionType):
            return self._choice(get_args(hint), plain, where, figure)
        if origin is Literal:
            return self._word(get_args(hint), plain, where)
        if origin is tuple:
            return self._row(get_args(hint), plain, where, figure)
        if origin is frozenset:
            items = self._row((get_args(hint)[0], Ellipsis), plain, where, figure)
            return None if items is None else frozenset(items)
        return _SIMPLE[hint](self, plain, where, figure)

    def refuse(self, where: str, sentence: str, remedy: str = "Correct it in the file.") -> Any:
        """Note an issue; None, to be returned in place of the value."""
        self.issues.append(error(where, f"{where} {sentence}.", remedy))

    def _record(self, kind: Any, plain: Any, where: str) -> Any:
        if not isinstance(plain, dict):
            return self.refuse(where, f"must be a group of keys in braces, but is {_kind_of(plain)}")
        names = {key_of(self.figures, kind, f.name): f for f in fields(kind)}
        for unknown in [k for k in plain if k not in names and not (k == TAG and kind in TAGS)]:
            self.refuse(
                f"{where}.{unknown[:40]}",
                f"is not known; known here: {', '.join(names)}",
                "Correct the key. If a newer fluxlab wrote the file, update the program.",
            )
        known = hints(kind)
        figures = self.figures.get(kind, {})
        found = {}
        for name, field in names.items():
            if name in plain:
                found[field.name] = self.read(
                    known[field.name], plain[name], f"{where}.{name}", figures.get(field.name)
                )
            elif field.default is MISSING and field.default_factory is MISSING:
                self.refuse(f"{where}.{name}", "is missing", "Add it to the file.")
        return None if self.issues else kind(**found)

    def _choice(self, options: tuple[Any, ...], plain: Any, where: str, figure: Figure | None) -> Any:
        if plain is None and NoneType in options:
            return None
        rest = [o for o in options if o is not NoneType]
        if len(rest) == 1:
            return self.read(rest[0], plain, where, figure)
        tags = {TAGS[o]: o for o in rest}
        tag = plain.get(TAG) if isinstance(plain, dict) else None
        if not isinstance(tag, str) or tag not in tags:
            return self.refuse(where, f"must say “{TAG}”: one of {_listed(tags)}")
        return self._record(tags[tag], plain, where)

    def _word(self, words: tuple[Any, ...], plain: Any, where: str) -> Any:
        if isinstance(plain, bool) or plain not in words:
            return self.refuse(where, f"must be one of {_listed(words)}, but is {_shown(plain)}")
        return words[words.index(plain)]

    def _row(self, kinds: tuple[Any, ...], plain: Any, where: str, figure: Figure | None) -> Any:
        if not isinstance(plain, list):
            return self.refuse(where, f"must be a list in brackets, but is {_kind_of(plain)}")
        if kinds[-1] is Ellipsis:
            kinds = (kinds[0],) * len(plain)
        elif len(kinds) != len(plain):
            return self.refuse(where, f"must be a list of {len(kinds)}, but has {len(plain)}")
        return tuple(
            self.read(k, item, f"{where}[{i}]", figure) for i, (k, item) in enumerate(zip(kinds, plain, strict=True))
        )

    def number(self, plain: Any, where: str, figure: Figure | None) -> Any:
        """A finite number within its range."""
        if isinstance(plain, bool) or not isinstance(plain, (int, float)):
            return self.refuse(where, f"must be a number, but is {_shown(plain)}")
        try:
            number = float(plain)
        except OverflowError:
            number = float("inf")
        if not isfinite(number):
            return self.refuse(where, f"must be a number that can be weighed or measured, but is {number}")
        if self.ranges and figure is not None and not figure.low <= number <= figure.high:
            bound = f"at least {figure.low:g}" if number < figure.low else f"at most {figure.high:g}"
            return self.refuse(where, f"must be {bound}, but is {number:g}")
        return number

    def whole(self, plain: Any, where: str, figure: Figure | None) -> Any:
        """A whole number within its range."""
        if isinstance(plain, bool) or not isinstance(plain, int):
            return self.refuse(where, f"must be a whole number, but is {_shown(plain)}")
        return None if self.number(plain, where, figure) is None else plain

    def text(self, plain: Any, where: str, figure: Figure | None) -> Any:
        """A text without half characters."""
        if not isinstance(plain, str):
            return self.refuse(where, f"must be text in quotes, but is {_kind_of(plain)}")
        if not plain.isascii() and plain.encode("utf-8", "replace").decode("utf-8") != plain:
            return self.refuse(where, "holds half a character, which is no text")
        return plain

    def truth(self, plain: Any, where: str, figure: Figure | None) -> Any:
        """True or false."""
        if not isinstance(plain, bool):
            return self.refuse(where, f"must be true or false, but is {_shown(plain)}")
        return plain

    def moment(self, plain: Any, where: str, figure: Figure | None) -> Any:
        """A date and time."""
        try:
            return datetime.fromisoformat(plain)
        except (TypeError, ValueError):
            return self.refuse(where, f"must be a date and time such as 2026-03-01T14:30:00, but is {_shown(plain)}")


_SIMPLE: dict[Any, Callable[[Reader, Any, str, Figure | None], Any]] = {
    float: Reader.number,
    int: Reader.whole,
    str: Reader.text,
    bool: Reader.truth,
    datetime: Reader.moment,
}


def _kind_of(plain: object) -> str:
    if plain is None:
        return "empty (null)"
    if isinstance(plain, bool):
        return "true or false"
    kinds = {dict: "a group of keys", list: "a list", str: "text", int: "a number", float: "a number"}
    return kinds.get(type(plain), "something else")


def _shown(plain: object) -> str:
    if isinstance(plain, str):
        return f"“{plain[:40]}{'…' if len(plain) > 40 else ''}”"
    if isinstance(plain, (int, float)) and not isinstance(plain, bool):
        return f"{plain:g}" if abs(plain) < 1e300 else "a number too large"
    return _kind_of(plain)


def _listed(words: Any) -> str:
    return ", ".join(f"“{word}”" for word in words)
