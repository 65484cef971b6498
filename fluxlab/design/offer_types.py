"""A way out of a difficulty: what it is in a sentence, and the click that takes it."""

from dataclasses import dataclass
from typing import Literal

from fluxlab.design.plain_types import Mend

OfferKind = Literal["ease", "accept", "free", "allow", "add", "swap", "plan"]


@dataclass(frozen=True, slots=True)
class Offer:
    """One offer. `about` is the target's end ("degree#lo") or the flux that it changes; empty where it is several.

    Kinds: ease one limit, accept what the nearest recipe gives, free a fixed row, allow a row more or less than its
    limits, add a flux, swap an empty jar, change the plan (pot, mould, feeds, charge).
    """

    kind: OfferKind
    about: str
    sentence: str
    mend: Mend
