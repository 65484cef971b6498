"""The weigh-out ticket as a value: what is printed, in the order of weighing, rounded to the balance and re-added."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from fluxlab.design.batch import BatchRow
from fluxlab.design.cautions.standing import standing
from fluxlab.design.layers import Standing, poured
from fluxlab.design.report_types import Caution, CautionLevel, FillReport, MouldReport, Report, TargetReport
from fluxlab.design.roast_text import weight_doubt
from fluxlab.design.ticket_facts import Fact, facts_of
from fluxlab.design.ticket_reckoned import total_words
from fluxlab.design.ticket_rows import (
    Rounded,
    TicketRow,
    batch_weighings,
    charge_weighings,
    counts_as_flux,
    decimals_of,
    total_of,
    written,
)
from fluxlab.issue import Severity
from fluxlab.vessel.vessel_types import Crucible, Mould

_LEVELS: tuple[CautionLevel, ...] = ("block", "warn", "caution")
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class TicketCaution:
    """One rule that applies to what is weighed. `lift` says who may lift a block, `confirmed` that the operator did."""

    rule: str
    level: CautionLevel
    title: str
    sentence: str
    lift: Literal["never", "operator", "cause"] = "never"
    confirmed: bool = False

    @property
    def outstanding(self) -> bool:
        """Whether this block still stops the ticket."""
        return self.level == "block" and not self.confirmed


@dataclass(frozen=True, slots=True)
class Ticket:
    """One ticket. `rows` and `total` are in whole balance steps [g], written with `decimals` places and `mark`.

    `revision` is None for a recipe that was never kept. `pot`, `fill`, `mould` and `mould_fill` are what the drawings
    show; None leaves a drawing out. `stub` names the blanks that are filled in after the pour, each with its unit.
    `standing` are the sentences that stand on every ticket.
    """

    kind: Literal["charge", "batch"]
    title: str
    recipe: str
    subtitle: str
    revision: int | None
    copy: int
    when: datetime
    rows: tuple[TicketRow, ...]
    total_name: str
    total: float
    decimals: int
    mark: str
    footer: str
    kept: bool
    facts: tuple[Fact, ...] = ()
    cautions: tuple[TicketCaution, ...] = ()
    pot: Crucible | None = None
    fill: FillReport | None = None
    mould: Mould | None = None
    mould_fill: MouldReport | None = None
    slag_mass: float | None = None
    stub: tuple[tuple[str, str], ...] = ()
    standing: tuple[str, ...] = ()

    @property
    def number(self) -> str:
        """Revision and copy, as printed at the foot of each page."""
        if self.kind == "batch":
            return f"batch-{self.copy}"
        return f"{'draft' if self.revision is None else self.revision}-{self.copy}"

    @property
    def poured(self) -> tuple[Standing, ...]:
        """The layers in the mould [g, cm3, mm], from the bottom up; none without a mould."""
        return poured(self.mould_fill, self.slag_mass) if self.mould_fill else ()

    @property
    def issued(self) -> str:
        """Copy, revision, date and time in words."""
        if self.kind == "batch":
            return f"copy {self.copy}, {date_words(self.when)}"
        of = ", not kept in a library" if self.revision is None else f" of revision {self.revision}"
        return f"copy {self.copy}{of}, {date_words(self.when)}"

    def weight_text(self, grams: float) -> str:
        """A weight as printed, always with all its places."""
        return written(grams, self.decimals, self.mark)


def build(
    report: Report,
    *,
    revision: int | None,
    copy: int,
    when: datetime,
    confirmed: Collection[str] = (),
    rounded: Rounded | None = None,
    mark: str = ".",
) -> Ticket:
    """The ticket of a recipe [weights in g].

    `confirmed` are the rules that the operator has confirmed for this ticket; only a block that he may lift heeds it.
    `rounded` are the weights in whole balance steps, worked out when not given. `mark` is the decimal mark.
    """
    recipe, shelf = report.work.recipe, report.work.shelf
    fitted = rounded if rounded is not None else _rounded(report)
    rows = charge_weighings(report, fitted.grams)
    total = total_of(rows, shelf.balance_step)
    places = decimals_of(shelf.balance_step)
    ore = recipe.ore
    return Ticket(
        kind="charge",
        title=", ".join(part for part in (ore.group, ore.name) if part) or "Ore without a name",
        recipe=recipe.name,
        subtitle=_subtitle(report, rows, places, mark),
        revision=revision,
        copy=copy,
        when=when,
        rows=rows,
        total_name="Charge as weighed",
        total=total,
        decimals=places,
        mark=mark,
        footer="; ".join(part for part in (fitted.sentence, total_words(report, total, places, mark)) if part),
        kept=fitted.kept,
        facts=facts_of(report, rows, total, places, mark),
        cautions=_cautions(report, rows, frozenset(confirmed)),
        pot=shelf.crucible(recipe.crucible),
        fill=report.fill,
        mould=shelf.mould(recipe.mould),
        mould_fill=report.mould,
        slag_mass=report.slag.mass,
        stub=_stub(recipe.route),
        standing=standing(nitrate=_nitrate(rows), short=True),
    )


def build_batch(
    name: str,
    batch: Sequence[BatchRow],
    *,
    step: float,
    copy: int,
    when: datetime,
    apart: Collection[str] = (),
    cautions: Sequence[Caution] = (),
    confirmed: Collection[str] = (),
    mark: str = ".",
) -> Ticket:
    """The ticket of a jar of mixed flux [weights in g]; `apart` are the fluxes (nitre) that stay out of the mix."""
    rows = batch_weighings(batch, apart)
    places = decimals_of(step)
    return Ticket(
        kind="batch",
        title=name,
        recipe="Batch of mixed flux",
        subtitle=f"{len(rows)} parts, for the jar",
        revision=None,
        copy=copy,
        when=when,
        rows=rows,
        total_name="Jar as weighed",
        total=total_of(rows, step),
        decimals=places,
        mark=mark,
        footer=f"rounded to the {written(step, places, mark)} g balance and re-added",
        kept=True,
        cautions=tuple(_caution(each, frozenset(confirmed)) for each in cautions) + _nothing_to_weigh(rows, 1),
        standing=standing(nitrate=_nitrate(rows), short=True),
    )


def printable(ticket: Ticket) -> tuple[TicketCaution, ...]:
    """The blocks that stop print, PDF and command line; empty when the ticket may go out."""
    return tuple(caution for caution in ticket.cautions if caution.outstanding)


def hidden_by(ticket: Ticket) -> tuple[TicketCaution, ...]:
    """The outstanding blocks that nobody may lift: with one of them not even the preview is shown."""
    return tuple(caution for caution in printable(ticket) if caution.lift != "operator")


def reissued(ticket: Ticket, *, copy: int, when: datetime) -> Ticket:
    """The next copy of a ticket, with its confirmations still to be given."""
    asked = tuple(replace(caution, confirmed=False) for caution in ticket.cautions)
    return replace(ticket, copy=copy, when=when, cautions=asked)


def date_words(when: datetime) -> str:
    """A date and time as printed: day, month in words, year, hour and minute."""
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}, {when.hour:02d}:{when.minute:02d}"


def _rounded(report: Report) -> Rounded:
    from fluxlab.design.evaluate import rounded_weights

    return rounded_weights(report.work, report)


def _nitrate(rows: Sequence[TicketRow]) -> bool:
    return any(row.apart for row in rows)


def _subtitle(report: Report, rows: Sequence[TicketRow], places: int, mark: str) -> str:
    recipe = report.work.recipe
    charge = rows[0].grams
    flux = sum(row.grams for row in rows[1:] if counts_as_flux(row.what, report.work.shelf))
    ratio = f", flux to {report.ore.feed} {written(flux / charge, 2, mark)} : 1" if charge > 0.0 else ""
    route = f"{recipe.route[0].upper()}{recipe.route[1:]}"
    return f"{route}, {written(charge, places, mark)} g of {report.ore.feed}{ratio}"


def _cautions(report: Report, rows: Sequence[TicketRow], confirmed: frozenset[str]) -> tuple[TicketCaution, ...]:
    rules = tuple(_caution(each, confirmed) for each in report.cautions)
    missing = tuple(
        TicketCaution("", "warn", "Shelf", f"“{line.name}” is in the recipe but not on the shelf: it is left out.")
        for line in report.lines
        if line.missing
    )
    unmet = "; ".join(target.sentence for target in report.targets if _must_unmet(target))
    relaxed = (TicketCaution("", "warn", "Targets", f"Not met: {unmet}."),) if unmet else ()
    wrong = _roast_weight(report) + _wrong_entries(report)
    found = _nothing_to_weigh(rows, 2) + rules + missing + wrong + relaxed
    return tuple(sorted(found, key=lambda each: _LEVELS.index(each.level)))


def _roast_weight(report: Report) -> tuple[TicketCaution, ...]:
    """A word on a weighing that no roast of the ore explains."""
    doubt = weight_doubt(report.ore.roast)
    if not doubt:
        return ()
    sentence = f"It cannot be right: {doubt}, and no roast of this ore does that. Weigh again before the melt."
    return (TicketCaution("", "warn", "Roast weight", sentence),)


def _wrong_entries(report: Report) -> tuple[TicketCaution, ...]:
    """A word on every entry that cannot be; not on those that the ticket speaks of already."""
    told = {f"lines.{line.flux}" for line in report.lines if line.missing}
    told |= {"roast.after"} if weight_doubt(report.ore.roast) else set()
    wrong = (issue for issue in report.issues if issue.severity is Severity.ERROR and issue.where not in told)
    return tuple(
        TicketCaution("", "warn", "Wrong entry", f"{issue.sentence} {issue.remedy}".rstrip()) for issue in wrong
    )


def _must_unmet(target: TargetReport) -> bool:
    below = target.state == "below" and target.lo_kind == "must"
    return target.on and (below or (target.state == "above" and target.hi_kind == "must"))


def _caution(caution: Caution, confirmed: frozenset[str]) -> TicketCaution:
    lifted = caution.level == "block" and caution.lift == "operator" and caution.rule in confirmed
    return TicketCaution(caution.rule, caution.level, caution.title, caution.sentence, caution.lift, lifted)


def _nothing_to_weigh(rows: Sequence[TicketRow], least: int) -> tuple[TicketCaution, ...]:
    if sum(1 for row in rows if row.grams > 0.0) >= least:
        return ()
    sentence = "There is nothing to weigh out yet: give the charge and the fluxes."
    return (TicketCaution("", "block", "No recipe", sentence),)


def _stub(route: str) -> tuple[tuple[str, str], ...]:
    button = "Lead" if route == "lead collection" else "Button"
    return ((button, "g"), ("Matte", "g"), ("Slag", "g"), ("Time", "min"))
