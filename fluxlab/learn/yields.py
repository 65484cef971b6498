"""Yield and recovery of a melt: two different things.

Yield is the button's mass over the charge's: it needs a balance and says nothing of how much silver was had, for lead
and copper weigh too. Recovery is the silver got over the silver that the charge held: it needs the button's fineness
and the ore's assay.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cbrt, hypot, sqrt
from typing import Literal

from fluxlab.learn.measured import Measured, mean_of, quotient
from fluxlab.learn.melt import NOTHING, Assayer, Fineness, Melt
from fluxlab.learn.outliers import standing_apart

Metal = Literal["silver", "gold"]
METALS: tuple[Metal, ...] = ("silver", "gold")
SKIN, SKIN_OF = 0.05, 10.0
"""Slag and skin on a button that was hammered clean, as one standard deviation, on a button of so much [g]: the lower
end of 0.05 to 0.2 g, which is from memory and for buttons of any size. That it belongs to 10 g, and less than that to a
smaller one, is judgement: a film grows with the surface, so with the mass to the power of two thirds."""
ALL_HELD = 100.0
"""Nothing more can come back [%]: a figure above it says that an assay or a weight is wrong."""
SURE = 2.0
"""Standard deviations by which a button may hold more than the charge before it is called impossible; judgement."""
LOST = 0.005
"""What may come out over what went in, as part of it, for the slag's pick-up of pot and air; judgement."""
TOO_LIGHT = 0.5
"""A weight that is no surer than this part of itself was not weighed; judgement."""
FINENESS_ERROR: dict[Assayer, float] = {"assayer": 0.3, "x-ray gun": 1.5, "own guess": 10.0}
"""One standard deviation of a fineness [% of its value]: fire assay and X-ray from memory, the guess is judgement."""


@dataclass(frozen=True, slots=True)
class Recovery:
    """One metal of one melt [%]: `value` where it is known; else `at_most`, as if the button were nothing else.

    `got` and `held` [g]. `why` says in a sentence what is missing.
    """

    metal: Metal
    value: Measured | None
    at_most: float | None
    got: float | None
    held: float | None
    why: str = ""


def weighing_error(grams: float, step: float) -> float:
    """Error of a weighing [part of the value]: two readings, each anywhere within half a step.

    A rectangular distribution of half width a has the variance a²/3: JCGM 100:2008 (the GUM), 4.3.7, from memory.
    """
    return step / sqrt(6.0) / grams if grams > 0.0 else 0.0


def fineness_error(fineness: Fineness) -> float:
    """Error of a fineness [part of the value], its own or what is usual for its source."""
    return (FINENESS_ERROR[fineness.by] if fineness.error is None else fineness.error) / 100.0


def yield_of(melt: Melt) -> Measured | None:
    """Button over charge [%]; None where the button was not weighed."""
    if melt.button is None or _too_light(melt):
        return None
    return quotient(100.0 * melt.button / melt.charge, (_button_error(melt), _charge_error(melt)))


def recovery_of(melt: Melt, metal: Metal = "silver") -> Recovery:
    """Metal got over metal held [%], with its uncertainty."""
    held, fine = melt.held(metal), _fine(melt, metal)
    got = None if fine is None or melt.button is None else melt.button * fine / 100.0
    missing = _missing(melt, metal, held, fine)
    if missing or held is None or got is None or melt.fineness is None:
        bound = 100.0 * melt.button / held if melt.button is not None and held and held > NOTHING else None
        return Recovery(metal, None, bound, got, held, missing)
    own = (
        _button_error(melt),
        fineness_error(melt.fineness),
        _charge_error(melt),
        melt.beforehand.charge_error / 100.0,
    )
    value = quotient(100.0 * got / held, own, (melt.beforehand.grade_error / 100.0,))
    return Recovery(metal, value, None, got, held)


def too_much(found: Recovery) -> bool:
    """Whether the button would hold more of a metal than the charge, by more than their errors allow."""
    if found.value is None or found.got is None or found.held is None:
        return False
    return found.got > found.held * (1.0 + SURE * found.value.error)


