"""The ticket as plain text, for the command line."""

from collections.abc import Iterator
from textwrap import wrap

from fluxlab.design.layers import layer_line
from fluxlab.design.ticket import Ticket, TicketCaution

WIDTH = 76
_NAME, _WEIGHT = 48, 12
_READ = WIDTH - _NAME - _WEIGHT - 4
_LABEL = 12


def text_of(ticket: Ticket) -> str:
    """The whole ticket in lines of at most 76 characters, every weight in full."""
    return "\n".join(_lines(ticket)) + "\n"


def _lines(ticket: Ticket) -> Iterator[str]:
    yield "=" * WIDTH
    yield from wrap(f"Weigh-out ticket, {ticket.issued}", WIDTH)
    for words in (ticket.title, ticket.recipe, ticket.subtitle):
        yield from wrap(words, WIDTH)
    yield "-" * WIDTH
    yield _columns("    in this order", "weigh, g", "read, g")
    for row in ticket.rows:
        words = f"{row.name}, {row.hint}" if row.hint else row.name
        yield from _weighing(f"[ ] {words}", ticket.weight_text(row.grams))
    yield "=" * WIDTH
    yield from _weighing(f"    {ticket.total_name}", ticket.weight_text(ticket.total))
    yield ""
    for fact in ticket.facts:
        yield from _labelled(fact.label, f"{fact.value}; {fact.note}" if fact.note else fact.value)
    if ticket.poured:
        layers = "; ".join(layer_line(each, ticket.mark) for each in reversed(ticket.poured))
        yield from _labelled("Poured", f"from the top: {layers}")
    if ticket.facts:
        yield ""
    for caution in ticket.cautions:
        yield from _labelled(f"{mark_of(caution)} {caution.title}:", caution_words(caution))
    if ticket.cautions:
        yield ""
    if ticket.stub:
        yield "After the pour"
        yield "   ".join(f"{name} ________ {unit}" for name, unit in ticket.stub)
        yield ""
    yield from wrap(" ".join(ticket.standing), WIDTH)
    yield from wrap(f"{ticket.footer}  fluxlab {ticket.number}", WIDTH)


def mark_of(caution: TicketCaution) -> str:
    """How grave a caution is, in one sign."""
    return {"block": "!!", "warn": "! ", "caution": "- "}[caution.level]


def caution_words(caution: TicketCaution) -> str:
    """The sentence of a caution, and for a block whether the operator confirmed it."""
    if caution.level != "block":
        return caution.sentence
    if caution.confirmed:
        return f"{caution.sentence} Confirmed."
    return f"{caution.sentence} Not yet confirmed." if caution.lift == "operator" else caution.sentence


def _weighing(words: str, weight: str) -> Iterator[str]:
    first, *rest = wrap(words, _NAME, subsequent_indent="    ", drop_whitespace=False) or [""]
    yield _columns(first.rstrip(), weight, "_" * _READ)
    yield from rest


def _columns(name: str, weight: str, read: str) -> str:
    return f"{name:<{_NAME}}{weight:>{_WEIGHT}}    {read:>{_READ}}"


def _labelled(label: str, words: str) -> Iterator[str]:
    indent = " " * _LABEL
    if len(label) < _LABEL:
        yield from wrap(words, WIDTH, initial_indent=label.ljust(_LABEL), subsequent_indent=indent)
        return
    yield label
    yield from wrap(words, WIDTH, initial_indent=indent, subsequent_indent=indent)
