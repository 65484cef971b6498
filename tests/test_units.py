"""Typed figures are read strictly, and what is refused says what to write."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab import units


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("12.5", 12.5), ("12.5 g", 12.5), ("12.5g", 12.5), (" .5 g ", 0.5), ("5.", 5.0), ("0", 0.0), ("+3 g", 3.0),
        ("1.5 kg", 1500.0), ("250 mg", 0.25), ("1 lb", 453.59237), ("1 oz av", 28.349523125), ("1 ozt", 31.1034768),
        ("1 oz t", 31.1034768), ("1 troy oz", 31.1034768), ("16 avdp oz", 453.59237), ("20 dwt", 31.1034768),
        ("12\u00a0g", 12.0),
    ],
)  # fmt: skip
def test_a_weight_is_read_in_grams(text: str, grams: float) -> None:
    parsed = units.parse(text, "mass")
    assert parsed.problem == ""
    assert parsed.value == pytest.approx(grams, rel=1e-12)


def test_a_comma_is_a_decimal_sign_only_where_the_caller_says_so() -> None:
    assert units.parse("1,5 kg", "mass", decimal_comma=True).value == 1500.0
    refused = units.parse("1,5 kg", "mass")
    assert refused.value is None
    assert "write 1.5 kg" in refused.problem


def test_a_point_is_a_decimal_sign_everywhere() -> None:
    assert units.parse("1.5 kg", "mass", decimal_comma=True).value == 1500.0


@pytest.mark.parametrize(
    ("text", "comma", "words"),
    [
        ("12 lb", False, "5443.11 g, more than the 5000 g"),
        ("-3", False, "cannot be negative"),
        ("−3 g", False, "cannot be negative"),
        ("1e9", False, "exponent"),
        ("1E9 g", True, "exponent"),
        ("9000", False, "more than the 5000 g"),
        ("99999999999999999999", False, "too many digits"),
        ("abc", False, "not a number"),
        ("nan g", False, "not a number"),
        ("inf", False, "not a number"),
        ("", False, "Write a weight like 12.5 g"),
        ("", True, "Write a weight like 12,5 g"),
        ("1,500 g", False, "write 1.500 g or 1500 g"),
        ("1 200 g", False, "write 1200 g"),
        ("1'200", False, "write 1200"),
        ("1,200.5 g", False, "write 1200.5 g"),
        ("1.200,5", False, "write 1200.5"),
        ("1.200,5", True, "write 1200,5"),
        ("1,5,0", False, "more than one number"),
        ("1 1/2 ozt", False, "more than one number"),
        ("2 lb 3 oz", False, "cannot be used for a weight"),
        ("45 G", False, "cannot be used for a weight"),
        ("45 gr", False, "write g"),
        ("3 mm", False, "cannot be used for a weight"),
        ("9**9**9", False, "cannot be used for a weight"),
        ("2 kg - 3 kg", False, "cannot be used for a weight"),
        ("½ g", False, "not a number"),
    ],
)
def test_what_is_refused_says_what_to_write(text: str, comma: bool, words: str) -> None:
    parsed = units.parse(text, "mass", decimal_comma=comma)
    assert parsed.value is None
    assert words in parsed.problem
    assert parsed.problem.endswith(".")


@pytest.mark.parametrize("quantity", ["mass", "stock"])
@pytest.mark.parametrize("text", ["3 oz", "3oz", "3 oz.", "1 ounce", "3 ounces"])
def test_an_ounce_must_say_which_ounce(text: str, quantity: units.Quantity) -> None:
    """A button of 3 oz is 93.3 g in the trade and 85.0 g in a shop; nobody but the operator can tell."""
    refused = units.parse(text, quantity)
    assert refused.value is None
    assert "is not clear. Write ozt for troy ounces (31 g), as metal is weighed, oz av" in refused.problem
    assert units.parse("3 ozt", quantity).value == pytest.approx(93.3104304)
    assert units.parse("3 oz av", quantity).value == pytest.approx(85.048569375)


def test_an_ounce_alone_is_no_grade_and_no_length() -> None:
    assert "oz/short ton or oz/long ton" in units.parse("500 oz", "grade").problem
    assert "cannot be used for a length" in units.parse("3 oz", "length").problem


def test_a_comma_before_an_ounce_does_not_hide_that_the_ounce_is_not_clear() -> None:
    assert "write 1.5 oz." in units.parse("1,5 oz", "mass").problem


@pytest.mark.parametrize(("typed", "grams_per_tonne"), [("1 oz/st", 34.285714), ("1 oz/long ton", 30.612245)])
def test_the_ounce_of_a_grade_is_troy(typed: str, grams_per_tonne: float) -> None:
    assert units.parse(typed, "grade").value == pytest.approx(grams_per_tonne, rel=1e-6)


def test_an_ounce_per_ton_must_say_which_ton() -> None:
    assert "short ton" in units.parse("500 oz/ton", "grade").problem
    assert units.parse("500 oz/short ton", "grade").value == pytest.approx(17142.857, rel=1e-6)


def test_what_was_typed_is_handed_back_beside_the_value() -> None:
    parsed = units.parse("25 oz/st", "grade")
    assert (parsed.number, parsed.unit) == (25.0, "oz/short ton")


def test_the_unit_meant_can_be_given_by_the_caller() -> None:
    assert units.parse("2", "length", unit="in").value == pytest.approx(50.8)


def test_a_field_can_have_a_limit_of_its_own() -> None:
    assert units.parse("12 lb", "stock").value == pytest.approx(5443.10844)
    assert "the 300 g" in units.parse("301", "mass", most=300.0).problem


@pytest.mark.parametrize(
    ("text", "quantity", "value"),
    [
        ("1150", "temperature", 1150.0), ("2102 °F", "temperature", 1150.0), ("-40 °F", "temperature", -40.0),
        ("1423.15 K", "temperature", 1150.0), ("2 cm", "length", 20.0), ("1 in", "length", 25.4),
        ("1 L", "volume", 1000.0), ("30 mL", "volume", 30.0), ("12 %", "share", 12.0), ("2.6 g/cm³", "density", 2.6),
        ("4.20", "price", 4.2), ("1 h", "time", 60.0), ("0.5 Pa·s", "viscosity", 0.5), ("1.5", "number", 1.5),
    ],
)  # fmt: skip
def test_every_quantity_is_read_in_the_program_s_own_unit(text: str, quantity: units.Quantity, value: float) -> None:
    assert units.parse(text, quantity).value == pytest.approx(value, rel=1e-9)


def test_nothing_is_colder_than_absolute_zero() -> None:
    assert "-273.15" in units.parse("-300", "temperature").problem


@pytest.mark.parametrize(
    ("value", "unit", "decimals", "comma", "own", "text"),
    [
        (12.34, "g", 1, False, "", "12.3 g"),
        (1500.0, "kg", 2, True, "g", "1,50 kg"),
        (1150.0, "degF", 0, False, "degC", "2102 °F"),
        (-0.01, "g", 1, False, "", "0.0 g"),
        (-12.0, "degC", 0, False, "", "−12 °C"),
        (None, "g", 1, False, "", "–"),
        (float("nan"), "g", 1, False, "", "–"),
        (0.97, "", 2, False, "", "0.97"),
    ],
)
def test_a_figure_is_shown_with_its_unit(
    value: float | None, unit: str, decimals: int, comma: bool, own: str, text: str
) -> None:
    assert units.show(value, unit, decimals, comma, own) == text


def test_a_unit_outside_the_lists_is_our_fault() -> None:
    with pytest.raises(KeyError):
        units.convert(1.0, "g", "furlong")


@given(st.floats(0.0, 4999.0), st.integers(0, 4), st.booleans())
def test_what_is_shown_can_be_typed_again(value: float, decimals: int, comma: bool) -> None:
    text = units.show(value, "g", decimals, comma)
    assert units.parse(text, "mass", decimal_comma=comma).value == pytest.approx(round(value, decimals), abs=1e-9)


@given(st.text(max_size=30), st.sampled_from(["mass", "grade", "temperature", "share", "number"]), st.booleans())
def test_no_text_makes_the_reader_raise(text: str, quantity: units.Quantity, comma: bool) -> None:
    parsed = units.parse(text, quantity, decimal_comma=comma)
    assert (parsed.value is None) == bool(parsed.problem)


@given(st.text(alphabet="0123456789.,'  +-eEgkmglboztd%", max_size=14), st.booleans())
def test_near_numbers_are_read_as_python_reads_them_or_refused(text: str, comma: bool) -> None:
    parsed = units.parse(text, "mass", decimal_comma=comma, unit="g")
    if parsed.value is not None and parsed.unit == "g":
        digits = text.strip().rstrip("g").replace(" ", "")
        assert parsed.value == float(digits.replace(",", ".") if comma else digits)


def test_plain_grams_need_no_units_library() -> None:
    code = (
        "import sys; from fluxlab import units; units.parse('12.5 g', 'mass'); units.show(3.0, 'g', 1); "
        "print('pint' in sys.modules, 'numpy' in sys.modules); units.parse('1 kg', 'mass'); "
        "print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False", "True"]
