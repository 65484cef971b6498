"""What did we use last time? The last ticket of the ore type, and its weights for today's charge."""

from datetime import datetime

import pytest
from PySide6.QtWidgets import QWidget

from fluxlab.design.evaluate import rounded_weights
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import build
from fluxlab.gui.bridge import Bench
from fluxlab.gui.last_time import LastTime, last_ticket, weights_today
from fluxlab.store.library import Library
from fluxlab.store.report_document import ticket_text


@pytest.fixture
def bench(tmp_path):
    with Library.open(tmp_path / "library.sqlite") as library:
        bench = Bench(demo_work(), library=library)
        yield bench
        bench._draft_timer.stop()


@pytest.fixture
def page(qtbot):
    page = QWidget()
    page.resize(900, 600)
    qtbot.addWidget(page)
    page.show()
    return page


def print_one(bench):
    bench.save()
    report, recipe = bench.report, bench.work.recipe
    ticket = build(
        report, revision=bench.revision, copy=1, when=datetime.now(), rounded=rounded_weights(bench.work, report)
    )
    bench.library.record_ticket(ticket_text(ticket), ore=recipe.ore.uid, recipe=recipe.uid, revision=bench.revision)
    return ticket


def test_an_ore_type_without_a_ticket_says_so(bench, page):
    assert last_ticket(bench) is None
    panel = LastTime(bench, page)
    words = [child.accessibleName() for child in panel.findChildren(QWidget)]
    assert "No ticket was printed for this ore type yet." in words


def test_the_last_ticket_is_shown_with_its_weights(bench, page):
    ticket = print_one(bench)
    panel = LastTime(bench, page)
    words = [child.accessibleName() for child in panel.findChildren(QWidget)]
    for row in ticket.rows:
        assert row.name in words
        assert f"{row.grams:.1f} g" in words


def test_its_weights_are_taken_for_todays_charge_in_one_undo_step(bench, page):
    ticket = print_one(bench)
    bench.do("set_charge", bench.work.recipe.charge * 1.5)
    before = bench.work
    panel = LastTime(bench, page)
    panel.open_at(page)
    panel.take.click()
    fixed = {line.flux: line.grams for line in bench.work.recipe.lines if line.grams is not None}
    assert fixed == {row.what: pytest.approx(1.5 * row.grams) for row in ticket.rows[1:]}
    bench.undo()
    assert bench.work == before


def test_the_revision_behind_it_can_be_opened(bench, page):
    print_one(bench)
    kept = bench.work.recipe
    bench.do("set_charge", 333.0)
    bench.save()
    panel = LastTime(bench, page)
    panel.open_at(page)
    panel.open.click()
    assert bench.work.recipe.charge == kept.charge
    assert bench.revision == 1


def test_the_charge_itself_is_no_flux(bench):
    ticket = print_one(bench)
    assert len(weights_today(bench, ticket)) == len(ticket.rows) - 1
