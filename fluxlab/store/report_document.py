"""Reports and tickets as documents: the JSON that the command line prints, and the ticket as the library keeps it."""

from typing import Any

from fluxlab.design.report_types import Report
from fluxlab.design.ticket import Ticket
from fluxlab.store import document
from fluxlab.store.codec import Read
from fluxlab.store.old_tickets import as_now
from fluxlab.store.report_keys import REPORT_CODEC

_HEAD = ("recipe", "ore_type", "route", "charge_g", "currency")
_SOLUTION = (
    "lines",
    "flux_mass_g",
    "flux_cost",
    "flux_to_ore",
    "flux_mass_without_wish_g",
    "without_wish",
    "charge_total_g",
    "targets",
    "solve",
    "issues",
)


def report_plain(report: Report) -> dict[str, Any]:
    """A report as plain JSON values, every number under a key that names its unit."""
    plain: dict[str, Any] = REPORT_CODEC.plain(report)
    work = plain.pop("work")
    roast = plain["ore"]["roast"]
    if roast is not None:
        # The one row that holds figures of different units.
        roast["gases"] = [
            {"gas": gas, "mass_g": mass, "volume_l": volume} for gas, mass, volume in roast.pop("gases_g")
        ]
    recipe = work["recipe"]
    head = {"recipe": recipe["name"], "ore_type": recipe["ore"]["name"], "route": recipe["route"]}
    return {**head, "charge_g": recipe["charge_g"], "currency": work["shelf"]["currency"], **plain}


def report_text(report: Report) -> str:
    """A report as a document."""
    return document.write("report", report=report_plain(report))


def solution_text(report: Report) -> str:
    """The recipe of a report as a document: its rows, sums and targets, and what gave way."""
    plain = report_plain(report)
    return document.write("solution", solution={key: plain[key] for key in (*_HEAD, *_SOLUTION)})


def findings_text(report: Report, blocks: tuple[str, ...]) -> str:
    """What stands against a recipe as a document; `blocks` are the rules that stop its ticket."""
    plain = report_plain(report)
    missed = [target for target in plain["targets"] if target["state"] in ("below", "above", "undefined")]
    found = {key: plain[key] for key in (*_HEAD, "verdicts", "cautions", "issues", "solve")}
    return document.write("findings", findings={**found, "missed": missed, "blocks": list(blocks)})


def ticket_text(ticket: Ticket) -> str:
    """A ticket as a document."""
    return document.write("ticket", ticket=REPORT_CODEC.plain(ticket))


def read_ticket(text: str) -> Read[Ticket]:
    """The ticket of a ticket document, for printing it once more."""
    parts = document.read_parts(text, ("ticket",), ("ticket",))
    if parts.value is None:
        return Read(None, parts.issues)
    return REPORT_CODEC.value(Ticket, as_now(parts.value.get("ticket")), "ticket", ranges=False)
