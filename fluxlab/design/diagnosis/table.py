"""What can be seen, and the causes, from resources/diagnosis.toml."""

from functools import cache

from fluxlab import resources
from fluxlab.design.diagnosis.types import Observation


@cache
def observations() -> tuple[Observation, ...]:
    """Everything that can be seen, in the order of the table, which is by group."""
    rows = resources.toml("diagnosis.toml")["observation"]
    return tuple(
        Observation(key, row["group"], row["words"], row["source"], tuple(row["points_to"].items()))
        for key, row in rows.items()
    )


@cache
def causes() -> dict[str, dict[str, str]]:
    """The causes by key: words, change, source."""
    found: dict[str, dict[str, str]] = resources.toml("diagnosis.toml")["cause"]
    return found
