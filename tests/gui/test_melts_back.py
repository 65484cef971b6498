"""What came back, as the Melts place tells it: ranges that can be, means of every ore, weights as read, corrections."""

from dataclasses import replace

import pytest

from fluxlab.gui import theme
from fluxlab.gui.melts import words
from fluxlab.gui.melts.columns import GOT, RECOVERY
from fluxlab.gui.melts.corrections import corrections
from fluxlab.gui.melts.desk import MeltDesk
from fluxlab.gui.melts.summary import ore_words
from fluxlab.gui.tables.painter import PAD
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.words import Words
from fluxlab.learn.measured import Measured
from fluxlab.learn.melt import Fineness
from fluxlab.learn.yields import row_of
from fluxlab.store.library import Library
from tests.gui.melt_record import bench_with_ticket, record_melts
from tests.gui.melt_record import shown_alone as shown


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


def melt_that_gives_back(bench, percent, **changes):
    (melt,) = record_melts(bench, (4.9,))
    button = percent / 100.0 * melt.held("silver") / 0.93
    made = replace(melt, uid="x", replaces="m1", button=button, **changes)
    bench.library.record_melt(made)
    return made


def cell(place, title, row=0):
    column = next(c for c in place.table.model.columns if c.title == title)
    line = place.table.model.rows[row]
    return column.show(line), column.note(line)


# What can be


@pytest.mark.parametrize(
    ("value", "said"), [(94.0, "likely 85.2 – 100.0"), (80.0, "likely 72.5 – 88.3"), (103.0, "more than was held")]
)
def test_a_range_of_what_came_back_ends_where_nothing_more_can(value, said):
    assert words.likely_back(Measured(value, 0.05, 0.033)) == said


def test_the_ends_are_cut_and_nothing_else():
    assert words.back_ends(Measured(80.0, 0.01)) == pytest.approx((78.7, 81.3), abs=0.1)
    assert words.back_ends(Measured(99.0, 0.02))[1] == 100.0


def test_no_place_tells_a_range_above_all_that_was_held(bench, qtbot):
    melt_that_gives_back(bench, 97.0)
    place = shown(bench, qtbot)
    assert place.detail.sheet.lines[0].said.endswith("– 100.0")
    assert cell(place, RECOVERY)[1].endswith("– 100")
    assert "– 100.0 % for one melt" in place.summary.errors.words
    assert place.trend.points[0].high == 100.0
    assert place.trend.as_rows()[1][3] == "100"
    assert max(value for value, _ in place.trend.axes()[1].ticks) <= 100.0


def test_more_silver_than_was_held_is_named_with_where_to_look(bench, qtbot):
    melt_that_gives_back(bench, 102.0)
    place = shown(bench, qtbot)
    (line,) = place.table.model.rows
    assert line.answer == "close"
    assert place.detail.why.words == "Silver back: more than the ore was said to hold: check assay or weights."
    assert place.detail.why.tone == "close"
    assert place.detail.sheet.lines[0].said == "more than was held"
    assert cell(place, RECOVERY) == ("102.0 %", "over all held")
    assert place.trend.points[0].reason == "more than was held"
    yields = words.likely(line.yields)
    assert place.summary.errors.words == f"Yield {yields} % for one melt. Silver back: on the mean {words.OVER}."


def test_far_more_silver_than_was_held_is_an_error_and_not_said_twice(bench, qtbot):
    melt_that_gives_back(bench, 130.0)
    place = shown(bench, qtbot)
    assert place.table.model.rows[0].answer == "no"
    assert "no button holds more than the charge" in place.detail.issues.words
    assert place.detail.why.words == ""


# In the table


def test_the_table_tells_yield_under_the_button_and_the_range_under_the_silver(bench, qtbot):
    record_melts(bench, (4.9,))
    place = shown(bench, qtbot)
    (line,) = place.table.model.rows
    assert cell(place, GOT) == ("4.9", f"yield {line.yields.value:.1f} %")
    low, high = words.back_ends(line.recovery.value)
    assert cell(place, RECOVERY)[1] == f"{low:.0f} – {high:.0f}"


