"""The words beside melts on the chart are written over nothing."""

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QApplication

from fluxlab.gui import theme
from fluxlab.gui.melts.labels import placed
from fluxlab.gui.melts.place import MeltsPlace
from fluxlab.learn.melt import Fineness
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, record_melts

WHOLE = QRectF(1, 1, 398, 198)


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


@pytest.fixture(params=[100, 130])
def size(request):
    theme.set_text_size(request.param)
    yield request.param
    theme.set_text_size(100)


def shown(bench, qtbot):
    place = MeltsPlace(bench)
    qtbot.addWidget(place)
    place.resize(1226, 724)
    place.show()
    qtbot.waitUntil(lambda: place.trend.field() is not None, timeout=10000)
    for _ in range(4):
        QApplication.processEvents()
    return place


def mark_at(x, y=100.0):
    return QRectF(x - 8, y - 20, 16, 40)


def test_words_stand_beside_their_mark_towards_the_middle(qapp):
    left, right = (placed("like pale stone", mark_at(x), 100.0, WHOLE, ()) for x in (60, 340))
    assert left.box.left() > 60
    assert not left.flush_right
    assert right.box.right() < 340
    assert right.flush_right
    assert left.box.top() < 100.0 < left.box.bottom()


def test_words_give_way_to_other_marks_and_leave_the_chart_where_there_is_no_room(qapp):
    others = [mark_at(x) for x in range(20, 340, 40)]
    label = placed("more gold than the charge held", mark_at(340), 100.0, WHOLE, others)
    assert label is not None
    assert not any(label.box.intersects(mark) for mark in others)
    assert placed("more gold than the charge held", mark_at(340), 100.0, WHOLE, [WHOLE]) is None


def test_nothing_on_the_chart_is_written_over_anything(bench, qtbot, size):
    melts = record_melts(bench)
    gold = replace(melts[-1], uid="m7", fineness=Fineness(93.0, 0.5, "assayer"))
    bench.library.record_melt(gold)
    bench.library.record_melt(replace(gold, uid="m8", button=3.0, seen=("slag-stony",)))
    place = shown(bench, qtbot)
    trend, field = place.trend, place.trend.field()
    found = list(trend.labels(field))
    assert "m5" in {point.uid for point, _ in found}
    assert all(point.reason in place.summary.apart.words for point in trend.points if point.uid in ("m7", "m8"))
    marks = [trend._mark(field, k, point) for k, point in enumerate(trend.points)]
    boxes = [label.box for _, label in found]
    whole = QRectF(0, 0, field.width, field.height)
    assert all(whole.contains(box) for box in boxes)
    assert not any(box.intersects(mark) for box in boxes for mark in (*marks, *trend._words_taken(field)))
    assert not any(one.intersects(other) for one, other in combinations(boxes, 2))
