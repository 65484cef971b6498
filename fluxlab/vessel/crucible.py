"""From the measured inside dimensions of a pot to its profile."""

import math

from fluxlab.issue import Issue, error, warning
from fluxlab.vessel.profile import Profile, scaled_to, stack
from fluxlab.vessel.sections import Section, parabolic_stave, semi_ellipsoid, spherical_cap, straight_wall
from fluxlab.vessel.vessel_types import Crucible

# judgement: a small melting pot; outside this a slip of unit (cm, inch) or a diameter for a radius is more likely
USUAL_DEPTH = (20.0, 400.0)
# judgement: a brimful measured with salt or sand repeats to some per cent; more apart is a slip in one of the two
BELIEVABLE_RATIO = (0.85, 1.18)


def crucible_profile(pot: Crucible) -> tuple[Profile | None, tuple[Issue, ...]]:
    """Profile of a pot's inside [mm, cm3] and what is wrong with its dimensions; None when they make no pot.

    `depth` is the whole inside depth on the axis, a rounded bottom included; `bottom_radius` is the radius where the
    straight wall meets the bottom. A measured brimful widens or narrows the computed shape.
    """
    where = f"shelf.crucibles.{pot.uid}"
    faults = _faults(pot, where)
    if faults:
        return None, faults
    profile = stack(*_sections(pot))
    doubts = _doubts(pot, profile, where)
    if pot.measured_volume is not None:
        profile = scaled_to(profile, pot.measured_volume)
    return profile, doubts


def _sections(pot: Crucible) -> tuple[Section, ...]:
    if pot.bottom == "barrel":
        return (parabolic_stave(pot.bottom_radius, pot.bilge_radius, pot.rim_radius, pot.depth),)
    if pot.bottom == "flat":
        return (straight_wall(pot.bottom_radius, pot.rim_radius, pot.depth),)
    rounding = spherical_cap if pot.bottom == "cap" else semi_ellipsoid
    wall = straight_wall(pot.bottom_radius, pot.rim_radius, pot.depth - pot.bottom_depth)
    return (rounding(pot.bottom_radius, pot.bottom_depth), wall)


def _faults(pot: Crucible, where: str) -> tuple[Issue, ...]:
    needed = [("bottom radius", pot.bottom_radius), ("rim radius", pot.rim_radius), ("depth", pot.depth)]
    if pot.bottom == "barrel":
        needed.append(("bilge radius", pot.bilge_radius))
    elif pot.bottom != "flat":
        needed.append(("depth of the rounded bottom", pot.bottom_depth))
    if pot.measured_volume is not None:
        needed.append(("measured volume", pot.measured_volume))
    faults = [
        error(where, f"{pot.name}: the {what} is missing or not above zero.", f"Measure the {what} and enter it.")
        for what, value in needed
        if not (math.isfinite(value) and value > 0.0)
    ]
    if faults:
        return tuple(faults)
    if pot.bottom in ("cap", "ellipsoid") and pot.bottom_depth >= pot.depth:
        faults.append(
            error(
                where,
                f"{pot.name}: the rounded bottom is as deep as the whole pot.",
                "Enter the whole inside depth, and of it the part that is rounded.",
            )
        )
    if pot.bottom == "cap" and pot.bottom_depth > pot.bottom_radius:
        faults.append(
            error(
                where,
                f"{pot.name}: a ball-shaped bottom cannot be deeper than its own radius.",
                "Enter a smaller bottom depth, or choose the ellipsoid bottom.",
            )
        )
    if pot.bottom == "barrel" and not _stays_open(pot):
        faults.append(
            error(
                where,
                f"{pot.name}: with this bilge radius the wall would close inside the pot.",
                "Measure the bilge radius at half the depth again.",
            )
        )
    return tuple(faults)


def _stays_open(pot: Crucible) -> bool:
    low, middle, high = pot.bottom_radius, pot.bilge_radius, pot.rim_radius
    first, second = 4.0 * middle - 3.0 * low - high, 2.0 * (low + high - 2.0 * middle)
    if second <= 0.0:
        return True
    turn = -first / (2.0 * second)
    return not 0.0 < turn < 1.0 or low + first * turn + second * turn**2 > 0.0


def _doubts(pot: Crucible, profile: Profile, where: str) -> tuple[Issue, ...]:
    doubts: list[Issue] = []
    if not USUAL_DEPTH[0] <= pot.depth <= USUAL_DEPTH[1]:
        doubts.append(
            warning(
                where,
                f"{pot.name}: a depth of {pot.depth:g} mm is unusual for a melting pot.",
                "Check that the dimensions are in millimetres.",
            )
        )
    if pot.rim_radius > pot.depth:
        doubts.append(
            warning(
                where,
                f"{pot.name}: the rim is wider than the pot is deep twice over.",
                "Check that radii were entered, not diameters.",
            )
        )
    if pot.measured_volume is not None:
        ratio = pot.measured_volume / profile.brim
        if not BELIEVABLE_RATIO[0] <= ratio <= BELIEVABLE_RATIO[1]:
            doubts.append(
                warning(
                    where,
                    f"{pot.name}: the measured brimful of {pot.measured_volume:.0f} cm3 does not go with"
                    f" the dimensions, which make {profile.brim:.0f} cm3.",
                    "Measure the radii and the depth again, inside.",
                )
            )
    return tuple(doubts)
