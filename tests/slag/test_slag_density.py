"""Melt volume and density by adding partial volumes, and the liquid metals."""

import numpy as np
import pytest

from fluxlab.issue import Severity
from fluxlab.materials.oxides import INDEX, OXIDES, SIZE, from_masses, grams, vector
from fluxlab.slag.density import cover_volume_coefficients, melt_density, melt_volume, volume_coefficients
from fluxlab.slag.metals import METALS, liquid_density, liquid_metal_volume, solid_density


def test_one_gram_of_each_oxide_takes_the_room_of_its_partial_density() -> None:
    assert melt_volume(from_masses({"SiO2": 2.25})).value == pytest.approx(1.0)
    assert melt_volume(from_masses({"PbO": 8.5, "B2O3": 1.9})).value == pytest.approx(2.0)


def test_density_is_the_reciprocal_of_the_added_specific_volumes() -> None:
    n = from_masses({"SiO2": 40.0, "Na2O": 25.0, "FeO": 20.0, "B2O3": 15.0})
    density = melt_density(n)
    assert density is not None
    assert density.value == pytest.approx(100.0 / (40 / 2.25 + 25 / 2.4 + 20 / 4.9 + 15 / 1.9))


def test_common_oxides_carry_eight_percent_and_rare_ones_more() -> None:
    common = melt_volume(from_masses({"SiO2": 10.0, "Na2O": 5.0, "FeO": 3.0}))
    assert common.high / common.value - 1.0 == pytest.approx(0.08)
    assert 1.0 - common.low / common.value == pytest.approx(0.08)
    for symbol in ("TiO2", "BaO", "P2O5", "Sb2O3", "ZrO2"):
        rare = melt_volume(from_masses({symbol: 1.0}))
        assert rare.high / rare.value - 1.0 == pytest.approx(0.15), symbol


def test_a_mixture_takes_the_mean_range_by_volume() -> None:
    half = melt_volume(from_masses({"SiO2": 2.25, "TiO2": 2.8}))
    assert half.high / half.value - 1.0 == pytest.approx(0.115)


def test_sodium_fluoride_melts_at_two_grams_to_the_cubic_centimetre() -> None:
    n = vector({"Na2O": 0.5, "F": 1.0})
    assert grams(n).sum() == pytest.approx(41.988, abs=0.001)
    density = melt_density(n)
    assert density is not None
    assert density.value == pytest.approx(2.0)


def test_an_empty_slag_has_no_density() -> None:
    assert melt_density(np.zeros(SIZE)) is None
    assert melt_volume(np.zeros(SIZE)).value == 0.0


def test_the_solver_coefficients_give_the_same_volume() -> None:
    n = np.arange(1.0, SIZE + 1.0)
    assert float(volume_coefficients() @ n) == pytest.approx(melt_volume(n).value, rel=1e-12)
    left_out = {symbol for symbol, v in zip(OXIDES, cover_volume_coefficients(), strict=True) if v == 0.0}
    assert left_out == {"PbO", "Cu2O"}
    assert cover_volume_coefficients()[INDEX["SiO2"]] == volume_coefficients()[INDEX["SiO2"]]


def test_every_oxide_takes_room() -> None:
    assert (volume_coefficients() > 0.0).all()


def test_metals_lie_in_one_pool_by_added_volumes() -> None:
    pool = liquid_metal_volume({"Ag": 9.0, "Cu": 1.0}, 1150.0)
    assert pool.volume.value == pytest.approx(9.0 / liquid_density("Ag", 1150.0) + 1.0 / liquid_density("Cu", 1150.0))
    assert pool.issues == ()
    assert pool.volume.high / pool.volume.value == pytest.approx(1.01)


def test_lead_above_its_table_is_carried_on_and_said() -> None:
    pool = liquid_metal_volume({"Pb": 10.0, "Ag": 0.0}, 1150.0)
    assert [issue.severity for issue in pool.issues] == [Severity.NOTE]
    assert "liquid lead is tabled from 327 to 700 °C" in pool.issues[0].sentence
    assert pool.volume.high / pool.volume.value == pytest.approx(1.03)


def test_no_metal_takes_no_room() -> None:
    assert liquid_metal_volume({}, 1150.0).volume.value == 0.0


def test_an_unknown_metal_is_refused() -> None:
    with pytest.raises(KeyError):
        liquid_density("Hg", 20.0)


def test_silver_shrinks_by_an_eighth_on_freezing() -> None:
    jump = solid_density("Ag") / liquid_density("Ag", METALS["Ag"].melting_point) - 1.0
    assert jump == pytest.approx(0.126, abs=0.002)
