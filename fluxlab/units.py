"""Typed text to figures and back: the one module that knows pint.

The number is read strictly by ourselves ("." is always the decimal point, "," only where the caller says so, nothing
is ever taken for grouping) and the unit comes from a list; pint is asked for the factor of a listed unit and for
nothing else, and is imported when the first unit other than the program's own turns up.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import isfinite
from types import MappingProxyType
from typing import Any, Literal

Quantity = Literal[
    "mass",
    "stock",
    "grade",
    "length",
    "volume",
    "temperature",
    "share",
    "density",
    "price",
    "time",
    "viscosity",
    "number",
]


@dataclass(frozen=True, slots=True)
class Parsed:
    """What was read: `value` in the program's own unit (None with the `problem` in a sentence), and `number` and
    `unit` as typed."""

    value: float | None
    problem: str = ""
    number: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class _Kind:
    """A quantity: its name in a sentence, its own unit, the other units, and the most that is sensible in its own."""

    name: str
    own: str
    others: tuple[str, ...]
    most: float
    least: float = 0.0


_KINDS: Mapping[Quantity, _Kind] = MappingProxyType(
    {
        "mass": _Kind("weight", "g", ("kg", "mg", "lb", "ozt", "dwt", "oz av"), 5e3),
        "stock": _Kind("stock", "g", ("kg", "mg", "lb", "ozt", "dwt", "oz av"), 1e7),
        "grade": _Kind("grade", "g/t", ("oz/short ton", "oz/long ton", "%"), 1e6),
        "length": _Kind("length", "mm", ("cm", "in"), 2e3),
        "volume": _Kind("volume", "cm3", ("mL", "L"), 1e5),
        "temperature": _Kind("temperature", "degC", ("degF", "K"), 2e3, -273.15),
        "share": _Kind("share", "%", (), 100.0),
        "density": _Kind("density", "g/cm3", (), 25.0),
        "price": _Kind("price", "/kg", (), 1e7),
        "time": _Kind("time", "min", ("s", "h"), 6e3),
        "viscosity": _Kind("viscosity", "Pa.s", (), 1e4),
        "number": _Kind("number", "", (), 1e6),
    }
)
_ALIASES: Mapping[str, str] = MappingProxyType(
    {
        "gram": "g", "grams": "g", "lbs": "lb", "ppm": "g/t",
        "oz t": "ozt", "t oz": "ozt", "troy oz": "ozt", "oz troy": "ozt", "troy ounce": "ozt", "troy ounces": "ozt",
        "ozav": "oz av", "av oz": "oz av", "oz avdp": "oz av", "avdp oz": "oz av",
        "oz/st": "oz/short ton", "oz/lt": "oz/long ton", "percent": "%", "inch": "in", "inches": "in", "cm³": "cm3",
        "cm^3": "cm3", "cc": "cm3", "ml": "mL", "l": "L", "°C": "degC", "C": "degC", "°F": "degF", "F": "degF",
        "g/cm³": "g/cm3", "g/cm^3": "g/cm3", "g/mL": "g/cm3", "per kg": "/kg", "Pa·s": "Pa.s", "Pa s": "Pa.s",
    }
)  # fmt: skip
_SHOWN: Mapping[str, str] = MappingProxyType(
    {"degC": "°C", "degF": "°F", "cm3": "cm³", "g/cm3": "g/cm³", "Pa.s": "Pa·s"}
)
_DOUBTFUL: Mapping[str, str] = MappingProxyType(
    {
        "oz/ton": "Say which ton: oz/short ton or oz/long ton.",
        "oz/t": "Say which ton: oz/short ton or oz/long ton.",
        "opt": "Say which ton: oz/short ton or oz/long ton.",
        "gr": "It may mean grams or grains: write g.",
    }
)
_OUNCES = frozenset({"oz", "oz.", "ounce", "ounces"})
_WHICH_OUNCE: Mapping[str, str] = MappingProxyType(
    {
        "g": "Write ozt for troy ounces (31 g), as metal is weighed, oz av for those of the shop (28 g), or grams.",
        "g/t": "Say of what: oz/short ton or oz/long ton.",
    }
)
"""What is asked back, by the own unit of the quantity; nobody else can tell which ounce was meant."""
_DEFINITIONS = (
    "gram = [mass] = g",
    "kilogram = 1000 * gram = kg",
    "milligram = 0.001 * gram = mg",
    "pound = 453.59237 * gram = lb",
    "avoirdupois_ounce = pound / 16 = oz_av",
    "troy_ounce = 31.1034768 * gram = ozt",
    "pennyweight = troy_ounce / 20 = dwt",
    "gram_per_tonne = [grade] = g_t",
    "ounce_per_short_ton = 31.1034768e6 / 907184.74 * gram_per_tonne = oz_short_ton",
    "ounce_per_long_ton = 31.1034768e6 / 1016046.9088 * gram_per_tonne = oz_long_ton",
    "percent = 10000 * gram_per_tonne",
    "millimetre = [length] = mm",
    "centimetre = 10 * millimetre = cm",
    "inch = 25.4 * millimetre = in",
    "cubic_centimetre = [volume] = cm3",
    "millilitre = cubic_centimetre = mL",
    "litre = 1000 * cubic_centimetre = L",
    "kelvin = [temperature]; offset: 0 = K",
    "degree_Celsius = kelvin; offset: 273.15 = degC",
    "degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = degF",
    "minute = [time] = min",
    "second = minute / 60 = s",
    "hour = 60 * minute = h",
)
_PINT_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "g/t": "g_t",
        "oz/short ton": "oz_short_ton",
        "oz/long ton": "oz_long_ton",
        "%": "percent",
        "oz av": "oz_av",
    }
)
_TEXT = re.compile(r"(?P<sign>[+-]?)\s*(?P<digits>\d[\d.,'’_\s]*|[.,]\d[\d.,'’_\s]*)(?P<rest>.*)", re.DOTALL)
_GROUPED = re.compile(r"(?P<whole>\d{1,3}(?P<mark>[.,'’_\s])\d{3}(?:(?P=mark)\d{3})*)(?:(?P<point>[.,])(?P<part>\d+))?")
_MOST_DIGITS = 15


def parse(
    text: str, quantity: Quantity, decimal_comma: bool = False, unit: str = "", most: float | None = None
) -> Parsed:
    """The figure in the program's own unit (g, g/t, mm, cm3, degC, %, g/cm3, money/kg, min, Pa.s), or the sentence
    that says what to write instead.

    `unit` is the one meant where none is typed, `most` the most that is sensible, in the program's own unit.
    """
    kind = _KINDS[quantity]
    shown = " ".join(text.replace("−", "-").split())
    own = _SHOWN.get(kind.own, kind.own)
    example = f"Write a {kind.name} like {'12,5' if decimal_comma else '12.5'} {own}".rstrip() + "."
    match = _TEXT.fullmatch(shown)
    if match is None:
        return Parsed(None, f"“{_short(shown)}” is not a number. {example}" if shown else example)
    if re.match(r"[eE][+-]?\d", match["rest"]):
        return Parsed(None, f"“{_short(shown)}” has an exponent. {example}")
    digits = match["digits"].strip()
    typed = match["rest"].strip()
    number, problem = _number(digits, decimal_comma, typed, f"“{_short(shown)}”")
    if number is None:
        return Parsed(None, problem)
    name = _ALIASES.get(typed, typed) or unit or kind.own
    if name not in (kind.own, *kind.others):
        return Parsed(None, _unit_problem(typed or name, kind))
    signed = -number if match["sign"] == "-" else number
    value = convert(signed, name, kind.own)
    limit = kind.most if most is None else most
    if value < kind.least:
        least = "cannot be negative" if kind.least == 0.0 else f"cannot be below {kind.least:g} {own}"
        return Parsed(None, f"A {kind.name} {least}. {example}")
    if not isfinite(value) or value > limit:
        return Parsed(None, _too_much(shown, value, limit, kind))
    return Parsed(value, "", signed, name)


def convert(value: float, unit: str, to: str) -> float:
    """A figure in another unit of the same quantity; raises KeyError for a unit that is in no list."""
    if unit == to:
        return value
    if not {unit, to} <= _listed():
        raise KeyError(f"{unit} to {to}")
    if to in ("degC", "degF", "K"):
        registry = _registry()
        return round(float(registry.Quantity(value, unit).to(to).magnitude), 9)
    return value * _factor(unit, to)


def show(value: float | None, unit: str, decimals: int, decimal_comma: bool = False, own: str = "") -> str:
    """A figure with its unit as text; `own` is the unit of the figure where it is to be shown in another.

    What is not known is shown as a dash. No grouping, so that what is shown can be typed again.
    """
    if value is None or not isfinite(value):
        return "–"
    figure = f"{convert(value, own or unit, unit):.{decimals}f}"
    if float(figure) == 0.0:
        figure = figure.lstrip("-")
    figure = figure.replace("-", "−").replace(".", "," if decimal_comma else ".")
    return f"{figure} {_SHOWN.get(unit, unit)}".rstrip()


def units_of(quantity: Quantity) -> tuple[str, ...]:
    """The units that may be typed for a quantity, the program's own first."""
    return (_KINDS[quantity].own, *_KINDS[quantity].others)


