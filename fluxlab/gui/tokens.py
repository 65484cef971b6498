"""The colours of the program by the part they play, for a light and a dark room."""

from dataclasses import dataclass, fields
from typing import Any

from PySide6.QtGui import QColor


@dataclass(frozen=True, slots=True)
class Tokens:
    """One set of colours. `hand` is what the operator decided; `close` and `no` are verdicts; the rest is workshop."""

    dark: bool
    sheet: QColor
    tray: QColor
    lift: QColor
    pick: QColor
    solid: QColor
    ink: QColor
    ink2: QColor
    ink3: QColor
    edge: QColor
    rule: QColor
    hand: QColor
    hand_tint: QColor
    onhand: QColor
    heat: QColor
    heat_tint: QColor
    close: QColor
    close_tint: QColor
    no: QColor
    no_tint: QColor
    charge: QColor
    clay: QColor
    iron: QColor
    melt: QColor
    matte: QColor
    metal: QColor
    slag: QColor
    onslag: QColor
    map: tuple[QColor, ...]


_LIGHT = (
    "F5F6F2 E6E9E3 FFFFFF DFE5DD 17201D 17201D 45514B 5E6963 727D76 CBD1C9 5B2A91 E4D9F0 FFFFFF A6430E F4D9C4 "
    "704B00 F7E8BF A3122E F7DBDD DCD8CC D9D0C3 C2CACB E9A878 B59A4A 8796A6 2E4A45 F1F5F1 "
    "F9EBD6 F3E0C4 ECD5B4 E3C9A6 B4C0BB 98AAA7 7D9394"
)
_DARK = (
    "151B1C 0E1314 202829 283233 C9D1CC E9EDE8 B3BDB8 96A29D 7C8887 333D3D C7ADFA 3B2E55 1A1029 F2955C 54301B "
    "F1C766 40330F FF969C 4A1A20 3A3A34 4A443C 3E4749 96522A A88E45 8E9DAE 27473F E9EDE8 "
    "7A5C3E 695037 594532 4A3B2E 2A3C40 203135 18262A"
)


def _read(codes: str, dark: bool) -> Tokens:
    colours = [QColor("#" + code) for code in codes.split()]
    names = [field.name for field in fields(Tokens)][1:-1]
    plain: dict[str, Any] = dict(zip(names, colours, strict=False))
    return Tokens(dark=dark, map=tuple(colours[len(names) :]), **plain)


LIGHT = _read(_LIGHT, dark=False)
DARK = _read(_DARK, dark=True)


def contrast(one: QColor, other: QColor) -> float:
    """Contrast ratio of two colours by relative luminance [-], 1 to 21 (WCAG 2.1, section 1.4.3)."""
    bright, dim = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def _luminance(colour: QColor) -> float:
    def linear(channel: float) -> float:
        return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)

    return 0.2126 * linear(colour.redF()) + 0.7152 * linear(colour.greenF()) + 0.0722 * linear(colour.blueF())
