"""Problems as values: what is wrong, where, and what the operator can do about it."""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much an issue matters to the operator."""

    NOTE = "note"
    WARNING = "warning"
    ERROR = "error"


@dataclass(frozen=True, slots=True)
class Issue:
    """One problem in the operator's words.

    `where` is a dotted path into the recipe or the shelf ("ore.minerals", "lines.borax-glass"), so that
    a view can put the sentence beside the field it speaks of.
    """

    severity: Severity
    where: str
    sentence: str
    remedy: str = ""


def note(where: str, sentence: str, remedy: str = "") -> Issue:
    """An issue that only informs."""
    return Issue(Severity.NOTE, where, sentence, remedy)


def warning(where: str, sentence: str, remedy: str = "") -> Issue:
    """An issue that makes a figure doubtful."""
    return Issue(Severity.WARNING, where, sentence, remedy)


def error(where: str, sentence: str, remedy: str = "") -> Issue:
    """An issue that leaves a figure unknown."""
    return Issue(Severity.ERROR, where, sentence, remedy)
