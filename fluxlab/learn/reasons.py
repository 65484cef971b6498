"""Why a melt stands apart: in what its record differs from the others of the row, in words."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median

from fluxlab.learn.melt import Melt


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure of the record: how to read it, how far it must be off to count, and the words for less and more."""

    of: Callable[[Melt], float | None]
    off: float
    part: float
    less: str
    more: str


def _roast_loss(melt: Melt) -> float | None:
    before, after = melt.roast_before, melt.roast_after
    return None if not before or after is None else 100.0 * (before - after) / before


# How far off is worth a word: judgement.
_FIGURES = (
    _Figure(lambda melt: melt.pour_temperature, 20.0, 0.0, "{:.0f} °C colder", "{:.0f} °C hotter"),
    _Figure(lambda melt: melt.in_fire, 5.0, 0.25, "{:.0f} min less in the fire", "{:.0f} min longer in the fire"),
    _Figure(lambda melt: melt.hold, 3.0, 0.25, "held {:.0f} min less", "held {:.0f} min longer"),
    _Figure(lambda melt: melt.matte or 0.0, 1.0, 0.5, "{:.1f} g less matte", "{:.1f} g more matte"),
    _Figure(lambda melt: melt.speiss or 0.0, 1.0, 0.5, "{:.1f} g less speiss", "{:.1f} g more speiss"),
    _Figure(_roast_loss, 1.0, 0.0, "roast lost {:.1f} % less", "roast lost {:.1f} % more"),
    _Figure(lambda melt: melt.charge, 1.0, 0.3, "{:.0f} g smaller charge", "{:.0f} g larger charge"),
)


@dataclass(frozen=True, slots=True)
class Reasons:
    """In what a melt differs: in what was seen, in its figures, in its recipe, a few words each."""

    looks: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    recipe: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """All of them."""
        return (*self.looks, *self.figures, *self.recipe)

    @property
    def first(self) -> tuple[str, ...]:
        """The first of each kind."""
        return (*self.looks[:1], *self.figures[:1], *self.recipe[:1])


def reasons(melt: Melt, others: Sequence[Melt], words: Mapping[str, str] | None = None) -> Reasons:
    """In what a melt differs from the others; empty where the record shows nothing.

    `words` are those of the observations by key.
    """
    return Reasons(
        tuple(_looks(melt, others, words or {})), tuple(_figures(melt, others)), tuple(_recipe(melt, others))
    )


def _looks(melt: Melt, others: Sequence[Melt], words: Mapping[str, str]) -> Iterator[str]:
    usual = {key for other in others for key in other.seen}
    for key in melt.seen:
        if key not in usual and key in words:
            yield words[key][0].lower() + words[key][1:]


def _figures(melt: Melt, others: Sequence[Melt]) -> Iterator[str]:
    for figure in _FIGURES:
        own = figure.of(melt)
        usual = [value for other in others if (value := figure.of(other)) is not None]
        if own is None or not usual:
            continue
        off = own - median(usual)
        if abs(off) >= max(figure.off, figure.part * abs(median(usual))):
            yield (figure.less if off < 0.0 else figure.more).format(abs(off))


def _recipe(melt: Melt, others: Sequence[Melt]) -> Iterator[str]:
    if others and all(other.recipe != melt.recipe for other in others):
        yield "another recipe"
    if others and melt.route and all(other.route != melt.route for other in others):
        yield f"{melt.route} in place of {others[0].route}"
