"""What makes the figures of a melt doubtful or unknown, in words, and what to do about it."""

from collections.abc import Iterator

import numpy as np

from fluxlab.issue import Issue, error, note, warning
from fluxlab.materials.oxides import OXIDES, Vec
from fluxlab.slag.domain import LIMITS, ONE_OXIDE, RANGE_MASSES, RANGES, SPANS
from fluxlab.slag.interval import LEVELS
from fluxlab.slag.melts import Melts, melts
from fluxlab.slag.shares import MODEL_MASS
from fluxlab.slag.viscosity import CEILING, FLOOR, OPINIONS, Viscosity, viscosity

WHERE = "slag"
THIN_DATA = 0.016
"""Leverage past which a prediction is an extrapolation [-]."""
THINLY_MEASURED = 1.0
"""Viscosity below which hardly any point of the data lies: 329 of 92,750 [Pa s]."""
LOW_WEIGHT = 0.05
"""Weight of a published opinion from which confidence is low [-]; judgement."""
_TRIAL = "Make a small trial melt, or bring the slag nearer to a common one."
# judgement: too little beyond a limit to speak of [mass %]
_SLIGHT = 0.05


def composition_issues(n: Vec) -> tuple[Issue, ...]:
    """What is wrong with one composition (oxides) [mol] itself: an error where nothing can be told of it."""
    return tuple(_composition(n, melts(n)))


def temperature_issues(temperature: float, name: str = "viscosity") -> tuple[Issue, ...]:
    """What is wrong with a temperature [degC] for a property: viscosity, density, surface tension or heat."""
    span = SPANS[name]
    if not np.isfinite(temperature):
        return (error(WHERE, "The temperature is no number, so nothing of the melt is told.", "Enter a temperature."),)
    between = f"between {span.least:.0f} and {span.most:.0f} °C"
    if not bool(span.tells(np.asarray(temperature))):
        return (
            error(
                WHERE, f"The {name} is told {between}, not at {temperature:.0f} °C.", f"Choose a temperature {between}."
            ),
        )
    if not span.low <= temperature <= span.high:
        said = (
            f"The {name} was checked between {span.low:.0f} and {span.high:.0f} °C; {temperature:.0f} °C lies outside."
        )
        return (warning(WHERE, said, "Take the figure as a guess; its range is widened."),)
    return ()


def viscosity_issues(n: Vec, temperature: float, found: Viscosity | None = None) -> tuple[Issue, ...]:
    """Everything that makes the viscosity of one composition (oxides) [mol] at a temperature [degC] doubtful."""
    issues = [*composition_issues(n), *temperature_issues(temperature)]
    found = viscosity(n, temperature) if found is None else found
    if not np.isnan(found.log10):
        issues += _size(float(10.0**found.log10))
        issues += _confidence(found)
    return tuple(issues)


def _composition(n: Vec, made: Melts) -> Iterator[Issue]:
    if not np.isfinite(n).all():
        yield error(WHERE, "An amount of the slag is no number, so nothing of it is told.", "Check ore and flux.")
    elif not made.known[0] and (n < 0.0).any():
        names = ", ".join(OXIDES[i] for i in np.flatnonzero(n < 0.0))
        yield error(WHERE, f"The slag would hold less than nothing of {names}.", "Check ore and flux.")
    elif not made.known[0]:
        yield error(WHERE, "There is no slag, so nothing of it is told.", "Add ore or flux.")
    else:
        yield from _too_far(made)
        yield from _ranges(made)


def _too_far(made: Melts) -> Iterator[Issue]:
    masses = made.moles[:, 0] * MODEL_MASS
    largest = int(masses.argmax())
    if masses[largest] > ONE_OXIDE / 100.0 * made.mass[0]:
        said = f"The slag is {OXIDES[largest]} alone; the equations hold for mixtures."
        yield error(WHERE, said, "Look up the melting point of that substance, or add other slag formers.")
    elif not made.told[0]:
        for row, share in zip(RANGES, made.shares(RANGE_MASSES)[:, 0], strict=True):
            if row["least"] and share < float(row["least"]):
                said = f"Only {share:.1f} % {_names(row)} in the slag: too little glass former to tell anything of it."
                yield error(WHERE, said, "Add silica or borax.")
            if row["most"] and share > float(row["most"]):
                said = f"{share:.0f} % {_names(row)} in the slag is far beyond every measured melt."
                yield error(WHERE, said, "Use less fluorspar or cryolite.")


def _ranges(made: Melts) -> Iterator[Issue]:
    if not made.told[0]:
        return
    for row, share, low, high in zip(RANGES, made.shares(RANGE_MASSES)[:, 0], *LIMITS[..., 0], strict=True):
        if low - _SLIGHT > share or share > high + _SLIGHT:
            end = f"below the {low:.0f}" if share < low else f"above the {high:.0f}"
            said = f"{_names(row)} {share:.1f} % lies {end} % to which the slag figures were checked."
            yield warning(WHERE, said, _TRIAL)


def _names(row: dict[str, str]) -> str:
    return row["shares"].replace("+", " + ")


def _size(pascal_seconds: float) -> Iterator[Issue]:
    if pascal_seconds < FLOOR:
        said = f"Thinner than anything in the data: below {FLOOR:g} Pa·s, no more can be said."
        yield note(WHERE, said, "It pours; mind that it also creeps into pores and cracks.")
    elif pascal_seconds < THINLY_MEASURED:
        said = f"Only one measured point in 300 lies below {THINLY_MEASURED:g} Pa·s: little is known of so thin a melt."
        yield note(WHERE, said, "Trust the range, not the figure.")
    if pascal_seconds > CEILING:
        yield warning(WHERE, f"Thicker than {CEILING:g} Pa·s, where the equations were not scored.", "Go hotter.")


def _confidence(found: Viscosity) -> Iterator[Issue]:
    own, *published = (float(10.0**value) for value in found.opinions)
    wide = 10.0 ** float(found.half_widths[LEVELS.index(90)])
    for name, other, weight in zip(OPINIONS[1:], published, found.weights[1:], strict=True):
        if weight >= LOW_WEIGHT:
            said = (
                f"Low confidence: few such melts were measured. {name}'s equation says {other:.2g} Pa·s and has"
                f" {100.0 * weight:.0f} % of the say, the fitted one says {own:.2g}."
            )
            yield warning(WHERE, said, f"Reckon with {wide:.0f} times thicker or thinner. {_TRIAL}")
    if float(found.leverage) > THIN_DATA:
        said = "Hardly any melt like this was measured: the viscosity is an extrapolation."
        yield warning(WHERE, said, f"Reckon with {wide:.0f} times thicker or thinner. {_TRIAL}")
