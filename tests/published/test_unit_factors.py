"""Unit factors against exact definitions, pint's own registry, and a handbook table.

Exact: NIST Handbook 44, Appendix C (avoirdupois pound 453.59237 g, troy ounce
31.1034768 g, short ton 2000 lb, long ton 2240 lb, inch 25.4 mm); BIPM, The International System of Units, 9th ed., 2019
(degree Celsius: 273.15). Quoted from memory.
Statements: C. and J. J. Beringer, A Text-Book of Assaying, 9th ed., 1904, pp. 13, 107, 108, 131 (its ton is the long
ton); T. K. Rose, The Metallurgy of Gold, p. 496.
"""

import pint
import pytest

from fluxlab import units
from fluxlab.ore import grade
from fluxlab.ore.ore_types import Grade, GradeUnit

EXACT = [
    ("lb", "g", 453.59237), ("oz av", "g", 28.349523125), ("ozt", "g", 31.1034768), ("dwt", "g", 1.55517384),
    ("kg", "g", 1000.0), ("mg", "g", 0.001), ("in", "mm", 25.4), ("cm", "mm", 10.0), ("L", "cm3", 1000.0),
    ("mL", "cm3", 1.0), ("h", "min", 60.0), ("s", "min", 1.0 / 60.0), ("%", "g/t", 10_000.0),
    ("oz/short ton", "g/t", 31.1034768 / 0.90718474), ("oz/long ton", "g/t", 31.1034768 / 1.0160469088),
]  # fmt: skip


@pytest.mark.parametrize(("unit", "own", "factor"), EXACT)
def test_factors_are_the_exact_definitions(unit: str, own: str, factor: float) -> None:
    assert units.convert(1.0, unit, own) == pytest.approx(factor, rel=1e-14)


PINT = {
    "g": "gram", "kg": "kilogram", "mg": "milligram", "lb": "pound", "oz av": "ounce", "ozt": "troy_ounce",
    "dwt": "pennyweight", "mm": "millimeter", "cm": "centimeter", "in": "inch", "mL": "milliliter", "L": "liter",
    "cm3": "centimeter**3", "s": "second", "min": "minute", "h": "hour",
}  # fmt: skip


@pytest.mark.parametrize("quantity", ["mass", "length", "volume", "time"])
def test_factors_agree_with_pint_s_own_registry(quantity: units.Quantity) -> None:
    registry = pint.UnitRegistry()
    own, *others = units.units_of(quantity)
    for unit in others:
        theirs = registry.Quantity(1.0, PINT[unit]).to(PINT[own]).magnitude
        assert units.convert(1.0, unit, own) == pytest.approx(theirs, rel=1e-12), unit


@pytest.mark.parametrize("value", [-40.0, 0.0, 32.0, 1150.0])
def test_temperatures_agree_with_pint_s_own_registry(value: float) -> None:
    registry = pint.UnitRegistry()
    assert units.convert(value, "degF", "degC") == pytest.approx(registry.Quantity(value, "degF").to("degC").magnitude)
    assert units.convert(value, "degC", "K") == pytest.approx(value + 273.15)


TABLE: list[tuple[GradeUnit, GradeUnit, float]] = [
    ("oz/short ton", "g/t", 34.2857), ("oz/short ton", "oz/long ton", 1.12), ("oz/short ton", "%", 0.00342857),
    ("oz/long ton", "g/t", 30.6122), ("oz/long ton", "oz/short ton", 0.892857), ("oz/long ton", "%", 0.00306122),
    ("%", "g/t", 10_000.0), ("%", "oz/short ton", 291.667), ("%", "oz/long ton", 326.667),
]  # fmt: skip


@pytest.mark.parametrize(("unit", "to", "expected"), TABLE)
def test_grades_convert_as_the_handbook_table(unit: GradeUnit, to: GradeUnit, expected: float) -> None:
    assert grade.converted(Grade(1.0, unit), to).value == pytest.approx(expected, rel=2e-6)


def test_grade_units_at_the_edge_and_in_the_ore_agree() -> None:
    for unit in ("oz/short ton", "oz/long ton", "%"):
        ours = grade.fraction(Grade(1.0, unit)) * 1e6
        assert units.convert(1.0, unit, "g/t") == pytest.approx(ours, rel=1e-14)


def test_a_thousand_ounces_in_the_short_ton_is_three_point_four_per_cent() -> None:
    """Common practice, no source: 1 oz/short ton = 34.2857 g/t; 1,000 oz/short ton is 3.43 %."""
    assert grade.converted(Grade(1000.0, "oz/short ton"), "%").value == pytest.approx(3.43, abs=0.005)


def test_assay_tons() -> None:
    """Beringer 1904, pp. 13, 131: 32.667 g for the long ton, 29.166 g for the short; 1 mg then reads 1 oz."""
    long_ton, short_ton = grade.LONG_TON / grade.TROY_OUNCE, grade.SHORT_TON / grade.TROY_OUNCE
    assert long_ton == pytest.approx(32_666.67, abs=0.005)
    assert short_ton == pytest.approx(29_166.67, abs=0.005)


def test_silver_from_twenty_grams_reads_as_beringer_prints_it() -> None:
    """Beringer 1904, p. 107: 1 mg from 20 g is 1.63 oz/long ton; p. 108: 0.0435 g from 20 g is 71.05 oz, 1.24 % is
    405.07 oz."""
    assert grade.converted(Grade(100 * 0.001 / 20, "%"), "oz/long ton").value == pytest.approx(1.63, abs=0.005)
    assert grade.converted(Grade(100 * 0.0435 / 20, "%"), "oz/long ton").value == pytest.approx(71.05, abs=0.005)
    assert grade.converted(Grade(1.24, "%"), "oz/long ton").value == pytest.approx(405.07, abs=0.005)


def test_beringer_s_silver_sum() -> None:
    """Beringer 1904, p. 115: 0.3036 g from 20 g of ore is 495.9 oz/long ton; 0.0452 g from 3 g is 492.2."""
    assert grade.converted(Grade(100 * 0.3036 / 20, "%"), "oz/long ton").value == pytest.approx(495.9, abs=0.05)
    assert grade.converted(Grade(100 * 0.0452 / 3, "%"), "oz/long ton").value == pytest.approx(492.2, abs=0.05)