def test_without_a_fineness_the_cell_says_what_is_missing(bench, qtbot):
    melt_that_gives_back(bench, 95.0, fineness=None)
    place = shown(bench, qtbot)
    assert cell(place, RECOVERY) == ("–", place.table.model.rows[0].recovery.why)


@pytest.mark.parametrize("size", [100, 130])
def test_the_words_below_a_figure_fit_their_column(bench, qtbot, size):
    melt_that_gives_back(bench, 102.0)
    theme.start_with("light", size)
    try:
        place = shown(bench, qtbot, 1366 - theme.scaled(140), 768 - theme.scaled(44))
        view = place.table.view
        for k, column in enumerate(place.table.model.columns):
            if column.title in (GOT, RECOVERY):
                told = column.note(place.table.model.rows[0])
                assert type_.width(told, 12) <= view.columnWidth(k) - PAD
                assert not view.grab().isNull()
    finally:
        theme.start_with("light", 100)


@pytest.mark.parametrize("size", [100, 130])
def test_the_empty_means_do_not_run_into_their_names(bench, qtbot, size):
    theme.start_with("light", size)
    try:
        place = shown(bench, qtbot, 1366 - theme.scaled(140), 768 - theme.scaled(44))
        figures = place.summary.figures
        assert "Yield not known" in figures.accessibleName()
        wide = type_.width("Silver back", 13) + type_.width("not known", 14, True) + 12
        assert wide <= figures.width()
    finally:
        theme.start_with("light", 100)


# Every ore


def test_with_all_ores_the_means_of_each_stand_on_a_line(bench, qtbot):
    melts = record_melts(bench, (4.9, 5.0))
    bench.library.record_melt(replace(melts[0], uid="other", ore="o9", button=4.0))
    place = shown(bench, qtbot)
    assert not place.summary.by_ore.isVisible()
    place.table.scopes.buttons["all"].click()
    lines = place.summary.by_ore.words.split("\n")
    assert len(lines) == 2
    own, other = row_of(melts), row_of([replace(melts[0], button=4.0)])
    assert any(_means(line) == _told("2 melts", own) for line in lines)
    assert any(_means(line) == _told("1 melt", other) for line in lines)


def _means(line):
    return line.rsplit(": ", 1)[1]


def _told(count, row):
    made, back = row.yields, row.recovery
    return (
        f"{count}, yield {made.value:.2f} %, likely {made.low:.2f} – {made.high:.2f}, "
        f"silver back {back.value:.1f} %, likely {back.low:.1f} – {min(back.high, 100.0):.1f}"
    )


def test_the_line_of_an_ore_says_of_how_many_melts_its_means_are(bench):
    melts = record_melts(bench)
    assert ore_words("Ours", melts) == f"Ours: {_told('5 of 6 melts', row_of(melts))}"


# On the sheet


def on_sheet(place):
    return {line.name: line for line in place.detail.sheet.lines}


def test_the_sheet_shows_all_that_was_entered(bench, qtbot):
    (melt,) = record_melts(bench, (4.9,))
    read = tuple(replace(w, read=w.asked + 1.0) if k == 1 else w for k, w in enumerate(melt.weighed))
    bench.library.record_melt(
        replace(
            melt, uid="x", replaces="m1", weighed=read, roasted=95.0, roast_temperature=740.0, mould_temperature=180.0,
            fineness=Fineness(93.0, 1.25, by="assayer"),
        )
    )  # fmt: skip
    sheet = on_sheet(shown(bench, qtbot))
    assert (sheet["Roasted for"].figure, sheet["Roast finished at"].figure) == ("95", "740")
    assert sheet["Mould before the pour"].figure == "180"
    assert sheet["Gold in the button"].figure == "1.25"
    assert sheet["Yield"].said.startswith("likely 2.4")
    weighing = read[1]
    assert sheet[weighing.name].figure == words.grams(weighing.read)
    assert sheet[weighing.name].said == f"asked {words.grams(weighing.asked)}"
    assert melt.weighed[2].name not in sheet


# Corrections


