"""From the ticket to the record: printed, weighed, melted, written down, looked at, corrected, still there tomorrow."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from fluxlab.store.library import Library
from tests.journeys.steps import settle


def enter(*texts):
    """Type into one field after the other, Enter after each."""
    for text in texts:
        field = QApplication.focusWidget()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)


def saved_ticket(program, path):
    window = program.window
    window.go("Weigh-out")
    place = window.places["Weigh-out"]
    place.ask_path = lambda *_: path
    assert place.waiting.words == "Not yet: Gear."
    place.cautions.ticks["R50"].click()
    settle(program)
    assert place.pdf_button.isEnabled(), place.waiting.words
    place.save_pdf()
    settle(program)
    assert path.stat().st_size > 1000


def test_a_melt_from_its_ticket_to_its_correction(start, tmp_path):
    program = start()
    window, bench = program.window, program.bench
    window.activateWindow()

    # without a ticket the place says where one comes from
    window.go("Melts")
    settle(program)
    place = window.places["Melts"]
    assert window.run.facts.stops[3].second == "no melt yet"
    place.none.show_ticket.click()
    assert window.current == "Weigh-out"

    # the ticket goes out and is on record
    saved_ticket(program, tmp_path / "ticket.pdf")
    (printed,) = bench.library.tickets()

    # the melt: what was read off the balance, by keyboard alone
    out = window.places["Weigh-out"].out_button
    assert out.isVisible()
    out.click()
    settle(program)
    assert window.current == "Melts"
    assert place.entry.value().ticket == printed.number
    held = place.entry.value().held("silver")
    enter(f"{0.95 * held:.2f}", "96")
    place.entry.by.buttons["assayer"].click()
    place.entry.fields["slag"].setFocus()
    enter("350", "41", "10", "1150")
    place.entry.seen.ticks["slag-black"].click()
    place.entry.weighings[0].setFocus()
    asked = place.entry.value().weighed[0].asked
    place.entry.sections["weights"].set_folded(False)
    place.entry.weighings[0].setFocus()
    enter(f"{asked:g}")
    place.entry.record_button.click()
    settle(program)

    # it stands in the table, in the chart and in the run
    (line,) = place.table.model.rows
    assert line.recovery.value.value == pytest.approx(0.95 * 96.0, abs=0.2)
    assert [p.number for p in place.trend.points] == [1]
    assert window.run.facts.stops[3].second == "1 on record"
    assert place.detail.isVisible()

    # a slip of the pen is corrected by a new entry, the old one stays
    place.detail.correct_button.click()
    field = place.entry.fields["button"]
    field.selectAll()
    enter(f"{0.93 * held:.2f}")
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settle(program)
    (line,) = place.table.model.rows
    assert (line.kept.number, line.kept.corrected) == (1, 1)
    assert line.recovery.value.value == pytest.approx(0.93 * 96.0, abs=0.2)
    assert window.run.facts.stops[3].second == "1 on record"

    # what it teaches is one click from the recipe
    if place.detail.change.mends:
        before = bench.work
        place.detail.change.mends[0].click()
        settle(program)
        assert bench.work != before
        window.undo()
        assert bench.work == before
    window.close()

    with Library.open(tmp_path / "home" / "library.sqlite") as library:
        (kept,) = library.melts()
        assert kept.corrected == 1
        assert kept.melt.seen == ("slag-black",)
        assert [entry.melt.uid for entry in library.melt_entries(kept.melt.uid)] == [kept.melt.replaces, kept.melt.uid]

    again = start()
    again.window.go("Melts")
    settle(again)
    assert [line.kept.number for line in again.window.places["Melts"].table.model.rows] == [1]
