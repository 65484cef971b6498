"""Pots and moulds against the closed forms of solid geometry.

The formulas (frustum, spherical segment, spheroid, paraboloid, cask with parabolic staves) stand in any mathematical
handbook's mensuration section; here they are written out anew, apart from the program's own sections. The tabulated
figures are common practice, no source: generic sizes worked out to the digit shown, not a maker's list.
"""

import math

import pytest

from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.filling import layers, marks
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.profile import Profile
from fluxlab.vessel.vessel_types import Crucible, Mould


def pot(bottom_radius: float, rim_radius: float, depth: float, **more: object) -> Profile:
    profile, _ = crucible_profile(Crucible("p", "Pot", bottom_radius, rim_radius, depth, **more))  # type: ignore[arg-type]
    assert profile is not None
    return profile


def cone(half_angle: float, depth: float, tip_radius: float = 0.0) -> Profile:
    profile, _ = mould_profile(Mould("m", "Cone", half_angle, depth, tip_radius))
    assert profile is not None
    return profile


@pytest.mark.parametrize(
    ("sizes", "brim", "two_thirds", "half"),
    [
        ((15, 22, 45), 49, 33, 24),
        ((18, 27, 60), 97, 64, 48),
        ((22, 32, 75), 174, 116, 87),
        ((26, 38, 90), 293, 195, 146),
        ((30, 44, 105), 457, 305, 228),
        ((36, 52, 125), 769, 512, 384),
        ((42, 60, 145), 1197, 798, 599),
    ],
)
def test_generic_pots_hold_what_the_table_says(
    sizes: tuple[int, int, int], brim: int, two_thirds: int, half: int
) -> None:
    profile = pot(*map(float, sizes))
    assert profile.brim == pytest.approx(brim, abs=0.51)
    assert profile.brim * 2.0 / 3.0 == pytest.approx(two_thirds, abs=0.51)
    assert profile.brim / 2.0 == pytest.approx(half, abs=0.55)


@pytest.mark.parametrize(
    ("sizes", "charge"),
    [
        ((15, 22, 45), 36),
        ((18, 27, 60), 71),
        ((22, 32, 75), 128),
        ((26, 38, 90), 215),
        ((30, 44, 105), 335),
        ((36, 52, 125), 564),
        ((42, 60, 145), 878),
    ],
)
def test_dry_charge_of_1_1_g_per_cm3_that_fits_to_two_thirds(sizes: tuple[int, int, int], charge: int) -> None:
    profile = pot(*map(float, sizes))
    assert 1.1 * profile.volume(marks(profile).two_thirds) == pytest.approx(charge, abs=0.6)


@pytest.mark.parametrize(("half_angle", "at50", "at70", "at100"), [
    (15.0, 9.4, 25.8, 75.0),
    (18.0, 13.8, 37.9, 111.0),
    (20.0, 17.3, 47.6, 139.0),
    (22.5, 22.5, 61.6, 180.0),
    (25.0, 28.5, 78.0, 228.0),
    (30.0, 43.6, 120.0, 349.0),
])  # fmt: skip
def test_sharp_cones_hold_what_the_table_says(half_angle: float, at50: float, at70: float, at100: float) -> None:
    profile = cone(half_angle, 120.0)
    assert profile.volume(50.0) == pytest.approx(at50, abs=0.06)
    assert profile.volume(70.0) == pytest.approx(at70, abs=0.5)
    assert profile.volume(100.0) == pytest.approx(at100, abs=0.6)


@pytest.mark.parametrize(("grams", "heights", "tops"), [
    (2.0, (13.6, 11.1, 9.4, 8.2), (7.3, 8.1, 8.8, 9.4)),
    (10.0, (23.3, 19.0, 16.1, 14.0), (12.5, 13.8, 15.0, 16.1)),
    (30.0, (33.6, 27.4, 23.2, 20.2), (18.0, 20.0, 21.7, 23.3)),
    (100.0, (50.2, 41.0, 34.7, 30.1), (26.9, 29.8, 32.4, 34.8)),
])  # fmt: skip
def test_silver_buttons_are_as_high_and_wide_as_the_table_says(
    grams: float, heights: tuple[float, ...], tops: tuple[float, ...]
) -> None:
    for half_angle, height, top in zip((15.0, 20.0, 25.0, 30.0), heights, tops, strict=True):
        profile = cone(half_angle, 100.0)
        button = layers(profile, grams / 10.49, 50.0).metal
        assert button.level == pytest.approx(height, abs=0.06)
        assert 2.0 * profile.radius(button.level) == pytest.approx(top, abs=0.06)


