"""Sentences that stand whatever the recipe is: who decides, what is no assay, what may need a licence."""

from fluxlab import resources


def standing(*, nitrate: bool, short: bool = False) -> tuple[str, ...]:
    """The sentences in their order; those on nitrates only with `nitrate`; `short` for the foot of a ticket."""
    rows = resources.toml("standing.toml").values()
    return tuple(row["short" if short else "sentence"] for row in rows if nitrate or row["when"] != "nitrate")
