"""The columns of the flux table."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.shelf import naming
from fluxlab.gui.shelf.composition import in_words
from fluxlab.gui.tables.model import Column
from fluxlab.gui.tables.numbers import exact, shown
from fluxlab.gui.tables.readers import above_zero, optional
from fluxlab.materials.flux_types import ByParts, Component

SHORT = 44
KNOWN = ("found", "common practice", "memory", "judgement")
Take = Callable[[int, Component, str], str]


def flux_columns(bench: Bench) -> tuple[Column[Component], ...]:
    """Name, what it is made of, purity, price, stock, densities and source of each flux on the bench's shelf."""

    def put(row: Component, **changes: Any) -> str:
        bench.do(edits.put_flux, replace(bench.work.shelf.flux(row.uid) or row, **changes))
        return ""

    def number(field: str, read: Callable[[str], float | str | None], scale: float = 1.0) -> Take:
        def take(_at: int, row: Component, text: str) -> str:
            value = read(text)
            if isinstance(value, str):
                return value
            return put(row, **{field: None if value is None else value * scale})

        return take

    def rename(_at: int, row: Component, text: str) -> str:
        return naming.refusal(text, bench.work.shelf.fluxes, row.uid) or put(row, name=text)

    def purity(row: Component) -> float | None:
        return None if isinstance(row.made_of, ByParts) else 100 * row.purity

    def take_purity(at: int, row: Component, text: str) -> str:
        if isinstance(row.made_of, ByParts):
            return "A jar is as pure as its parts; change the purity there."
        return number("purity", above_zero(reader("share"), "Purity"), 0.01)(at, row, text)

    return (
        Column("Flux", lambda r: r.name, "name", 150, 3, note=lambda r: r.form, take=rename),
        Column("Made of", lambda r: in_words(r, bench.work.shelf.flux), "words", 120, 2),
        Column(
            "Purity, %",
            lambda r: shown(purity(r), 1, "–"),
            "quiet",
            66,
            exact=lambda r: exact(purity(r)),
            take=take_purity,
            step=0.5,
            help="Share of the flux that is what its name says.",
        ),
        Column(
            f"{bench.work.shelf.currency or 'Price'} / kg",
            lambda r: shown(r.price, 2, "–"),
            "quiet",
            70,
            exact=lambda r: exact(r.price),
            take=number("price", optional(reader("price"))),
            step=0.1,
            help="Price per kilogram; leave it empty when it does not matter.",
        ),
        Column(
            "Stock, g",
            lambda r: shown(r.stock, 0, "–"),
            "figure",
            78,
            tone=lambda r: "quiet" if r.stock is None else "",
            exact=lambda r: exact(r.stock),
            take=number("stock", optional(reader("stock"))),
            step=10,
            help="What is left on the shelf; leave it empty when it is not counted. 2 lb or 1.5 kg will do.",
        ),
        Column(
            "Loose",
            lambda r: shown(r.loose_density, 2),
            "quiet",
            56,
            exact=lambda r: exact(r.loose_density),
            take=number("loose_density", above_zero(reader("density"), "The density")),
            step=0.05,
            help="Bulk density as poured, g/cm³: weigh a level cup of 100 cm³ and divide by 100.",
        ),
        Column(
            "Tapped",
            lambda r: shown(r.tapped_density, 2),
            "quiet",
            62,
            exact=lambda r: exact(r.tapped_density),
            take=number("tapped_density", above_zero(reader("density"), "The density")),
            step=0.05,
            help="Bulk density after tapping until it settles no more, g/cm³.",
        ),
        Column(
            "Source",
            lambda r: source_in_words(r.source),
            "words",
            110,
            3,
            note=lambda r: r.source,
            exact=lambda r: r.source,
            take=lambda _at, r, text: put(r, source=text),
            help="Where the figures are from; the whole text stands beside the table.",
        ),
    )


def source_in_words(source: str) -> str:
    """A source short enough for a cell: itself, or of a long one how its figures are known."""
    if len(source) <= SHORT:
        return source
    return ", ".join(word for word in KNOWN if word in source) or source[:SHORT].rsplit(" ", 1)[0] + " …"