def over_the_whole(fineness: Fineness | None) -> bool:
    """Whether silver and gold together are over 100 % of the button."""
    return fineness is not None and (fineness.silver or 0.0) + (fineness.gold or 0.0) > 100.0


def impossible(melt: Melt) -> str:
    """Why the figures of a melt cannot all be true, in a few words; "" where they can.

    A little over 100 % back, within the errors, is possible: to leave that out would draw every mean down.
    """
    for metal in METALS:
        if too_much(recovery_of(melt, metal)):
            return f"more {metal} than the charge held"
    if over_the_whole(melt.fineness):
        return "silver and gold over 100 % of the button"
    if melt.button is not None and 0.0 < melt.total * (1.0 + LOST) < melt.button:
        return "a button heavier than all that went in"
    return ""


@dataclass(frozen=True, slots=True)
class Row:
    """What the melts of one ore come to: mean yield and recovery, and the melts (by uid) that are left out.

    Both means are of the same `counted` melts. Left out of both are those that stand `apart`, those that are
    `impossible`, which others are not held against either, and those `without` a known recovery. Where no recovery is
    known, `counted` is 0 and the yield is the mean of the `weighed` buttons.
    """

    yields: Measured | None
    recovery: Measured | None
    counted: int
    apart: tuple[str, ...]
    impossible: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    weighed: int = 0


def row_of(melts: Sequence[Melt], metal: Metal = "silver") -> Row:
    """Mean yield and recovery [%] of the melts of one ore."""
    wrong = tuple(melt.uid for melt in melts if impossible(melt))
    sound = [melt for melt in melts if melt.uid not in wrong]
    known = [(melt.uid, found) for melt in sound if (found := recovery_of(melt, metal).value) is not None]
    places = standing_apart([found for _, found in known])
    apart = tuple(known[place][0] for place in places)
    counted = {uid: found for uid, found in known if uid not in apart}
    without = tuple(melt.uid for melt in sound if counted and melt.uid not in counted and melt.uid not in apart)
    meant = [melt for melt in sound if melt.uid in counted or not counted]
    yields = [found for melt in meant if (found := yield_of(melt)) is not None]
    return Row(mean_of(yields), mean_of([*counted.values()]), len(counted), apart, wrong, without, len(yields))


def _fine(melt: Melt, metal: Metal) -> float | None:
    if melt.fineness is None:
        return None
    return melt.fineness.silver if metal == "silver" else melt.fineness.gold


def _missing(melt: Melt, metal: Metal, held: float | None, fine: float | None) -> str:
    if melt.button is None:
        return "The button was not weighed."
    if held is None:
        return f"No {metal} grade of the ore was known."
    if held <= NOTHING:
        return f"By the assay the charge holds no {metal}."
    if melt.button <= 0.0:
        return "No button came out."
    if light := _too_light(melt):
        return light
    if not fine or melt.button * fine / 100.0 <= NOTHING:
        return f"The {metal} in the button is not known: have it assayed."
    return ""


def _too_light(melt: Melt) -> str:
    """Which of button and charge its balance cannot tell from nothing, in a sentence; "" where it can."""
    weighed = (("button", melt.button or 0.0, melt.button_shows), ("ore charged", melt.charge, melt.balance_step))
    for name, grams, step in weighed:
        if grams <= NOTHING or weighing_error(grams, step) > TOO_LIGHT:
            return f"The {name} is too light for a balance that shows {step:g} g."
    return ""


def usual_skin(button: float) -> float:
    """Slag and skin on a clean button of this mass [g], as one standard deviation."""
    return SKIN * cbrt(button / SKIN_OF) ** 2


def _button_error(melt: Melt) -> float:
    assert melt.button is not None
    skin = usual_skin(melt.button) if melt.skin is None else melt.skin
    return hypot(weighing_error(melt.button, melt.button_shows), skin / melt.button)


def _charge_error(melt: Melt) -> float:
    return weighing_error(melt.charge, melt.balance_step)
