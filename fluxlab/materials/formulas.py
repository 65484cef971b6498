"""Chemical formulas: atoms, molar mass, mass fractions.

The reader is our own: short, strict, and it says in a sentence what is wrong. The atomic weights are IUPAC's as carried
by `periodictable`. That library was preferred to `molmass` because it understands fractional counts (Zn0.85Fe0.15S),
so that it can referee our reader in the tests, and needs only numpy and pyparsing. Nobody else imports it, and it is
imported when the first formula is read.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from types import MappingProxyType

from fluxlab.issue import Issue, error

_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
_WATER_DOTS = re.compile(r"[·•∙⋅*]")
_DOUBTFUL_DOT = re.compile(r"\.\d*\(?H2O|[A-Za-z)\]]\.")
_TOKEN = re.compile(r"(?P<element>[A-Z][a-z]?)|(?P<open>[(\[])|(?P<close>[)\]])")
_COUNT = re.compile(r"\d+(\.\d+)?|\.\d+")
_MOST = 1e4


@dataclass(frozen=True)
class Formula:
    """A formula as read: the atoms of one formula unit [mol/mol]."""

    text: str
    atoms: Mapping[str, float] = field(hash=False)

    @cached_property
    def mass(self) -> float:
        """Molar mass [g/mol]."""
        return sum(count * atomic_mass(symbol) for symbol, count in self.atoms.items())

    @cached_property
    def mass_fractions(self) -> Mapping[str, float]:
        """Mass fraction of each element [g/g]."""
        return MappingProxyType({s: count * atomic_mass(s) / self.mass for s, count in self.atoms.items()})


class _UnreadableError(ValueError):
    """Why a formula cannot be read, in the operator's words."""


@cache
def _masses() -> Mapping[str, float]:
    import periodictable

    return {e.symbol: float(e.mass) for e in periodictable.elements if e.number > 0 and e.mass > 0.0}


def atomic_mass(symbol: str) -> float:
    """Standard atomic weight of an element [g/mol]; raises KeyError for what is not an element."""
    return _masses()[symbol]


@lru_cache(maxsize=1024)
def read(text: str, where: str = "formula") -> Formula | Issue:
    """The formula, or the issue that says why it cannot be read.

    Takes parentheses and brackets, fractional counts, subscript digits and water after a centred dot or a star
    ("Na2B4O7·10H2O").
    """
    try:
        return Formula(text.strip(), MappingProxyType(_atoms(text)))
    except _UnreadableError as problem:
        return error(where, f"The formula “{text.strip()}” cannot be read: {problem}", "Write it like Na2B4O7·10H2O.")


def formula(text: str) -> Formula:
    """A formula of our own tables; one that cannot be read is our own fault and raises ValueError."""
    found = read(text)
    if isinstance(found, Issue):
        raise ValueError(found.sentence)
    return found


def _atoms(text: str) -> dict[str, float]:
    cleaned = "".join(text.split()).translate(_SUBSCRIPTS)
    if not cleaned:
        raise _UnreadableError("it is empty.")
    total: dict[str, float] = {}
    for part in _WATER_DOTS.split(cleaned):
        leading = _COUNT.match(part)
        times = _number(leading.group()) if leading else 1.0
        unit = part[leading.end() if leading else 0 :]
        if _DOUBTFUL_DOT.search(unit):
            raise _UnreadableError("its full stop may be a decimal point or the dot of water; write ·2H2O or *2H2O.")
        for symbol, count in _group(unit).items():
            total[symbol] = total.get(symbol, 0.0) + times * count
    return total


def _group(part: str) -> dict[str, float]:
    """Atoms of a piece of formula without water dots."""
    stack: list[dict[str, float]] = [{}]
    at = 0
    while at < len(part):
        token = _TOKEN.match(part, at)
        if token is None:
            raise _UnreadableError(f"“{part[at]}” does not belong there.")
        at = token.end()
        if token["open"]:
            stack.append({})
            continue
        counted = _COUNT.match(part, at)
        count = _number(counted.group()) if counted else 1.0
        at = counted.end() if counted else at
        if token["element"]:
            if token["element"] not in _masses():
                raise _UnreadableError(f"there is no element “{token['element']}”.")
            inside = {token["element"]: 1.0}
        elif len(stack) == 1:
            raise _UnreadableError("a bracket is closed that was never opened.")
        else:
            inside = stack.pop()
        for symbol, n in inside.items():
            stack[-1][symbol] = stack[-1].get(symbol, 0.0) + n * count
    if len(stack) > 1:
        raise _UnreadableError("a bracket is left open.")
    if not stack[0]:
        raise _UnreadableError("a part of it is empty.")
    return stack[0]


def _number(digits: str) -> float:
    count = float(digits)
    if not 0.0 < count <= _MOST:
        raise _UnreadableError(f"the count {digits} is not sensible.")
    return count
