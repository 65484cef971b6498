"""Whether a solved recipe holds everything that was asked of it."""

from fluxlab.design.balance import Balance


def holds(found: Balance) -> bool:
    """Whether nothing gave way in a solved recipe."""
    return found.result.status in ("ok", "undefined") and not found.result.opened