def test_a_correction_says_what_stood_there_before(bench, qtbot):
    (melt,) = record_melts(bench, (4.9,))
    bench.library.record_melt(replace(melt, uid="x", replaces="m1", button=5.1, matte=2.0, notes="again"))
    bench.library.record_melt(replace(melt, uid="y", replaces="x", button=5.1, matte=None, notes="again"))
    place = shown(bench, qtbot)
    assert "Corrected: button 5.1 g, was 4.9 g, matte 2 g, was left empty, notes." in place.detail.amount.words
    assert "Corrected: matte left empty, was 2 g." in place.detail.amount.words


def test_every_kind_of_change_is_told(bench):
    (melt,) = record_melts(bench, (4.9,))
    read = (*melt.weighed[:1], replace(melt.weighed[1], read=80.5), *melt.weighed[2:])
    later = replace(
        melt, weighed=read, seen=(), fineness=None, poured=melt.poured.replace(hour=17),
        beforehand=replace(melt.beforehand, silver=1.0),
    )  # fmt: skip
    (told,) = corrections((melt, later))
    assert "poured 2026-03-01 17:20, was 2026-03-01 16:20" in told
    assert "silver in the button left empty, was 93 %" in told
    assert f"{melt.weighed[1].name.lower()} 80.5 g, was left empty" in told
    assert "grade of the ore taken anew" in told
    assert "what was seen" in told
    assert corrections((melt, melt)) == ("Entered anew, nothing changed.",)
    assert corrections((melt,)) == ()


def test_nothing_is_corrected_without_a_library(qapp, qtbot):
    from fluxlab.design.start import demo_work
    from fluxlab.gui.bridge import Bench

    with Library.in_memory() as library:
        (melt,) = record_melts(bench_with_ticket(library), (4.9,))
    assert MeltDesk(Bench(demo_work())).entries(melt) == ()


# What to change next time


def told_of(place):
    return [w.accessibleName() for w in place.detail.change.findChildren(Words)]


def test_causes_are_ranked_by_the_fire_as_it_was_and_not_as_planned(bench, qtbot):
    seen = ("slag-prills",)
    as_planned, cold = record_melts(bench, (4.9, 4.8))
    bench.library.record_melt(replace(as_planned, uid="x", replaces="m1", seen=seen, pour_temperature=1150.0))
    bench.library.record_melt(replace(cold, uid="y", replaces="m2", seen=seen, pour_temperature=900.0, hold=1.0))
    place = shown(bench, qtbot)
    place.table.choose("x")
    assert place.detail.change.causes[0] != "cold-pour"
    place.table.choose("y")
    assert set(place.detail.change.causes[:2]) == {"cold-pour", "short-hold"}
    assert any(words.startswith("Poured at 900 °C") for words in told_of(place))
    assert any(words.startswith("Held 1 min") for words in told_of(place))


def test_no_hotter_pour_is_offered_where_the_fire_was_colder_than_the_recipe_asks(bench, qtbot):
    (melt,) = record_melts(bench, (4.9,))
    cold = replace(melt, uid="x", replaces="m1", seen=("slag-prills",), pour_temperature=900.0)
    bench.library.record_melt(cold)
    place = shown(bench, qtbot)
    place.table.choose("x")
    qtbot.waitUntil(lambda: not place.detail.change.judging, timeout=20000)
    assert "Bring it up before the pour." in told_of(place)
    assert not any(button.text().startswith("Pour at") for button in place.detail.change.mends)


def test_a_fire_as_planned_needs_no_other_report(bench):
    desk = MeltDesk(bench)
    (melt,) = record_melts(bench, (4.9,))
    planned = replace(melt, pour_temperature=melt.beforehand.pour_temperature, hold=melt.beforehand.hold)
    assert desk.as_poured(planned, bench.report) is bench.report
    unread = replace(melt, pour_temperature=None, hold=None)
    assert desk.as_poured(unread, bench.report) is bench.report


def test_a_colder_pour_keeps_the_weights_that_were_in_the_pot(bench):
    (melt,) = record_melts(bench, (4.9,))
    cold = MeltDesk(bench).as_poured(replace(melt, pour_temperature=1000.0), bench.report)
    assert cold.work.recipe.pour_temperature == 1000.0
    assert [line.grams for line in cold.lines] == pytest.approx([line.grams for line in bench.report.lines])
