"""Georgius Agricola, De Re Metallica, 1556, translated by H. C. and L. H. Hoover, 1912, Book VII, p. 237.

Half a part of quartz powder with two parts of litharge melts in half an hour and serves as a flux.
"""

import pytest

from fluxlab.materials.oxides import from_masses
from fluxlab.slag.degree import CONVENTIONS, degree


def test_the_lead_glass_flux_is_near_a_bisilicate() -> None:
    n = from_masses({"SiO2": 0.5, "PbO": 2.0})
    for convention in CONVENTIONS:
        assert degree(n, convention) == pytest.approx(1.86, abs=0.005)
