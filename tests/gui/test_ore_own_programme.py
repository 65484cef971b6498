"""Own figures of the roast's programme on the Ore place: shown with flag, taken, undone, cleared, refused."""

import pytest
from PySide6.QtCore import Qt

from fluxlab.design import edits
from fluxlab.design.start import demo_work
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.place import OrePlace
from fluxlab.ore.roast_types import RoastPlan
from tests.gui.parts import enter, page_in_window, settle


@pytest.fixture
def bench():
    return Bench(demo_work())


@pytest.fixture
def part(bench, qtbot):
    with page_in_window(qtbot, bench, OrePlace) as place:
        bench.do(edits.set_roast, RoastPlan("planned"))
        settle(bench)
        part = place.material.own_programme
        part.set_folded(False)
        part.groups["clotting and fire"].set_folded(False)
        settle(bench)
        yield part


def own(bench: Bench):
    return bench.work.recipe.roast.figures


def test_the_figures_stand_under_headings_with_value_and_flag(part):
    assert {"steps", "how fast it burns", "clotting and fire", "weights and air", "first melts"} <= part.groups.keys()
    assert part.fields["bed"].placeholderText() == "15"
    said = [row._said.words for rows in part._rows.values() for row in rows.parts.values()]
    assert "Without it 15 mm: judgement: a bed of 10 to 15 mm at most." in said


def test_an_own_figure_is_taken_shown_told_and_undone(part, bench, qtbot):
    field = part.fields["bed"]
    enter(qtbot, field, "8.5")
    settle(bench)
    assert own(bench) == (("bed", 8.5),)
    assert "8.5 mm at most burns evenly (the operator's own)" in " ".join(
        w.sentence for w in bench.report.ore.roast.warnings
    )
    assert part._title.note == "1 of your own"
    bench.undo()
    settle(bench)
    assert own(bench) == ()
    assert field.text() == ""


def test_clearing_a_figure_gives_the_shipped_one_back(part, bench, qtbot):
    field = part.fields["runaway"]
    enter(qtbot, field, "30")
    settle(bench)
    assert own(bench) == (("runaway", 30.0),)
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settle(bench)
    assert own(bench) == ()


def test_a_senseless_figure_is_refused_in_words(part, bench, qtbot):
    field = part.fields["runaway"]
    enter(qtbot, field, "400")
    settle(bench)
    assert own(bench) == ()
    assert "Give 1 to 100 %" in field.accessibleDescription()


def test_nothing_roasted_shows_no_figures(part, bench):
    bench.do(edits.set_ore, bench.work.recipe.ore.__class__("o", "Calcine", stage="calcine"))
    settle(bench)
    assert not part.isVisible()
