"""Where the weights to weigh out differ from the weights as reckoned, in words."""

from collections.abc import Sequence

from fluxlab.design.report_types import Report
from fluxlab.design.ticket_rows import TicketRow, written


def total_words(report: Report, total: float, places: int, mark: str) -> str:
    """The whole charge as reckoned [g], where the balance cannot show it so; else nothing."""
    reckoned = written(report.charge_total, places, mark)
    return "" if reckoned == written(total, places, mark) else f"{reckoned} g as reckoned"


def weighed_otherwise(report: Report, rows: Sequence[TicketRow], places: int, mark: str) -> str:
    """Fluxes whose weight to weigh is another than the reckoned one as the flux table shows it [g]; else nothing."""
    weighed = {row.what: row.grams for row in rows}
    told = []
    for line in report.lines:
        shown, reckoned = written(weighed.get(line.flux, 0.0), places, mark), written(line.grams, places, mark)
        if shown != reckoned:
            told.append(f"{line.name} {shown} g, reckoned {reckoned}")
    return f"To weigh in whole steps of the balance: {'; '.join(told)}." if told else ""