@pytest.mark.parametrize("z", [1.0, 3.0, 8.0])
def test_spherical_segment(z: float) -> None:
    a, c = 20.0, 8.0
    sphere = (a * a + c * c) / (2.0 * c)
    profile = pot(20.0, 30.0, 78.0, bottom="cap", bottom_depth=8.0)
    assert profile.volume(z) == pytest.approx(math.pi * z**2 * (3.0 * sphere - z) / 3.0 / 1000.0, rel=1e-12)
    assert profile.volume(c) == pytest.approx(math.pi * c * (3.0 * a * a + c * c) / 6.0 / 1000.0, rel=1e-12)


def test_frustum_above_the_segment() -> None:
    profile = pot(20.0, 30.0, 78.0, bottom="cap", bottom_depth=8.0)
    segment = math.pi * 8.0 * (3.0 * 400.0 + 64.0) / 6.0
    frustum = math.pi * 70.0 * (20.0**2 + 20.0 * 30.0 + 30.0**2) / 3.0
    assert profile.brim == pytest.approx((segment + frustum) / 1000.0, rel=1e-12)


@pytest.mark.parametrize("z", [2.0, 11.0, 30.0])
def test_half_a_spheroid(z: float) -> None:
    a, b = 20.0, 30.0
    profile = pot(a, 30.0, 100.0, bottom="ellipsoid", bottom_depth=b)
    assert profile.volume(z) == pytest.approx(math.pi * a * a * (z**2 / b - z**3 / (3.0 * b * b)) / 1000.0, rel=1e-12)
    assert profile.volume(b) == pytest.approx(2.0 / 3.0 * math.pi * a * a * b / 1000.0, rel=1e-12)


def test_paraboloid() -> None:
    profile, _ = mould_profile(Mould("m", "Bowl", shape="paraboloid", rim_radius=40.0, depth=90.0))
    assert profile is not None
    assert profile.brim == pytest.approx(0.5 * math.pi * 40.0**2 * 90.0 / 1000.0, rel=1e-12)
    volume = 60.0
    assert profile.level(volume) == pytest.approx(
        math.sqrt(2.0 * 90.0 * volume * 1000.0) / (40.0 * math.sqrt(math.pi)), rel=1e-12
    )


def test_cask_with_parabolic_staves_and_its_old_rule() -> None:
    bilge, end, height = 90.0, 66.0, 110.0
    profile = pot(end / 2.0, end / 2.0, height, bottom="barrel", bilge_radius=bilge / 2.0)
    exact = math.pi * height * (8.0 * bilge**2 + 4.0 * bilge * end + 3.0 * end**2) / 60.0 / 1000.0
    rule = math.pi * height * (2.0 * bilge**2 + end**2) / 12.0 / 1000.0
    assert profile.brim == pytest.approx(exact, rel=1e-12)
    assert profile.brim == pytest.approx(rule, rel=0.02)


def test_cone_with_a_rounded_tip() -> None:
    ball, angle = 5.0, math.radians(20.0)
    profile = cone(20.0, 100.0, ball)
    offset = ball * (1.0 / math.sin(angle) - 1.0)
    missing = math.pi * ball**3 * (1.0 - math.sin(angle)) ** 2 / (3.0 * math.sin(angle)) / 1000.0
    for volume in (0.5, 2.86, 60.0, profile.brim):
        expected = (3.0 * (volume + missing) * 1000.0 / (math.pi * math.tan(angle) ** 2)) ** (1.0 / 3.0) - offset
        assert profile.level(volume) == pytest.approx(expected, rel=1e-10)


def test_level_in_a_frustum() -> None:
    low, high, depth = 22.0, 32.0, 75.0
    slope = (high - low) / depth
    for volume in (10.0, 87.0, 150.0):
        expected = ((3.0 * slope * volume * 1000.0 / math.pi + low**3) ** (1.0 / 3.0) - low) / slope
        assert pot(low, high, depth).level(volume) == pytest.approx(expected, rel=1e-10)