def _number(digits: str, decimal_comma: bool, typed: str, written: str) -> tuple[float | None, str]:
    """The number, or None and what to write instead."""
    point = "," if decimal_comma else "."
    told = _listed() | _DOUBTFUL.keys() | _OUNCES
    tail = f" {typed}" if typed and _ALIASES.get(typed, typed) in told else ""
    if sum(c.isdigit() for c in digits) > _MOST_DIGITS:
        return None, f"{written} has too many digits."
    if re.fullmatch(r"\d+[.,]?|\d*[.,]\d+", digits) and (decimal_comma or "," not in digits):
        return float(digits.replace(",", ".")), ""
    comma = re.fullmatch(r"(\d+),(\d+)", digits)
    if comma and len(comma[2]) == 3:
        return (
            None,
            f"{written} can be read in two ways: write {comma[1]}.{comma[2]}{tail} or {comma[1]}{comma[2]}{tail}.",
        )
    if comma:
        return None, f"{written} has a comma: write {comma[1]}.{comma[2]}{tail}."
    grouped = _GROUPED.fullmatch(digits)
    if grouped and grouped["mark"] != grouped["point"]:
        whole = re.sub(r"\D", "", grouped["whole"])
        plain = f"{whole}{point}{grouped['part']}" if grouped["part"] else whole
        return None, f"{written} is divided into groups: write {plain}{tail}."
    return None, f"{written} is more than one number: write it like 12{point}5."


