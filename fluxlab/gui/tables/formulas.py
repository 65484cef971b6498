"""Formulas and oxides as they are written by hand: counts below the line."""

import re

_BELOW = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_COUNT = re.compile(r"(?<=[A-Za-z)\]])\d+(?:\.\d+)?")


def typeset(formula: str) -> str:
    """A formula with subscript counts: "Na₂B₄O₇·10H₂O"; fractions keep their point below the line's figures."""
    return _COUNT.sub(lambda found: found.group().translate(_BELOW), formula.replace("*", "·"))
