"""The Weigh-out place on a real bench with a library: confirm, print, save, and what each leaves behind."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QWidget

from fluxlab.design.batch import batch_rows
from fluxlab.design.batch_cautions import batch_cautions
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import printable
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.vessel.view import VesselView
from fluxlab.gui.weigh import output
from fluxlab.gui.weigh.batch_ticket import BatchTicket
from fluxlab.gui.weigh.place import WeighPlace
from fluxlab.gui.widgets.menus import Menu
from fluxlab.materials.flux_types import ByParts, Component, Part
from fluxlab.store.library import Library
from fluxlab.store.problem import StoreProblem
from fluxlab.store.report_document import read_ticket
from fluxlab.vessel.vessel_types import Crucible
from tests.works import equipped


@pytest.fixture
def library() -> Iterator[Library]:
    with Library.in_memory() as opened:
        yield opened


@pytest.fixture
def bench(qapp, library) -> Bench:
    return Bench(equipped(demo_work()), library=library)


@pytest.fixture
def place(bench) -> WeighPlace:
    made = WeighPlace(bench)
    made.resize(1226, 724)
    made.show()
    return made


def damp(bench: Bench) -> None:
    bench.do("set_dry", False)
    bench.do("set_mould_preheat", None)
    bench.flush()


def words_of(path: Path) -> str:
    document = pdfium.PdfDocument(path)
    words = "\n".join(page.get_textpage().get_text_bounded() for page in document)
    document.close()
    return words


@pytest.fixture
def first_start(qapp, library) -> WeighPlace:
    """The place as it opens on the demo, with nothing stated of the workshop."""
    made = WeighPlace(Bench(demo_work(), library=library))
    made.resize(1226, 724)
    made.show()
    return made


def test_at_the_first_start_one_tick_for_the_gear_prints_the_demo(first_start):
    assert first_start.waiting.words == "Not yet: Gear."
    assert not first_start.preview.isHidden()
    assert set(first_start.cautions.ticks) == {"R50"}
    first_start.cautions.ticks["R50"].click()
    assert first_start.print_button.isEnabled()
    assert first_start.pdf_button.isEnabled()
    assert {c.rule for c in first_start.ticket.cautions if c.confirmed} == {"R50"}


def test_once_the_gear_is_stated_on_the_card_the_demo_prints_without_a_question(place):
    assert place.print_button.isEnabled()
    assert place.pdf_button.isEnabled()
    assert place.cautions.ticks == {}
    assert place.preview.pages == 1


def test_a_block_keeps_print_and_pdf_shut_and_shows_the_preview(place, bench, tmp_path):
    damp(bench)
    place.ask_path = lambda *_: tmp_path / "t.pdf"
    assert not place.print_button.isEnabled()
    assert not place.pdf_button.isEnabled()
    # the stamp, and what the workshop card leaves open, take a second sheet
    assert place.preview.pages == 2
    assert place.waiting.words == "Not yet: Damp, Mould."
    place.save_pdf()
    place.print_()
    assert list(tmp_path.iterdir()) == []


def test_each_block_is_confirmed_by_its_own_tick(place, bench):
    damp(bench)
    place.cautions.ticks["R01"].click()
    assert not place.print_button.isEnabled()
    place.cautions.ticks["R02"].click()
    assert place.print_button.isEnabled()
    place.cautions.ticks["R01"].click()
    assert not place.print_button.isEnabled()


def test_a_tick_is_set_with_the_space_bar(place, bench):
    damp(bench)
    tick = place.cautions.ticks["R01"]
    tick.setFocus()
    QTest.keyClick(tick, Qt.Key.Key_Space)
    assert place.desk.confirmed == {"R01"}
    assert place.cautions.ticks["R01"] is tick


def test_an_edit_ends_the_confirmations(place, bench):
    damp(bench)
    place.cautions.ticks["R01"].click()
    bench.do("set_charge", 180.0)
    bench.flush()
    assert place.desk.confirmed == frozenset()
    assert not place.cautions.ticks["R01"].isChecked()


def test_undoing_that_edit_does_not_bring_them_back(place, bench):
    damp(bench)
    place.cautions.ticks["R01"].click()
    bench.do("set_charge", 180.0)
    bench.flush()
    bench.undo()
    bench.flush()
    assert place.desk.confirmed == frozenset()


def test_a_block_that_nobody_may_lift_hides_the_ticket(place, bench):
    bench.do("set_scrap", True)
    bench.flush()
    assert place.preview.isHidden()
    assert place.preview.pages == 0
    assert place.closed_words.words.startswith("The ticket stays shut. Scrap or unknown pieces")
    assert place.cautions.ticks == {}
    assert not place.print_button.isEnabled()


def test_saving_a_pdf_keeps_the_recipe_first_and_records_the_copy(place, bench, library, tmp_path):
    damp(bench)
    place.ask_path = lambda *_: tmp_path / "t.pdf"
    for rule in ("R01", "R02"):
        place.cautions.ticks[rule].click()
    assert place.print_button.text() == "Print copy 1"
    assert place.keeps.words == "The recipe is kept as revision 1 when it goes out."
    place.pdf_button.click()
    assert bench.revision == 1
    assert not bench.document.dirty
    assert "copy 1 of revision 1" in words_of(tmp_path / "t.pdf")
    (printed,) = library.tickets()
    assert (printed.revision, printed.copy, printed.confirmed) == (1, 1, ("R01", "R02"))
    kept = read_ticket(printed.document).value
    assert kept is not None
    assert (kept.number, kept.total) == ("1-1", 400.0)
    assert printable(kept) == ()


def test_the_next_copy_has_the_next_number_and_asks_again(place, bench, tmp_path):
    damp(bench)
    place.ask_path = lambda *_: tmp_path / "t.pdf"
    for rule in ("R01", "R02"):
        place.cautions.ticks[rule].click()
    place.pdf_button.click()
    assert place.issued.words.startswith("Copy 2 of revision 1")
    assert place.print_button.text() == "Print copy 2"
    assert place.keeps.isHidden()
    assert not place.print_button.isEnabled()
    assert "asks for its confirmations again" in place.done.words


def test_a_copy_that_another_window_printed_meanwhile_is_not_numbered_twice(place, bench, library, tmp_path):
    place.ask_path = lambda *_: tmp_path / "t.pdf"
    bench.save()
    assert place.desk.copy == 1
    recipe = bench.work.recipe
    put = library.record_ticket

    def meanwhile(document: str, **about: object) -> int:
        put("{}", ore=recipe.ore.uid, recipe=recipe.uid, revision=1)
        return put(document, **about)

    library.record_ticket = meanwhile
    place.save_pdf()
    assert "copy 2 of revision 1" in words_of(tmp_path / "t.pdf")


def test_a_library_that_refuses_the_record_stops_the_ticket_with_a_sentence(place, bench, library, tmp_path):
    said: list[str] = []
    bench.refused.connect(said.append)
    place.ask_path = lambda *_: tmp_path / "t.pdf"

    def full(*_: object, **__: object) -> int:
        raise StoreProblem("Cannot record the ticket: the disk is full.")

    library.record_ticket = full
    place.save_pdf()
    assert said == ["Cannot record the ticket: the disk is full."]
    assert list(tmp_path.iterdir()) == []


def test_leaving_the_dialog_prints_nothing_and_counts_nothing(place, library):
    place.ask_path = lambda *_: None
    place.ask_printer = lambda *_: None
    place.pdf_button.click()
    place.print_button.click()
    assert library.tickets() == ()


def test_a_disk_that_refuses_gives_a_sentence_and_no_ticket(place, bench, tmp_path):
    said: list[str] = []
    bench.refused.connect(said.append)
    place.ask_path = lambda *_: tmp_path / "no such folder" / "t.pdf"
    place.pdf_button.click()
    (sentence,) = said
    assert sentence.startswith("Cannot save the ticket as ")
    assert "Check the name and the folder" in sentence
    assert place.done.words == ""


def test_a_printer_takes_the_ticket_with_its_page_size(place, tmp_path):
    from PySide6.QtPrintSupport import QPrinter

    def pdf_printer(*_: object) -> QPrinter:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(tmp_path / "printed.pdf"))
        return printer

    place.ask_printer = pdf_printer
    place.choose_paper("roll")
    place.print_button.click()
    assert "Charge as weighed" in words_of(tmp_path / "printed.pdf")
    document = pdfium.PdfDocument(tmp_path / "printed.pdf")
    assert document[0].get_width() == pytest.approx(80.0 * 72.0 / 25.4, abs=1.0)
    document.close()
    assert "Ticket 1-1 printed" in place.done.words


def test_without_a_printer_the_operator_is_told_to_save_a_pdf(place, bench, monkeypatch):
    from PySide6.QtPrintSupport import QPrinterInfo

    monkeypatch.setattr(QPrinterInfo, "availablePrinterNames", staticmethod(list))
    said: list[str] = []
    bench.refused.connect(said.append)
    place.print_button.click()
    assert said == [output.NO_PRINTER]


def test_the_paper_is_taken_up_again_at_the_next_start(bench):
    first = WeighPlace(bench)
    first.choose_paper("roll")
    second = WeighPlace(bench)
    second.put_back(first.left_at())
    assert second.paper.key == "roll"
    second.put_back({"weigh.paper": "papyrus"})
    assert second.paper.key == "roll"


def test_a_library_for_reading_only_still_prints(qapp, tmp_path):
    bench = Bench(equipped(demo_work()))
    place = WeighPlace(bench)
    place.ask_path = lambda *_: tmp_path / "t.pdf"
    place.save_pdf()
    assert "copy 1, not kept in a library" in words_of(tmp_path / "t.pdf")


def test_a_pdf_always_gets_its_ending(monkeypatch, qapp, tmp_path):
    from PySide6.QtWidgets import QFileDialog

    asked: list[str] = []

    def answer(_beside: object, _title: str, name: str, _kinds: str) -> tuple[str, str]:
        asked.append(name)
        return str(tmp_path / "ticket 1.5"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", answer)
    assert output.ask_path(QWidget(), "Lot 3/4: first") == tmp_path / "ticket 1.5.pdf"
    assert asked == ["Lot 3-4- first.pdf"]


def test_the_preview_says_the_ticket_in_words(place):
    assert "Charge as weighed" in place.preview.accessibleDescription()
    assert "200.0" in place.preview.accessibleDescription()


def test_everything_that_takes_the_focus_has_a_name(place, bench):
    damp(bench)
    for widget in place.findChildren(QWidget):
        if widget.focusPolicy() != Qt.FocusPolicy.NoFocus and widget.isVisible():
            name = widget.accessibleName() or (widget.text() if isinstance(widget, QAbstractButton) else "")
            assert name, widget


def cut_buttons(place: WeighPlace) -> list[str]:
    """Words of the buttons that have less room than they ask for."""
    buttons = [button for button in place.findChildren(QAbstractButton) if button.isVisible()]
    assert len(buttons) > 6
    return [
        button.text()
        for button in buttons
        if button.width() < button.sizeHint().width() or button.height() < button.sizeHint().height()
    ]


@pytest.mark.parametrize("size", [100, 130])
@pytest.mark.parametrize(("width", "height"), [(1226, 724), (543, 340)])
def test_no_word_is_cut_at_any_text_size(qtbot, bench, size, width, height):
    theme.set_text_size(size)
    try:
        place = WeighPlace(bench)
        damp(bench)
        place.resize(width, height)
        place.show()
        place.refresh()
        qtbot.waitUntil(lambda: cut_buttons(place) == [], timeout=3000)
    finally:
        theme.set_text_size(100)


def test_a_weight_that_differs_from_the_flux_table_is_told_where_it_is_weighed(place, bench):
    assert place.rounding.isHidden()
    bench.do("set_route", "lead collection")
    bench.flush()
    shown = {line.name: f"{line.grams:.1f}" for line in bench.report.lines}
    moved = [row for row in place.ticket.rows[1:] if f"{row.grams:.1f}" != shown[row.name]]
    assert moved
    assert not place.rounding.isHidden()
    for row in moved:
        assert f"{row.name} {row.grams:.1f} g, reckoned {shown[row.name]}" in place.rounding.words


def test_the_ticket_shown_is_the_ticket_printed(place, bench, tmp_path):
    place.ask_path = lambda *_: tmp_path / "t.pdf"
    shown = place.ticket
    place.save_pdf()
    words = words_of(tmp_path / "t.pdf")
    for row in shown.rows:
        assert shown.weight_text(row.grams) in words
    assert shown.footer in words


def test_the_vessel_view_follows_the_report_and_chooses_vessels(bench):
    small = Crucible("small", "Small pot", 22.0, 32.0, 75.0)
    bench.do("put_crucible", small)
    view = VesselView(bench)
    view.resize(266, 600)
    view.refresh()
    before = view.accessibleDescription()
    menu = Menu()
    view._pots(menu)
    chosen = {action.text(): action for action in menu.actions()}
    assert chosen[bench.report.work.shelf.crucible(bench.work.recipe.crucible).name].isChecked()
    chosen["Small pot"].trigger()
    bench.flush()
    view.refresh()
    assert bench.work.recipe.crucible == "small"
    assert view.pot_choice.text() == "Small pot"
    assert view.accessibleDescription() != before


@pytest.mark.parametrize("width", [210, 266, 400])
def test_the_vessel_view_keeps_one_scale_and_its_captions_at_every_width(bench, width):
    view = VesselView(bench)
    view.resize(width, 560)
    view.show()
    view.refresh()
    QTest.qWait(1)
    assert view.pot_canvas.scale == view.mould_canvas.scale
    assert not view.grab().isNull()
    for choice in (view.pot_choice, view.mould_choice):
        assert choice.geometry().right() <= view.width()
        assert choice.geometry().bottom() <= view.height()


def jar_of(**parts: float) -> Component:
    return Component(
        "jar", "House mix", ByParts(tuple(Part(flux.replace("_", "-"), share) for flux, share in parts.items()))
    )


def test_a_jar_prints_its_batch_ticket(qapp, tmp_path):
    shelf = demo_work().shelf
    jar = jar_of(borax_glass=60.0, soda_ash_dense=30.0, silica_sand=10.0)
    window = QWidget()
    window.resize(1200, 700)
    rows = batch_rows(jar, 500.0, shelf.fluxes, shelf.balance_step)
    plate = BatchTicket(jar, rows, shelf, window)
    plate.ask_path = lambda *_: tmp_path / "jar.pdf"
    plate.pdf_button.click()
    words = words_of(tmp_path / "jar.pdf")
    assert "House mix" in words
    assert "Jar as weighed" in words
    assert "500.0" in words
    assert plate.copy == 2


def test_a_jar_of_nitre_and_charcoal_is_never_weighed_out(qapp):
    shelf = demo_work().shelf
    jar = jar_of(borax_glass=60.0, nitre=10.0, charcoal=5.0)
    rows = batch_rows(jar, 500.0, shelf.fluxes, shelf.balance_step)
    assert ("R11", "never") in [(caution.rule, caution.lift) for caution in batch_cautions(rows, shelf)]
    window = QWidget()
    window.resize(1200, 700)
    plate = BatchTicket(jar, rows, shelf, window)
    assert not plate.pdf_button.isEnabled()
    assert plate.preview.pages == 0


def test_a_jar_without_anything_to_fear_meets_no_rule():
    shelf = demo_work().shelf
    jar = jar_of(borax_glass=60.0, soda_ash_dense=40.0)
    assert batch_cautions(batch_rows(jar, 500.0, shelf.fluxes, shelf.balance_step), shelf) == ()


def test_litharge_and_fluorspar_in_a_jar_are_cautioned():
    shelf = demo_work().shelf
    jar = jar_of(litharge=50.0, fluorspar=20.0, borax_glass=30.0)
    found = {caution.rule: caution.level for caution in batch_cautions(batch_rows(jar, 500.0, shelf.fluxes), shelf)}
    assert found == {"R18": "warn", "R20": "warn"}


def test_a_jar_in_a_recipe_that_holds_nitre_is_weighed_last_and_apart():
    from fluxlab.design.ticket_rows import turn

    shelf = demo_work().shelf
    jar = jar_of(borax_glass=60.0, nitre=10.0)
    assert turn("jar", replace(shelf, fluxes=(*shelf.fluxes, jar))) == 3
