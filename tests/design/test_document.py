"""The open recipe: steps by name, undo and redo without limit, and what counts as saved."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.design import edits
from fluxlab.design.document import Document
from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work

WORK = demo_work()


def charged(document: Document, grams: float) -> bool:
    return document.apply(*edits.set_charge(document.work, grams))


def test_an_edit_is_one_step_with_its_name() -> None:
    document = Document(WORK)
    assert charged(document, 150.0)
    assert document.work.recipe.charge == 150.0
    assert document.undo_label == "Charge 200 g → 150 g"
    assert document.undo() == "Charge 200 g → 150 g"
    assert document.work == WORK
    assert document.redo_label == "Charge 200 g → 150 g"
    assert document.redo() == "Charge 200 g → 150 g"
    assert document.work.recipe.charge == 150.0


def test_nothing_changed_means_no_step() -> None:
    document = Document(WORK)
    assert not charged(document, WORK.recipe.charge)
    assert document.undo_label is None
    assert document.undo() is None
    assert document.redo() is None


def test_a_new_edit_forgets_what_was_undone() -> None:
    document = Document(WORK)
    charged(document, 150.0)
    document.undo()
    charged(document, 120.0)
    assert document.redo_label is None
    assert document.redo() is None


def test_unsaved_means_different_from_what_was_saved() -> None:
    document = Document(WORK)
    assert document.dirty
    document.mark_saved()
    assert not document.dirty
    charged(document, 150.0)
    assert document.dirty
    document.undo()
    assert not document.dirty


def test_the_shelf_is_kept_by_itself_and_makes_no_recipe_unsaved() -> None:
    document = Document(WORK, saved=WORK)
    document.apply(*edits.set_balance_step(document.work, 0.5))
    assert not document.dirty
    assert document.work.shelf.balance_step == 0.5


@settings(max_examples=40, deadline=None)
@given(st.lists(st.one_of(st.floats(1.0, 900.0), st.sampled_from(["undo", "redo"])), max_size=30))
def test_undo_all_is_the_start_and_redo_all_the_end(steps: list[float | str]) -> None:
    document = Document(WORK)
    seen: list[Work] = [WORK]
    at = 0
    for step in steps:
        if step == "undo":
            at = max(0, at - 1) if document.undo() is not None else at
        elif step == "redo":
            at = at + 1 if document.redo() is not None else at
        elif charged(document, float(step)):
            seen[at + 1 :] = [document.work]
            at += 1
        assert document.work == seen[at]
    while document.undo() is not None:
        pass
    assert document.work == WORK
    while document.redo() is not None:
        pass
    assert document.work == seen[-1]
