"""How likely it is that the targets hold, as plain values: views read these and nothing else."""

from dataclasses import dataclass

from fluxlab.design.plain_types import Mend
from fluxlab.design.recipe import Kind


@dataclass(frozen=True, slots=True)
class LimitChance:
    """One end of a target ("degree#lo") in words, and the chance [0..1] that it holds."""

    limit: str
    words: str
    kind: Kind
    chance: float


@dataclass(frozen=True, slots=True)
class ChanceReport:
    """The chance [0..1] that every must holds together, over `samples` likely ores.

    `musts` is None where nothing says how far the ore may differ, or where nothing must hold. `limits` are the ends of
    all targets that are on, musts first, the least likely first; `weakest` is the must that fails most often, empty
    where none does.
    """

    musts: float | None
    limits: tuple[LimitChance, ...]
    weakest: str
    samples: int
    sentence: str


@dataclass(frozen=True, slots=True)
class SaferReport:
    """A recipe that is surer, or the surest that was found; `weights` [g] by flux, in the order of the table.

    `before` and `chance` [0..1] are judged on ores that the search did not see. `more_flux` [g] and `more_cost` [money,
    None without prices] are the price of safety. `held_back` is the must that fails most often where `wanted` was not
    reached, else empty; `given_up` are the wishes, in words, that this recipe lets go. `mend` takes the recipe over,
    None where it is no surer than the one on the bench.
    """

    wanted: float
    reached: bool
    before: float
    chance: float
    weights: tuple[tuple[str, float], ...]
    more_flux: float
    more_cost: float | None
    held_back: str
    given_up: tuple[str, ...]
    sentence: str
    mend: Mend | None
