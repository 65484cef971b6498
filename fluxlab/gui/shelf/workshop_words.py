"""The statements of the workshop card: what is asked, which answers there are, and the words for them."""

from dataclasses import dataclass
from typing import Any

NOT_STATED = "not stated"


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement: the field of the card, the words at its left, and its answers with their words."""

    field: str
    words: str
    answers: tuple[tuple[Any, str], ...]

    def said(self, value: Any) -> str:
        """An answer in words."""
        return next((words for answer, words in self.answers if answer == value), str(value))

    def answer(self, words: str) -> Any:
        """The answer of these words."""
        return next(answer for answer, name in self.answers if name == words)


def _asked(field: str, words: str, yes: str = "yes", no: str = "no") -> Statement:
    return Statement(field, words, ((None, NOT_STATED), (True, yes), (False, no)))


def _habit(field: str, words: str, yes: str = "yes", no: str = "no") -> Statement:
    return Statement(field, words, ((False, no), (True, yes)))


FIRE = (
    _asked("indoors", "The fire burns", "indoors", "outdoors"),
    Statement(
        "fuel",
        "Fuel",
        (("", NOT_STATED), ("propane", "propane"), ("electric", "electricity"), ("other", "something else")),
    ),
    _asked("co_alarm", "Carbon monoxide alarm", "on", "none"),
    _asked("cylinder_far", "Gas cylinder 3 m or more away"),
    _asked("capture", "Hood with a scrubber"),
    _habit("yellow_flame", "Flame", "yellow", "not yellow"),
)
PEOPLE = (
    _asked("ppe", "Shield, coat, gauntlets, boots, mask", "at hand", "missing"),
    _asked("alone", "Working alone"),
    _asked("told_somebody", "Somebody knows when you finish"),
    _asked("minor", "Somebody under age takes part"),
)
HABITS = (
    _habit("dry_milling", "Ore is ground", "dry", "not dry"),
    _habit("quench", "Hot slag or mould into water"),
    _habit("wet_residues", "Slag, matte, dross wetted or acid-washed"),
    _habit("matte_kept", "Matte is kept for another melt"),
)
POT = (
    _habit("pot_cracked", "The pot has cracks"),
    _habit("pot_after_sulphide", "Its last melt held sulphide and alkali"),
)
RULES = ("R19", "R23", "R38", "R40", "R41", "R42", "R43", "R45", "R46", "R49", "R50")
"""The rules that ask the card."""
