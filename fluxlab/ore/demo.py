"""The invented ore types that a new library starts with."""

from functools import cache
from typing import Any

from fluxlab import resources
from fluxlab.ore.ore_types import Grade, OreType, Share


@cache
def demo_ores() -> tuple[OreType, ...]:
    """The demo ore types, the clean concentrate first."""
    return tuple(_ore(row) for row in resources.toml("demo/ores.toml")["ore"])


def _ore(row: dict[str, Any]) -> OreType:
    return OreType(
        uid=row["uid"],
        name=row["name"],
        group=row["group"],
        known_by=row["known_by"],
        minerals=_shares(row, "minerals"),
        oxides=_shares(row, "oxides"),
        elements=_shares(row, "elements"),
        ticked=tuple(row.get("ticked", ())),
        stage=row["stage"],
        silver=Grade(*row["silver"]) if "silver" in row else None,
        gold=Grade(*row["gold"]) if "gold" in row else None,
        notes=row["notes"],
    )


def _shares(row: dict[str, Any], which: str) -> tuple[Share, ...]:
    return tuple(Share(*share) for share in row.get(which, ()))
