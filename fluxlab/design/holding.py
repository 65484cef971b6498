"""Whether a solved recipe holds everything that was asked of it."""

from fluxlab.blend.types import PHYSICAL, Status
from fluxlab.design.balance import Balance
from fluxlab.design.standing import standing
from fluxlab.design.target_report import value_of


def holds(found: Balance) -> bool:
    """Whether nothing gave way in a solved recipe, by what the report says of its targets."""
    return found.result.status != "invalid" and not _beyond_nature(found) and not any(_missed(found))


def status_of(found: Balance, missed: bool) -> Status:
    """How the solve went, by what the report says of its targets: `missed` where one of them is.

    The solver judges by its own accuracy and by what it took the pot to keep from the slag; the report by what the pot
    does keep, and by what the operator's balance can tell.
    """
    status = found.result.status
    if missed:
        return "relaxed" if status == "ok" else status
    return "ok" if status == "relaxed" and not _beyond_nature(found) else status


def _beyond_nature(found: Balance) -> bool:
    c = found.compiled
    return any(c.priority[c.index[w.key]] == PHYSICAL for w in found.result.opened)


def _missed(found: Balance) -> list[bool]:
    on = (t for t in found.targets if t.on)
    return [standing(found, t, value_of(found, t)).state in ("below", "above") for t in on]
