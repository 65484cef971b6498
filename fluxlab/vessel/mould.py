"""From the measured inside dimensions of a mould to its profile."""

import math

from fluxlab.issue import Issue, error, warning
from fluxlab.vessel.profile import Profile, stack
from fluxlab.vessel.sections import Section, paraboloid, spherical_cap, straight_wall
from fluxlab.vessel.vessel_types import Mould

# judgement: a rim radius measured to a millimetre or two should meet the one that angle and depth give
RIM_TOLERANCE = 0.08


def mould_profile(mould: Mould) -> tuple[Profile | None, tuple[Issue, ...]]:
    """Profile of a mould's inside [mm, cm3] and what is wrong with its dimensions; None when they make no mould.

    Cone: half-angle, depth from the true bottom and radius of the ball that rounds the tip (0 = sharp).
    Frustum: `tip_radius` is the radius of the flat bottom; the wall runs to `rim_radius`, or rises at the half-angle
    where no rim radius is given. Paraboloid: rim radius and depth.
    """
    where = f"shelf.moulds.{mould.uid}"
    faults = _faults(mould, where)
    if faults:
        return None, faults
    profile = stack(*_sections(mould))
    return profile, _doubts(mould, profile, where)


def _sections(mould: Mould) -> tuple[Section, ...]:
    slope = math.tan(math.radians(mould.half_angle))
    if mould.shape == "paraboloid":
        return (paraboloid(mould.rim_radius, mould.depth),)
    if mould.shape == "frustum":
        rim = mould.rim_radius if mould.rim_radius > 0.0 else mould.tip_radius + mould.depth * slope
        return (straight_wall(mould.tip_radius, rim, mould.depth),)
    if mould.tip_radius == 0.0:
        return (straight_wall(0.0, mould.depth * slope, mould.depth),)
    touch = _tangent_height(mould)
    foot = mould.tip_radius * math.cos(math.radians(mould.half_angle))
    height = mould.depth - touch
    return (spherical_cap(foot, touch), straight_wall(foot, foot + height * slope, height))


def _tangent_height(mould: Mould) -> float:
    return mould.tip_radius * (1.0 - math.sin(math.radians(mould.half_angle)))


def _faults(mould: Mould, where: str) -> tuple[Issue, ...]:
    faults: list[Issue] = []
    needed = [("depth", mould.depth)]
    if mould.shape == "paraboloid":
        needed.append(("rim radius", mould.rim_radius))
    for what, value in needed:
        if not (math.isfinite(value) and value > 0.0):
            faults.append(
                error(where, f"{mould.name}: the {what} is missing or not above zero.", f"Measure the {what}.")
            )
    angle_counts = mould.shape == "cone" or (mould.shape == "frustum" and mould.rim_radius <= 0.0)
    if angle_counts and not 0.0 < mould.half_angle < 90.0:
        faults.append(
            error(
                where,
                f"{mould.name}: a half-angle of {mould.half_angle:g} degrees makes no mould.",
                "Enter the angle between axis and wall, usually 15 to 25 degrees.",
            )
        )
    if not (math.isfinite(mould.tip_radius) and mould.tip_radius >= 0.0):
        faults.append(
            error(where, f"{mould.name}: the tip radius is below zero.", "Enter 0 for a sharp tip, else its radius.")
        )
    if not math.isfinite(mould.rim_radius) or mould.rim_radius < 0.0:
        faults.append(error(where, f"{mould.name}: the rim radius is below zero.", "Measure it, or enter 0."))
    if not faults and mould.shape == "cone" and _tangent_height(mould) >= mould.depth:
        faults.append(
            error(
                where,
                f"{mould.name}: the rounding of the tip is deeper than the mould.",
                "Enter a smaller tip radius.",
            )
        )
    return tuple(faults)


def _doubts(mould: Mould, profile: Profile, where: str) -> tuple[Issue, ...]:
    if mould.shape != "cone" or mould.rim_radius == 0.0:
        return ()
    if abs(mould.rim_radius - profile.rim_radius) <= RIM_TOLERANCE * profile.rim_radius:
        return ()
    return (
        warning(
            where,
            f"{mould.name}: half-angle and depth make a rim radius of {profile.rim_radius:.0f} mm,"
            f" not {mould.rim_radius:g} mm.",
            "Measure the half-angle again; the drawing and the levels follow the angle.",
        ),
    )
