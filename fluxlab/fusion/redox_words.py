"""What a balance of reducers and oxidisers says in words."""

from fluxlab.fusion.redox_types import Redox
from fluxlab.issue import Issue, error, warning

_TELLING = 0.01
"""Amounts below this [g O] are not spoken of: a tenth of a gram of lead."""

_TENTH = 0.1
"""Oxygen of nitre over what takes it that is no fault [g/g]: the band of the nitre for the sulphur; judgement."""


def redox_issues(redox: Redox) -> tuple[Issue, ...]:
    """What the operator should know of the balance."""
    found: list[Issue] = []
    fuel = sum(oxygen for name, oxygen in redox.by_source.items() if name not in ("sulphides", "pot wall"))
    if redox.given > _TELLING and fuel > _TELLING:
        sentence = "Nitre and a reducer in one charge burn each other and do nothing else."
        found.append(warning("lines", sentence, "Take one of them out."))
    if redox.surplus > _TELLING + _TENTH * redox.supply:
        sentence = "The nitre gives more oxygen than the charge can take: what is left burns the pot or leaves as gas."
        found.append(warning("lines", sentence, "Take less nitre."))
    return tuple(found)


def left_over(redox: Redox) -> tuple[Issue, ...]:
    """What is said where lead is wanted, and reducer is left over when all of it is down."""
    if redox.litharge > 0.0 and redox.lead >= redox.litharge * (1.0 - 1e-9) and redox.unspent > _TELLING:
        sentence = f"All {redox.litharge:.0f} g of lead would come down and reducer is left over."
        remedy = "Add litharge, take less reducer, or add nitre; the button would be foul."
        return (error("lines", sentence, remedy),)
    return ()
