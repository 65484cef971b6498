"""How sure a recipe is, as rows of the plain-text report: a label and its words."""

from collections.abc import Iterator

from fluxlab.design.chance import in_hundred
from fluxlab.design.chance_types import ChanceReport


def chance_rows(chance: ChanceReport) -> Iterator[tuple[str, str]]:
    """The chance of all musts together with the weakest of them, then every other limit that may fail."""
    yield "Musts together", f"{chance.sentence} ({chance.samples} tried)" if chance.samples else chance.sentence
    for row in chance.limits:
        if row.chance < 1.0 and row.limit != chance.weakest:
            yield f"  {row.kind}", f"{row.words}: {in_hundred(row.chance)} of 100"
