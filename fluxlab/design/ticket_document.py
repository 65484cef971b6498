"""The ticket as one JSON text, for the record of what was printed."""

import json
from dataclasses import asdict
from datetime import datetime
from typing import Any

from fluxlab.design.ticket import Ticket
from fluxlab.design.ticket_text import text_of


def document_of(ticket: Ticket) -> str:
    """A printed ticket as JSON text: its figures [g, mm, °C as their names say] and the ticket in plain words."""
    content = asdict(ticket)
    for drawn in ("pot", "fill", "mould", "mould_fill"):
        content.pop(drawn)
    return json.dumps({"ticket": content, "text": text_of(ticket)}, ensure_ascii=False, default=_plain)


def _plain(value: Any) -> str:
    if isinstance(value, datetime):
        return value.isoformat(timespec="seconds")
    raise TypeError(f"no plain form for {value!r}")
