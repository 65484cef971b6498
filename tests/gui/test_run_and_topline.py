"""The run and the top line: the job's live facts, and places by mouse and key."""

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from fluxlab.design import edits
from fluxlab.design.evaluate import evaluate
from fluxlab.design.report_types import Amount
from fluxlab.design.start import demo_work
from fluxlab.gui import theme
from fluxlab.gui.run.facts import STOPS, run_facts
from fluxlab.gui.run.run import LABEL_LEFT, WIDTH, Run
from fluxlab.gui.topline import TopLine
from fluxlab.gui.widgets import text
from fluxlab.ore.ore_types import OreType, Share
from tests.gui.reports import sample_report, sample_work
from tests.works import work_of


@pytest.fixture
def report():
    return sample_report(sample_work())


@pytest.fixture
def run(qtbot, report):
    run = Run()
    qtbot.addWidget(run)
    run.resize(140, 724)
    run.set_current("Flux")
    run.set_facts(run_facts(report))
    run.show()
    return run


def test_each_stop_shows_its_live_fact(report):
    facts = run_facts(report).stops
    assert [(f.first, f.second) for f in facts] == [
        ("500.0 g", "calcine"),
        ("+ 467.5 g", "0.94 : 1" if report.flux_to_ore < 0.945 else "0.93 : 1"),
        ("967.5 g", "reckoned"),
        ("≤ 1.02 g", "no melt yet"),
        ("8 fluxes", "fluorspar low"),
    ]
    assert facts[1].answers == ("unknown", "no", "unknown", "close", "unknown")


def test_a_stock_for_two_melts_is_not_low(report):
    lines = tuple(replace(line, stock=None if line.stock is None else 2 * line.grams) for line in report.lines)
    assert run_facts(replace(report, lines=lines)).stops[4].second == ""


def test_no_assay_means_no_limit_for_the_metal(report):
    assert run_facts(replace(report, precious_metal_limit=None)).stops[3].first == "not known"


def test_a_roast_weight_that_cannot_be_right_leaves_no_button_on_the_strip():
    weighed = edits.weigh_roast(demo_work(), 100.0, 140.0)[1]
    assert run_facts(evaluate(demo_work())).stops[3].first.startswith("button")
    assert run_facts(evaluate(weighed)).stops[3].first == "not known"


def band_width(run, y):
    image = run.grab().toImage()
    ground = theme.tokens().tray
    sheet = theme.tokens().sheet
    row = [image.pixelColor(x, y) for x in range(10, 48)]
    return sum(colour not in (ground, sheet) for colour in row)


def test_the_band_is_as_wide_as_the_grams_it_stands_for(run):
    charge, whole = band_width(run, 60), band_width(run, 300)
    assert whole == pytest.approx(25, abs=2)
    assert charge == pytest.approx(25 * 500 / 967.5, abs=2)


def test_a_click_on_a_stop_asks_for_its_place(run, qtbot):
    with qtbot.waitSignal(run.chosen) as chosen:
        QTest.mouseClick(run.stops["Shelf"], Qt.MouseButton.LeftButton)
    assert chosen.args == ["Shelf"]


def test_up_and_down_walk_from_stop_to_stop(run):
    run.stops["Flux"].setFocus()
    QTest.keyClick(run, Qt.Key.Key_Down)
    assert run.stops["Weigh-out"].hasFocus()
    QTest.keyClick(run, Qt.Key.Key_Up)
    QTest.keyClick(run, Qt.Key.Key_Up)
    assert run.stops["Ore"].hasFocus()


def test_stops_never_overlap_even_in_a_low_window(run):
    for height in (724, 500, 340):
        run.resize(140, height)
        boxes = [run.stops[name].geometry() for name in STOPS]
        assert all(a.bottom() < b.top() + 1 for a, b in pairwise(boxes))


def test_undo_and_redo_name_their_step(qtbot):
    top = TopLine()
    qtbot.addWidget(top)
    top.set_steps("Charcoal 12.0 → 13.5 g", None)
    assert top.undo_button.text() == "Charcoal 12.0 → 13.5 g"
    assert top.undo_button.accessibleName() == "Undo: Charcoal 12.0 → 13.5 g"
    assert top.undo_button.isEnabled()
    assert not top.redo_button.isEnabled()


def test_the_save_button_is_there_only_when_there_is_something_to_save(qtbot):
    top = TopLine()
    qtbot.addWidget(top)
    top.show()
    assert not top.save_button.isVisible()
    top.set_save("Save as revision 8")
    assert top.save_button.isVisible()
    top.set_save("")
    assert not top.save_button.isVisible()


@pytest.mark.parametrize(("silver", "told"), [(0.05, "button 50 mg"), (6.81, "button 6.81 g"), (70.9, "button 70.9 g")])
def test_a_button_of_any_size_fits_on_the_strip(qtbot, silver, told):
    report = evaluate(work_of(OreType("s", "Silver", minerals=(Share("Native silver", 100.0),), as_is=True)))
    assert report.pot is not None
    button = replace(report.pot.button, mass=Amount(silver, 0.9 * silver, 1.1 * silver))
    fact = run_facts(replace(report, pot=replace(report.pot, button=button))).stops[3]
    assert fact.first == told
    assert LABEL_LEFT + text.width(told, 13) <= WIDTH
