"""The bench: one change, one report, one signal; and what it keeps."""

from dataclasses import replace

import pytest

from fluxlab.design.recipe import Work
from fluxlab.gui.bridge import DRAFT_MS, Bench
from fluxlab.store.library import Library
from tests.gui.reports import sample_report, sample_work


class Counted:
    def __init__(self):
        self.calls = 0

    def __call__(self, work: Work):
        self.calls += 1
        return sample_report(work)


@pytest.fixture
def evaluate():
    return Counted()


@pytest.fixture
def bench(evaluate):
    return Bench(sample_work(), evaluate=evaluate)


@pytest.fixture
def library(tmp_path):
    with Library.open(tmp_path / "library.sqlite") as library:
        yield library


@pytest.fixture
def kept_bench(library):
    bench = Bench(sample_work(), evaluate=sample_report, library=library)
    yield bench
    bench._draft_timer.stop()


def test_several_edits_of_one_turn_are_told_once_and_evaluated_once(bench, evaluate, qtbot):
    told = []
    bench.changed.connect(lambda: told.append(bench.report.flux_mass))
    for weight in (1.0, 2.0, 3.0):
        bench.do("fix_weight", "silica", weight)
    qtbot.waitUntil(lambda: bool(told), timeout=1000)
    qtbot.wait(20)
    assert len(told) == 1
    assert evaluate.calls == 1


def test_a_report_asked_for_at_once_is_the_one_of_the_present_value(bench):
    bench.do("fix_weight", "silica", 1.0)
    assert bench.report.work is bench.work
    assert bench.report.lines[2].grams == 1.0


def test_an_edit_that_changes_nothing_makes_no_step_and_no_signal(bench, qtbot):
    bench.do("fix_weight", "silica", 5.0)
    bench.flush()
    with qtbot.assertNotEmitted(bench.changed, wait=30):
        assert bench.do("fix_weight", "silica", 5.0) is None
    assert bench.document.undo_label == "Silica sand free → 5 g"


def test_undo_and_redo_are_named_and_restore_values(bench):
    before = bench.work
    bench.do("fix_weight", "silica", 5.0)
    after = bench.work
    assert bench.undo() == "Silica sand free → 5 g"
    assert bench.work == before
    assert bench.redo() == "Silica sand free → 5 g"
    assert bench.work == after
    assert bench.redo() is None


def test_a_draft_is_in_the_library_within_a_second_of_an_edit(kept_bench, library, qtbot):
    assert DRAFT_MS < 1000
    kept_bench.do("fix_weight", "silica", 77.0)
    qtbot.waitUntil(lambda: bool(library.drafts()), timeout=1000)
    draft = library.load_draft("recipe-1")
    assert draft.work.recipe.lines[2].grams == 77.0


def test_edits_without_a_pause_are_still_drafted(kept_bench, library, qtbot):
    for k in range(30):
        kept_bench.do("fix_weight", "silica", 10.0 + k)
        qtbot.wait(30)
        if library.drafts():
            break
    assert library.drafts(), "typing on must not put the draft off for ever"


def test_saving_makes_a_revision_and_drops_the_draft(kept_bench, library):
    kept_bench.do("fix_weight", "silica", 77.0)
    kept_bench.keep_draft()
    assert kept_bench.save_words == "Save as revision 1"
    assert kept_bench.save()
    assert kept_bench.revision == 1
    assert kept_bench.status == "revision 1 · all kept"
    assert not kept_bench.save_words
    assert not library.drafts()
    kept_bench.do("fix_weight", "silica", 78.0)
    assert kept_bench.status == "revision 1 · edited"
    assert kept_bench.save_words == "Save as revision 2"


def test_undoing_back_to_the_saved_value_leaves_nothing_to_save(kept_bench, library):
    kept_bench.save()
    kept_bench.do("fix_weight", "silica", 78.0)
    kept_bench.keep_draft()
    assert library.drafts()
    kept_bench.undo()
    assert not kept_bench.save_words
    kept_bench.keep_draft()
    assert not library.drafts()


