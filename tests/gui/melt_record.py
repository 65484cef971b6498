"""A bench with a library, a printed ticket and melts on record, for tests of the Melts place."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from PySide6.QtWidgets import QApplication

from fluxlab.design.start import demo_work
from fluxlab.design.ticket import build
from fluxlab.gui.bridge import Bench
from fluxlab.gui.melts.desk import MeltDesk
from fluxlab.gui.melts.place import MeltsPlace
from fluxlab.learn.melt import Fineness, Melt
from fluxlab.materials.estimate import Estimate
from fluxlab.store.library import Library
from fluxlab.store.report_document import ticket_text
from tests.works import equipped

BUTTONS = (4.9, 5.0, 4.7, 4.9, 3.1, 5.1)
"""Buttons of six melts [g]; the fifth stands apart."""


def bench_with_ticket(library: Library) -> Bench:
    """The demo recipe, kept, with one ticket."""
    bench = Bench(equipped(demo_work()), library=library)
    assert bench.save()
    print_ticket(bench)
    return bench


def shown_alone(bench: Bench, qtbot: Any, width: int = 1226, height: int = 724) -> MeltsPlace:
    """The Melts place by itself, laid out [px]."""
    place = MeltsPlace(bench)
    qtbot.addWidget(place)
    place.setGeometry(0, 0, width, height)
    place.show()
    for _ in range(4):
        QApplication.processEvents()
    return place


def print_ticket(bench: Bench) -> int:
    """Record a ticket of the recipe on the bench; its number in the library."""
    assert bench.library is not None
    recipe = bench.work.recipe
    ticket = build(bench.report, revision=bench.revision, copy=1, when=datetime(2026, 3, 1, 14, 30))
    bench.library.record_ticket(ticket_text(ticket), ore=recipe.ore.uid, recipe=recipe.uid, revision=bench.revision)
    return bench.library.tickets()[0].number


def blank(bench: Bench) -> Melt:
    """An empty entry for the latest ticket."""
    desk = MeltDesk(bench)
    return desk.blank(*desk.tickets()[0])


def record_melts(bench: Bench, buttons=BUTTONS, predicted: bool = True, **changes) -> list[Melt]:
    """Record a melt for each button."""
    assert bench.library is not None
    base = blank(bench)
    said = replace(base.beforehand, button=None, matte=None, speiss=None, silver_recovery=None, gold_recovery=None)
    if predicted:
        said = replace(said, button=Estimate(4.9, 4.2, 5.6), silver_recovery=Estimate(95.0, 91.0, 98.0))
    base = replace(base, beforehand=said)
    melts = []
    for k, button in enumerate(buttons):
        poor = button < 4.0
        melts.append(
            replace(
                base,
                uid=f"m{k + 1}",
                poured=datetime(2026, 3, 1, 16, 20) + timedelta(days=k),
                button=button,
                fineness=Fineness(93.0, by="assayer"),
                seen=("slag-stony", "slag-prills") if poor else ("slag-black",),
                in_fire=58.0 if poor else 41.0,
                pour_temperature=1120.0 if poor else 1150.0,
                **changes,
            )
        )
        bench.library.record_melt(melts[-1])
    return melts
