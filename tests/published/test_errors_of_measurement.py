"""Errors of measurement as the guides reckon them."""

import pytest

from fluxlab.learn.measured import quotient, weighted_mean


def test_a_quotient_of_three_measured_values() -> None:
    """EURACHEM/CITAC Guide, Quantifying Uncertainty in Analytical Measurement, 2nd ed., 2000, example A1, table A1.1.

    Cadmium standard: 100.28 mg (u 0.05 mg) of purity 0.9999 (u 0.000058) in 100.0 ml (u 0.07 ml) make 1002.7 mg/l with
    a standard uncertainty of 0.9 mg/l, relative 0.0009.
    """
    found = quotient(1000.0 * 100.28 * 0.9999 / 100.0, (0.05 / 100.28, 0.000058 / 0.9999, 0.07 / 100.0))
    assert round(found.value, 1) == 1002.7
    assert round(found.error, 4) == 0.0009
    assert round(found.value * found.error, 1) == 0.9


def test_three_resistances_weighted_by_their_errors() -> None:
    """J. R. Taylor, An Introduction to Error Analysis, 2nd ed., 1997, chapter 7 (from memory).

    11 ± 1, 12 ± 1 and 10 ± 3 ohm: the last has a ninth of the weight, the mean is 11.42 ± 0.69 ohm.
    """
    mean, error, ratio = weighted_mean([11.0, 12.0, 10.0], [1.0, 1.0, 3.0])
    assert mean == pytest.approx(11.42, abs=0.005)
    assert error == pytest.approx(0.69, abs=0.005)
    assert ratio < 1.0
