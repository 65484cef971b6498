"""Profiles against numerical integration of their own radius, level as the inverse of volume."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from fluxlab.vessel.profile import Profile, scaled_to, stack
from fluxlab.vessel.sections import parabolic_stave, paraboloid, semi_ellipsoid, spherical_cap, straight_wall

SHAPES = {
    "frustum": stack(straight_wall(30.0, 44.0, 105.0)),
    "cylinder": stack(straight_wall(25.0, 25.0, 60.0)),
    "near cylinder": stack(straight_wall(25.0, 25.0 + 1e-9, 60.0)),
    "narrowing": stack(straight_wall(44.0, 30.0, 105.0)),
    "sharp cone": stack(straight_wall(0.0, 36.4, 100.0)),
    "cap and frustum": stack(spherical_cap(20.0, 8.0), straight_wall(20.0, 30.0, 70.0)),
    "hemisphere": stack(spherical_cap(20.0, 20.0)),
    "ellipsoid and frustum": stack(semi_ellipsoid(20.0, 30.0), straight_wall(20.0, 30.0, 70.0)),
    "barrel": stack(parabolic_stave(30.0, 45.0, 35.0, 120.0)),
    "waisted": stack(parabolic_stave(30.0, 25.0, 35.0, 120.0)),
    "hourglass": stack(parabolic_stave(30.0, 1.0, 44.0, 105.0)),
    "paraboloid": stack(paraboloid(40.0, 90.0)),
}
profiles = pytest.mark.parametrize("profile", SHAPES.values(), ids=SHAPES.keys())
fractions = st.floats(0.0, 1.0)
NANOMETRE = 1e-6


def integrated(profile: Profile, z: float) -> float:
    """Volume [cm3] by quadrature of pi r^2, broken at the joints."""
    joints = [floor for floor in profile.floors if 0.0 < floor < z]
    area, _ = integrate.quad(
        lambda h: math.pi * profile.radius(h) ** 2, 0.0, z, points=joints or None, epsrel=1e-12, epsabs=1e-9
    )
    return area / 1000.0


@profiles
@pytest.mark.parametrize("fraction", [0.02, 0.1, 0.37, 0.5, 0.8, 1.0])
def test_volume_is_the_integral_of_the_radius(profile: Profile, fraction: float) -> None:
    z = fraction * profile.depth
    assert profile.volume(z) == pytest.approx(integrated(profile, z), rel=1e-10)


@pytest.mark.parametrize("name", SHAPES)
@given(fraction=fractions)
def test_level_undoes_volume(name: str, fraction: float) -> None:
    profile = SHAPES[name]
    z = fraction * profile.depth
    assert profile.level(profile.volume(z)) == pytest.approx(z, abs=1e-7)


@pytest.mark.parametrize("name", SHAPES)
@given(first=fractions, second=fractions)
def test_more_volume_stands_higher(name: str, first: float, second: float) -> None:
    profile = SHAPES[name]
    low, high = sorted((first, second))
    assert profile.volume(low * profile.depth) <= profile.volume(high * profile.depth)
    assert profile.level(low * profile.brim) <= profile.level(high * profile.brim) + NANOMETRE
    if high - low > 1e-6:
        assert profile.level(low * profile.brim) < profile.level(high * profile.brim)


@given(
    bottom=st.floats(5.0, 100.0),
    rim=st.floats(5.0, 100.0),
    depth=st.floats(10.0, 300.0),
    rounding=st.floats(0.05, 1.0),
    fraction=fractions,
    shape=st.sampled_from(["flat", "cap", "ellipsoid", "barrel"]),
)
def test_any_pot_gives_back_its_level(
    bottom: float, rim: float, depth: float, rounding: float, fraction: float, shape: str
) -> None:
    if shape == "flat":
        profile = stack(straight_wall(bottom, rim, depth))
    elif shape == "cap":
        profile = stack(spherical_cap(bottom, rounding * bottom), straight_wall(bottom, rim, depth))
    elif shape == "ellipsoid":
        profile = stack(semi_ellipsoid(bottom, rounding * depth), straight_wall(bottom, rim, depth))
    else:
        profile = stack(parabolic_stave(bottom, max(bottom, rim) * (1.0 + rounding), rim, depth))
    z = fraction * profile.depth
    assert profile.level(profile.volume(z)) == pytest.approx(z, abs=1e-6)
    assert profile.volume(profile.level(fraction * profile.brim)) == pytest.approx(fraction * profile.brim, rel=1e-9)


@profiles
def test_above_the_rim_a_collar_carries_on_without_a_jump(profile: Profile) -> None:
    step = 1e-6
    assert profile.volume(profile.depth + step) - profile.brim == pytest.approx(
        math.pi * profile.rim_radius**2 * step / 1000.0, rel=1e-3
    )
    over = profile.level(1.3 * profile.brim)
    assert over > profile.depth
    assert profile.volume(over) == pytest.approx(1.3 * profile.brim, rel=1e-12)


@profiles
def test_arrays_agree_with_single_figures(profile: Profile) -> None:
    z = np.linspace(-5.0, profile.depth + 5.0, 12).reshape(3, 4)
    assert profile.volumes(z).shape == (3, 4)
    assert profile.volumes(z)[1, 2] == profile.volume(float(z[1, 2]))
    assert profile.radii(z)[2, 0] == profile.radius(float(z[2, 0]))
    assert profile.levels([0.0, profile.brim])[1] == profile.level(profile.brim)


@profiles
def test_the_outline_runs_from_floor_to_rim_along_the_wall(profile: Profile) -> None:
    points = profile.outline()
    assert points[0][0] == 0.0
    assert points[-1] == pytest.approx((profile.depth, profile.rim_radius))
    for height, radius in points:
        assert radius == pytest.approx(profile.radius(height), rel=1e-9, abs=1e-9)
    assert [height for height, _ in points] == sorted(height for height, _ in points)


@profiles
def test_a_measured_brimful_widens_every_radius_alike(profile: Profile) -> None:
    wide = scaled_to(profile, 1.21 * profile.brim)
    z = 0.4 * profile.depth
    assert wide.depth == profile.depth
    assert wide.brim == pytest.approx(1.21 * profile.brim, rel=1e-12)
    assert wide.radius(z) == pytest.approx(1.1 * profile.radius(z), rel=1e-12)
    assert wide.volume(z) == pytest.approx(integrated(wide, z), rel=1e-10)
    assert wide.level(1.21 * profile.volume(z)) == pytest.approx(z, abs=1e-7)


def test_nothing_is_below_the_floor() -> None:
    profile = SHAPES["cap and frustum"]
    assert profile.volume(-1.0) == 0.0
    assert profile.radius(-1.0) == 0.0
    assert profile.level(0.0) == 0.0


@pytest.mark.parametrize("volume", [-1e-9, math.nan, math.inf])
def test_a_volume_that_cannot_be_is_refused(volume: float) -> None:
    with pytest.raises(ValueError, match="no level"):
        SHAPES["frustum"].level(volume)
