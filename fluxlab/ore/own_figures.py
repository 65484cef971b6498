"""Figures of memory or judgement that the operator may replace: what each is, and whether his own makes sense."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

from fluxlab.issue import Issue, warning

OWN = "the operator's own"
"""The source of a figure that he has set."""


@dataclass(frozen=True, slots=True)
class OreFigure:
    """One figure in `unit`: its heading and words, the program's own and its source, `least` and `most` that make
    sense."""

    key: str
    group: str
    words: str
    unit: str
    shipped: float
    least: float
    most: float
    source: str

    def refuses(self, value: float) -> str:
        """Which values could be this figure, if that one cannot; empty if it can."""
        if isfinite(value) and self.least <= value <= self.most:
            return ""
        return f"Give {self.least:g} to {self.most:g} {self.unit}".rstrip() + "."

    @property
    def title(self) -> str:
        """The words as the beginning of a sentence."""
        return self.words[:1].upper() + self.words[1:]

    def said(self, value: float) -> str:
        """A value with the unit of the figure."""
        return f"{value:g} {self.unit}".rstrip()


Figures = Mapping[str, OreFigure]


def sensible(known: Figures, own: Mapping[str, float], where: str) -> tuple[Mapping[str, float], tuple[Issue, ...]]:
    """The operator's figures that make sense, by key, and what is said of the others; `where` they stand."""
    kept: dict[str, float] = {}
    issues = []
    for key, value in own.items():
        figure = known.get(key)
        if figure is None:
            issues.append(warning(where, f"There is no figure called “{key}” here.", "Remove it."))
        elif remedy := figure.refuses(value):
            sentence = f"“{figure.title}” cannot be {figure.said(value)}; the program's own figure is used."
            issues.append(warning(where, sentence, remedy))
        else:
            kept[key] = value
    return kept, tuple(issues)


def refusal(known: Figures, key: str, value: float) -> str:
    """Why a value cannot be set as a figure, in words with what to do; empty if it can."""
    _, issues = sensible(known, {key: value}, "")
    return f"{issues[0].sentence} {issues[0].remedy}" if issues else ""


def named(known: Figures, key: str) -> str:
    """A figure in words; its key if there is no such figure."""
    return known[key].words if key in known else key
