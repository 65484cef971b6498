"""Whether the figures of a melt can be true, in words."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from math import sqrt

from fluxlab import resources
from fluxlab.issue import Issue, error, note, warning
from fluxlab.learn.melt import NOTHING, Melt
from fluxlab.learn.yields import (
    LOST,
    METALS,
    SURE,
    Metal,
    over_the_whole,
    recovery_of,
    too_much,
    weighing_error,
)

MORE_THAN_THERE_IS = "R39"
"""The caution rule that only the record of a melt can answer; its words stand with those of the others."""
MUCH = 0.5
"""A weight that differs by more than this part from what was asked for is likely a slip of the pen; judgement."""
GROWN = 40.0
"""No roast of an unknown ore adds as much to its weight [%]; judgement: galena all turned to sulphate gains 27 %."""
COLDEST, HOTTEST = 600.0, 1600.0
"""No slag of these fluxes is poured colder, no gas furnace gets hotter [degC]; judgement."""
CLOCK = timedelta(hours=1)
"""By so much clocks may differ; judgement."""


def checks(melt: Melt, entered: datetime | None = None) -> tuple[Issue, ...]:
    """What speaks against the figures of a melt, the gravest first; `entered` is the local time of the entry."""
    if melt.struck:
        return ()
    found = [*_metals(melt), *_masses(melt), *_roast(melt), *_fire(melt, entered), *_slips(melt)]
    return tuple(sorted(found, key=lambda issue: ("error", "warning", "note").index(issue.severity)))


def _metals(melt: Melt) -> Iterator[Issue]:
    for metal in METALS:
        yield from _metal(melt, metal)
    if over_the_whole(melt.fineness):
        yield error("fineness", "Silver and gold together are over 100 % of the button.", "Correct the fineness.")


def _metal(melt: Melt, metal: Metal) -> Iterator[Issue]:
    found = recovery_of(melt, metal)
    if found.value is not None:
        if too_much(found):
            rule = resources.toml("cautions.toml")[MORE_THAN_THERE_IS]
            yield error(
                "button",
                f"{rule['title']}: the button would hold {found.got:.3g} g {metal}, but by the assay the charge holds "
                f"{found.held:.3g} g; no button holds more than the charge.",
                str(rule["sentence"]),
            )
        return
    if metal == "silver" and found.at_most is not None and found.at_most > 100.0 * (1.0 + SURE * _grade_error(melt)):
        most_share = 10000.0 / found.at_most
        yield note(
            "button",
            f"The button weighs more than all silver of the charge by its assay: at most {most_share:.3g} % of it "
            "can be silver. The rest is lead, copper or other metal, or the assay is not of this charge.",
            "Have the button assayed.",
        )


def _grade_error(melt: Melt) -> float:
    return melt.beforehand.grade_error / 100.0


def _masses(melt: Melt) -> Iterator[Issue]:
    parts = [melt.button, melt.matte, melt.slag, melt.speiss, melt.prills]
    out = sum(part for part in parts if part is not None)
    if melt.total > 0.0 and out > melt.total * (1.0 + LOST):
        yield error(
            "slag",
            f"{out:.1f} g came out of the pot, but only {melt.total:.1f} g went in.",
            "Look at the units and at what was on the pan; slag with pieces of the pot weighs too much.",
        )
    said = melt.beforehand.slag
    if melt.slag is not None and said is not None and not said.low <= melt.slag <= said.high:
        way = "less" if melt.slag < said.low else "more"
        yield note(
            "slag",
            f"The slag weighs {melt.slag:.1f} g, {way} than the {said.low:.0f} to {said.high:.0f} g expected.",
            "Pot taken up, slag left in the pot, or a weight that was read wrong.",
        )


def _roast(melt: Melt) -> Iterator[Issue]:
    """Whether a roast of this ore can end at this weight; of an ore that is not known only the most is judged."""
    before, after, said = melt.roast_before, melt.roast_after, melt.beforehand
    if before is None or before <= NOTHING or after is None:
        return
    change = 100.0 * (after / before - 1.0)
    off = 100.0 * SURE * weighing_error(before, melt.balance_step) * sqrt(1.0 + (after / before) ** 2)
    if said.roast_least is None or said.roast_most is None:
        if change >= GROWN - off:
            yield error("roast", f"{_changed(before, after, change)}: no ore does that.", "Weigh again, the pan too.")
    elif not said.roast_least - off <= change <= said.roast_most + off:
        yield error(
            "roast",
            f"{_changed(before, after, change)}: no roast of this ore as described ends there "
            f"(possible is {_signed(said.roast_least)} to {_signed(said.roast_most)} %).",
            "Weigh again, the pan too. If it stands, the ore is not as described, or something fell in, was lost or "
            "was damp.",
        )


def _changed(before: float, after: float, change: float) -> str:
    way = "grew" if change > 0.0 else "shrank"
    return f"The roast {way} from {before:.1f} to {after:.1f} g, by {abs(change):.1f} %"


def _signed(percent: float) -> str:
    return f"{percent:+.1f}".replace("-", "−")


def _fire(melt: Melt, entered: datetime | None) -> Iterator[Issue]:
    if melt.hold is not None and melt.in_fire is not None and melt.hold > melt.in_fire:
        yield warning(
            "hold",
            f"Held quiet for {melt.hold:g} min, but the pot was in the fire for {melt.in_fire:g} min only: the hold is "
            "part of that time.",
            "Correct the one that is wrong.",
        )
    heat = melt.pour_temperature
    if heat is not None and heat < COLDEST:
        sentence = f"Poured at {heat:g} °C: no slag pours below {COLDEST:g} °C."
        yield warning("pour_temperature", sentence, "Look for a digit that is missing.")
    elif heat is not None and heat > HOTTEST:
        sentence = f"Poured at {heat:g} °C: no gas furnace gets above {HOTTEST:g} °C."
        yield warning("pour_temperature", sentence, "If it was read in °F, write so behind it.")
    if entered is not None and melt.poured > entered + CLOCK:
        sentence = f"Poured {melt.poured:%Y-%m-%d %H:%M}, but entered {entered:%Y-%m-%d %H:%M}: that is before it."
        yield warning("poured", sentence, "Correct the day of the pour, or set the clock.")


def _slips(melt: Melt) -> Iterator[Issue]:
    for weighing in melt.weighed:
        if weighing.read is not None and abs(weighing.read - weighing.asked) > MUCH * weighing.asked:
            yield warning(
                "weighed",
                f"{weighing.name}: {weighing.read:g} g was read where {weighing.asked:g} g was asked for.",
                "Correct it if it is a slip of the pen.",
            )
