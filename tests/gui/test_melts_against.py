"""Melts held against what was predicted for them, in the Melts place, and which of them are in the means."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter

from fluxlab.gui import theme
from fluxlab.gui.melts.change import FINE, UNTOLD
from fluxlab.gui.melts.columns import GOT, button_rail
from fluxlab.gui.melts.lines import NOTHING_AGAINST
from fluxlab.gui.widgets.rail import draw_rail
from fluxlab.gui.widgets.words import Words
from fluxlab.learn.yields import row_of
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, record_melts
from tests.gui.melt_record import shown_alone as shown


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


def test_a_melt_without_a_prediction_is_held_against_nothing(bench, qtbot):
    record_melts(bench, (4.9,), predicted=False)
    place = shown(bench, qtbot)
    (line,) = place.lines
    assert (line.answer, line.why) == ("unknown", NOTHING_AGAINST)
    told = [each.words for each in place.detail.change.findChildren(Words)]
    assert UNTOLD in told
    assert FINE not in told


def test_a_melt_that_came_out_as_predicted_is_told_so(bench, qtbot):
    record_melts(bench, (4.9,))
    place = shown(bench, qtbot)
    assert (place.lines[0].answer, place.lines[0].why) == ("yes", "as expected")
    told = [each.words for each in place.detail.change.findChildren(Words)]
    assert FINE in told
    assert UNTOLD not in told


def test_a_melt_without_a_fineness_is_in_neither_mean_and_named(bench, qtbot):
    melts = record_melts(bench, (4.9, 5.0, 4.0))
    bench.library.record_melt(replace(melts[2], uid="x", replaces="m3", fineness=None))
    place = shown(bench, qtbot)
    assert "2 of 3 melts" in place.summary._title.note
    assert f"Yield {row_of(melts[:2]).yields.value:.2f} %" in place.summary.figures.accessibleName()
    assert "for the mean of 2 melts." in place.summary.errors.words
    assert place.summary.errors.words.endswith("In neither mean, for want of silver back: melt 3.")


@pytest.mark.parametrize("mode", ["light", "dark"])
def test_the_ring_of_a_button_outside_what_was_predicted_is_carmine(bench, qtbot, mode):
    """Predicted are 4.2 to 5.6 g: of 4.9 and 3.1 g the second is outside, in its ring and its number."""
    theme.start_with(mode, 100)
    try:
        record_melts(bench, (4.9, 3.1))
        place = shown(bench, qtbot)
        rings = {line.kept.number: _ring(button_rail(line, 7.0)) for line in place.lines}
        assert rings == {1: theme.tokens().ink.name(), 2: theme.tokens().no.name()}
        assert theme.tokens().no != theme.tokens().ink
        got = next(column for column in place.table.model.columns if column.title == GOT)
        assert [got.tone(line) for line in place.lines] == ["", "no"]
        spoken = place.table.model.index(0, 3).data(Qt.ItemDataRole.AccessibleTextRole)
        assert spoken == "Button, g, expected 4.2 – 5.6, the button is outside that"
    finally:
        theme.start_with("light", 100)


def _ring(spec):
    """The colour of the ring at its left, where neither blade nor hairline crosses it."""
    image = QImage(220, 24, QImage.Format.Format_ARGB32)
    image.fill(theme.tokens().sheet)
    painter = QPainter(image)
    draw_rail(painter, QRectF(4, 2, 200, 20), spec, theme.tokens())
    painter.end()
    middle = round(4 + spec.seen / spec.hi * 199)
    seen = {image.pixelColor(middle + across, 12 + up).name() for across in (-6, -5, -4) for up in range(-3, 4)}
    no, ink = theme.tokens().no.name(), theme.tokens().ink.name()
    return no if no in seen else ink if ink in seen else ""