def test_the_shelf_is_kept_by_itself(kept_bench, library):
    kept_bench.save()
    kept_bench.do("set_balance_step", 0.01)
    kept_bench.keep_draft()
    assert library.load_shelf().balance_step == 0.01
    assert not kept_bench.document.dirty


def test_a_second_window_saving_first_is_said_and_nothing_is_lost(tmp_path, qtbot):
    path = tmp_path / "library.sqlite"
    with Library.open(path) as mine, Library.open(path) as theirs:
        first = Bench(sample_work(), evaluate=sample_report, library=mine)
        first.save()
        second = Bench(sample_work(), evaluate=sample_report, library=theirs)
        assert second.open_recipe("recipe-1")
        second.do("fix_weight", "silica", 1.0)
        assert second.save()
        first.do("fix_weight", "silica", 2.0)
        with qtbot.waitSignal(first.refused) as said:
            assert not first.save()
        assert "revision 2" in said.args[0]
        assert first.work.recipe.lines[2].grams == 2.0
        assert first.save(over=True)
        assert first.revision == 3
        assert [r.number for r in mine.revisions("recipe-1")] == [3, 2, 1]
        for bench in (first, second):
            bench._draft_timer.stop()


def test_a_read_only_library_saves_nothing_and_says_so(kept_bench, library, qtbot, monkeypatch):
    monkeypatch.setattr(type(library), "read_only", property(lambda self: True))
    kept_bench.do("fix_weight", "silica", 3.0)
    assert kept_bench.status == "library open for reading only"
    assert not kept_bench.save_words


def test_a_full_disk_is_a_sentence_and_the_draft_is_tried_again(kept_bench, library, qtbot, monkeypatch):
    from fluxlab.store.problem import StoreProblem

    def full(self, work, base=None):
        raise StoreProblem("Cannot keep the draft: the disk is full. Make room on it and try again.")

    monkeypatch.setattr(type(library), "save_draft", full)
    kept_bench.do("fix_weight", "silica", 3.0)
    with qtbot.waitSignal(kept_bench.refused) as said:
        assert not kept_bench.keep_draft()
    assert "disk is full" in said.args[0]
    assert kept_bench.status == "not kept on disk"
    assert kept_bench._draft_timer.isActive()
    monkeypatch.undo()
    assert kept_bench.keep_draft()
    assert kept_bench.status == "not saved yet, draft kept"
    assert library.drafts()


def test_opening_another_recipe_keeps_the_draft_of_the_one_before(kept_bench, library):
    kept_bench.save()
    kept_bench.do("fix_weight", "silica", 66.0)
    kept_bench.duplicate()
    assert kept_bench.work.recipe.name == "Lead collection, 500 g (copy)"
    assert kept_bench.work.recipe.uid != "recipe-1"
    assert kept_bench.revision is None
    assert kept_bench.open_recipe("recipe-1")
    assert kept_bench.work.recipe.lines[2].grams == 66.0
    assert kept_bench.document.dirty
    assert kept_bench.status == "revision 1 · edited"


def test_an_earlier_revision_can_be_opened_as_it_was_kept(kept_bench):
    kept_bench.do("fix_weight", "silica", 1.0)
    kept_bench.save()
    kept_bench.do("fix_weight", "silica", 2.0)
    kept_bench.save()
    assert kept_bench.open_recipe("recipe-1", 1)
    assert kept_bench.work.recipe.lines[2].grams == 1.0


