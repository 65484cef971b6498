"""From dimensions as measured to profiles, and what is said of dimensions that cannot be."""

import math
from dataclasses import replace

import pytest

from fluxlab.issue import Severity
from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.house import house_crucibles, house_moulds
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.profile import Profile
from fluxlab.vessel.vessel_types import Crucible, Mould

POT = Crucible("p", "Pot", bottom_radius=30.0, rim_radius=44.0, depth=105.0)
CONE = Mould("m", "Cone", half_angle=20.0, depth=100.0, tip_radius=5.0)


def pot_of(**changes: object) -> Profile:
    profile, issues = crucible_profile(replace(POT, **changes))  # type: ignore[arg-type]
    assert profile is not None, issues
    return profile


def mould_of(**changes: object) -> Profile:
    profile, issues = mould_profile(replace(CONE, **changes))  # type: ignore[arg-type]
    assert profile is not None, issues
    return profile


def test_the_depth_of_a_round_bottomed_pot_is_the_whole_depth() -> None:
    for bottom in ("cap", "ellipsoid"):
        profile = pot_of(bottom=bottom, bottom_depth=12.0)
        assert profile.depth == 105.0
        assert profile.radius(12.0) == pytest.approx(30.0)
        assert profile.rim_radius == pytest.approx(44.0)


def test_a_barrel_is_widest_at_its_bilge() -> None:
    profile = pot_of(bottom="barrel", bottom_radius=30.0, rim_radius=30.0, bilge_radius=40.0)
    assert profile.radius(52.5) == pytest.approx(40.0)
    assert profile.radius(0.0) == pytest.approx(30.0)
    assert profile.rim_radius == pytest.approx(30.0)


def test_a_measured_brimful_replaces_the_computed_one() -> None:
    assert pot_of(measured_volume=430.0).brim == pytest.approx(430.0)


def test_a_brimful_far_from_the_dimensions_is_doubted() -> None:
    _, fine = crucible_profile(replace(POT, measured_volume=430.0))
    _, doubted = crucible_profile(replace(POT, measured_volume=250.0))
    assert fine == ()
    assert [issue.severity for issue in doubted] == [Severity.WARNING]
    assert "250 cm3" in doubted[0].sentence
    assert "457 cm3" in doubted[0].sentence


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"depth": 0.0}, "depth is missing"),
        ({"rim_radius": -3.0}, "rim radius is missing"),
        ({"bottom_radius": math.nan}, "bottom radius is missing"),
        ({"measured_volume": 0.0}, "measured volume is missing"),
        ({"bottom": "cap"}, "rounded bottom is missing"),
        ({"bottom": "cap", "bottom_depth": 105.0}, "as deep as the whole pot"),
        ({"bottom": "cap", "bottom_depth": 31.0}, "ball-shaped bottom"),
        ({"bottom": "barrel"}, "bilge radius is missing"),
        ({"bottom": "barrel", "bilge_radius": 0.1}, "wall would close"),
    ],
)
def test_dimensions_that_make_no_pot_are_said_and_give_no_profile(changes: dict[str, object], words: str) -> None:
    profile, issues = crucible_profile(replace(POT, **changes))  # type: ignore[arg-type]
    assert profile is None
    assert any(words in issue.sentence for issue in issues)
    assert all(issue.severity is Severity.ERROR and issue.where == "shelf.crucibles.p" for issue in issues)
    assert all(issue.remedy for issue in issues)


def test_an_ellipsoid_bottom_may_be_deeper_than_its_radius() -> None:
    assert pot_of(bottom="ellipsoid", bottom_depth=50.0).depth == 105.0


@pytest.mark.parametrize("changes", [{"depth": 10.5}, {"bottom_radius": 60.0, "rim_radius": 130.0}])
def test_a_slip_of_unit_or_a_diameter_for_a_radius_is_doubted(changes: dict[str, float]) -> None:
    profile, issues = crucible_profile(replace(POT, **changes))
    assert profile is not None
    assert issues
    assert all(issue.severity is Severity.WARNING for issue in issues)


def test_the_rounded_tip_touches_the_cone_smoothly() -> None:
    profile = mould_of()
    touch = 5.0 * (1.0 - math.sin(math.radians(20.0)))
    slope = (profile.radius(touch + 1e-5) - profile.radius(touch - 1e-5)) / 2e-5
    assert slope == pytest.approx(math.tan(math.radians(20.0)), rel=1e-4)
    assert profile.depth == 100.0


def test_a_frustum_mould_follows_its_rim_or_else_its_angle() -> None:
    assert mould_of(shape="frustum", rim_radius=41.0).rim_radius == pytest.approx(41.0)
    assert mould_of(shape="frustum").rim_radius == pytest.approx(5.0 + 100.0 * math.tan(math.radians(20.0)))
    assert mould_of(shape="frustum").radius(0.0) == pytest.approx(5.0)


def test_a_sharp_cone_is_a_cone() -> None:
    assert mould_of(tip_radius=0.0).radius(50.0) == pytest.approx(50.0 * math.tan(math.radians(20.0)))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"half_angle": 0.0}, "makes no mould"),
        ({"half_angle": 90.0}, "makes no mould"),
        ({"depth": math.inf}, "depth is missing"),
        ({"tip_radius": -1.0}, "tip radius is below zero"),
        ({"rim_radius": -1.0}, "rim radius is below zero"),
        ({"tip_radius": 160.0}, "deeper than the mould"),
        ({"shape": "paraboloid"}, "rim radius is missing"),
    ],
)
def test_dimensions_that_make_no_mould_are_said(changes: dict[str, object], words: str) -> None:
    profile, issues = mould_profile(replace(CONE, **changes))  # type: ignore[arg-type]
    assert profile is None
    assert any(words in issue.sentence for issue in issues)


def test_a_rim_that_does_not_go_with_the_angle_is_doubted() -> None:
    _, doubted = mould_profile(replace(CONE, rim_radius=60.0))
    _, fine = mould_profile(replace(CONE, rim_radius=40.0))
    assert "rim radius of 40 mm, not 60 mm" in doubted[0].sentence
    assert fine == ()


def test_every_house_pot_and_mould_has_a_profile_without_a_doubt() -> None:
    built = [crucible_profile(pot) for pot in house_crucibles()] + [mould_profile(m) for m in house_moulds()]
    assert len(built) == 11
    for profile, issues in built:
        assert profile is not None
        assert issues == ()