def _unit_problem(typed: str, kind: _Kind) -> str:
    doubt = _WHICH_OUNCE.get(kind.own, "") if typed in _OUNCES else _DOUBTFUL.get(typed, "")
    if doubt:
        return f"“{typed}” is not clear. {doubt}"
    units = [u for u in (kind.own, *kind.others) if u]
    allowed = " or ".join(filter(None, (", ".join(units[:-1]), units[-1]))) if units else "no unit"
    return f"“{_short(typed)}” cannot be used for a {kind.name}. Write one number and {allowed}."


def _too_much(shown: str, value: float, limit: float, kind: _Kind) -> str:
    own = _SHOWN.get(kind.own, kind.own)
    means = "" if re.fullmatch(rf"[+\d.,]+\s*({re.escape(kind.own)})?", shown) else f" is {value:.6g} {own},"
    most = f"{limit:g} {own}".rstrip()
    return (
        f"“{_short(shown)}”{means or ' is'} more than the {most} that makes sense here. Check the number and the unit."
    )


def _short(text: str) -> str:
    return text if len(text) <= 24 else text[:23] + "…"


@cache
def _listed() -> frozenset[str]:
    return frozenset(u for kind in _KINDS.values() for u in (kind.own, *kind.others))


@cache
def _factor(unit: str, to: str) -> float:
    registry = _registry()
    return float(registry.Quantity(1.0, _PINT_NAMES.get(unit, unit)).to(_PINT_NAMES.get(to, to)).magnitude)


@cache
def _registry() -> Any:
    """pint with nothing but our own short list of units."""
    import pint

    registry: Any = pint.UnitRegistry(None)
    registry.load_definitions(_DEFINITIONS)
    return registry