def test_a_recipe_travels_through_a_file_to_another_bench(kept_bench, tmp_path):
    kept_bench.do("fix_weight", "silica", 61.5)
    path = tmp_path / "recipe.fluxlab"
    assert kept_bench.export_to(path)
    with Library.open(tmp_path / "other.sqlite") as other:
        empty = sample_work()
        there = Bench(replace(empty, shelf=replace(empty.shelf, fluxes=())), evaluate=sample_report, library=other)
        assert there.import_from(path)
        assert there.work.recipe.lines[2].grams == 61.5
        assert there.work.shelf.flux("silica").name == "Silica sand"
        assert not there.document.undo_label
        there._draft_timer.stop()


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "file"),
        (b"{", "file"),
        (b"\xff\xfe\x00", "file"),
        (b'{"fluxlab": 99, "kind": "recipe", "recipe": {}, "shelf": {}}', "newer"),
        (b'{"something": "else"}', "fluxlab"),
    ],
)
def test_a_file_that_cannot_be_read_is_said_and_changes_nothing(kept_bench, tmp_path, qtbot, content, word):
    path = tmp_path / "odd.fluxlab"
    path.write_bytes(content)
    before = kept_bench.work
    with qtbot.waitSignal(kept_bench.refused) as said:
        assert not kept_bench.import_from(path)
    assert word in said.args[0]
    assert kept_bench.work is before


def test_exporting_into_a_folder_that_is_not_there_is_a_sentence(kept_bench, tmp_path, qtbot):
    with qtbot.waitSignal(kept_bench.refused) as said:
        assert not kept_bench.export_to(tmp_path / "nowhere" / "recipe.fluxlab")
    assert said.args[0].startswith("Cannot export the recipe to")


def test_a_back_up_goes_to_a_folder(kept_bench, tmp_path):
    kept_bench.do("fix_weight", "silica", 61.5)
    copy = kept_bench.back_up(tmp_path)
    with Library.open(copy) as library:
        assert library.drafts()


def test_the_title_names_ore_plan_and_state(bench):
    assert bench.title == ("Tamarack Bench, table concentrate", "Lead collection, 500 g", "not saved yet, draft kept")
    bench.do("set_charge", 250.0)
    assert bench.title[1] == "Lead collection, 500 g · 250 g"


def test_a_trial_is_shown_but_enters_neither_history_nor_draft(kept_bench, library):
    kept_bench.try_out("fix_weight", "silica", 1.0)
    kept_bench.try_out("fix_weight", "silica", 2.0)
    assert kept_bench.work.recipe.lines[2].grams == 2.0
    assert kept_bench.report.work is kept_bench.work
    assert kept_bench.document.undo_label is None
    assert kept_bench.keep_draft()
    assert library.load_draft(kept_bench.work.recipe.uid) is None


def test_what_was_tried_becomes_one_step_and_a_dropped_trial_none(bench):
    before = bench.work
    for weight in (1.0, 2.0, 3.0):
        bench.try_out("fix_weight", "silica", weight)
    bench.do("fix_weight", "silica", 3.0)
    assert bench.work.recipe.lines[2].grams == 3.0
    bench.undo()
    assert bench.work is before
    assert bench.document.undo_label is None
    bench.try_out("fix_weight", "silica", 4.0)
    bench.drop_trial()
    assert bench.work is before
    assert bench.report.work is before


def test_views_are_told_of_each_trial_and_of_its_end(bench, qtbot):
    told = []
    bench.changed.connect(lambda: told.append(bench.work.recipe.lines[2].grams))
    bench.try_out("fix_weight", "silica", 1.0)
    bench.flush()
    bench.drop_trial()
    bench.flush()
    assert told == [1.0, None]


def test_the_saved_revision_is_evaluated_once_for_each_save_and_only_where_it_differs(evaluate):
    work = sample_work()
    bench = Bench(work, evaluate=evaluate, saved=work)
    assert bench.saved_report is None
    assert evaluate.calls == 0
    bench.do("fix_weight", "silica", 1.0)
    assert bench.saved_report.work is work
    bench.do("fix_weight", "silica", 2.0)
    assert bench.saved_report.work is work
    assert evaluate.calls == 1
    bench.document.mark_saved()
    assert bench.saved_report is None
