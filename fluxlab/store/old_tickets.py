"""Tickets that an earlier fluxlab wrote, in the names of today."""

from typing import Any

_NOW = {
    "foam_volume_cm3": "swollen_volume_cm3",
    "foam_fraction": "swollen_fraction",
    "foam_level_mm": "swollen_level_mm",
}
"""What was called foam was the swelling heap; the foam of the melt has figures of its own."""


def as_now(ticket: Any) -> Any:
    """A ticket as read from a document, with the names of today where it has older ones."""
    fill = ticket.get("fill") if isinstance(ticket, dict) else None
    if not isinstance(fill, dict) or not _NOW.keys() & fill.keys():
        return ticket
    found = {_NOW.get(key, key): figure for key, figure in fill.items()}
    told = (found.get(key) for key in ("loose_level_mm", "loose_from_rim_mm", "swollen_level_mm"))
    ends = [float(end) for end in told if isinstance(end, int | float)]
    if len(ends) == 3:
        # the rim is as high above the swollen heap as above the loose one, less what it rises
        found.setdefault("swollen_from_rim_mm", ends[0] + ends[1] - ends[2])
    return {**ticket, "fill": found}
