"""The library: tree, revisions, shelf, tickets, and what two windows do to each other."""

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from fluxlab.design.recipe import Line, Recipe, Shelf, Work
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.store import document
from fluxlab.store.library import Library
from fluxlab.store.migrations import STEPS
from fluxlab.store.problem import ChangedElsewhere, StoreProblem
from fluxlab.vessel.vessel_types import Crucible

SODA = Component("soda", "Soda ash", ByFormula("Na2CO3"))
SHELF = Shelf((SODA,), (Crucible("pot", "Pot", 30.0, 44.0, 105.0),))
BLACK = OreType("o1", "Black ore", "North vein", minerals=(Share("Galena", 30.0),))


def work(uid: str = "r1", name: str = "First", charge: float = 100.0, ore: OreType = BLACK) -> Work:
    return Work(Recipe(uid, name, ore, charge=charge, lines=(Line("soda", 12.5),), crucible="pot"), SHELF)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "new folder" / "library.sqlite"


@pytest.fixture
def library(path: Path) -> Iterator[Library]:
    with Library.open(path) as opened:
        yield opened


@pytest.fixture
def other(library: Library, path: Path) -> Iterator[Library]:
    """A second window on the same file."""
    with Library.open(path) as opened:
        yield opened


def test_a_new_library_is_made_with_its_folder(library: Library, path: Path) -> None:
    assert path.is_file()
    assert library.ores() == ()
    assert library.load_shelf() is None
    assert library.notices == ()
    with sqlite3.connect(path) as raw:
        assert raw.execute("PRAGMA user_version").fetchone() == (len(STEPS),)
        assert raw.execute("PRAGMA application_id").fetchone() == (0x464C5558,)
        assert raw.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    raw.close()
    assert library._db.one("PRAGMA synchronous") == (3,)
    assert library._db.one("PRAGMA foreign_keys") == (1,)


def test_a_kept_recipe_is_there_after_closing(path: Path) -> None:
    with Library.open(path) as first:
        first.save_revision(work(), "as tried")
    with Library.open(path) as second:
        (ore,) = second.ores()
        assert (ore.name, ore.group, ore.recipes) == ("Black ore", "North vein", 1)
        (row,) = second.recipes("o1")
        assert (row.name, row.latest, row.note) == ("First", 1, "as tried")
        assert second.load("r1").work == work()
        assert second.load("r1").revision == 1
        assert second.ore("o1") == BLACK


def test_revisions_are_counted_and_stay(library: Library, path: Path) -> None:
    for charge in (100.0, 200.0, 300.0):
        library.save_revision(work(charge=charge))
    assert [r.number for r in library.revisions("r1")] == [3, 2, 1]
    assert library.load("r1").work.recipe.charge == 300.0
    assert library.load("r1", 2).work.recipe.charge == 200.0
    with sqlite3.connect(path) as raw:
        with pytest.raises(sqlite3.IntegrityError, match="stays as it is"):
            raw.execute("UPDATE revision SET note = 'x' WHERE number = 1")
        with pytest.raises(sqlite3.IntegrityError, match="stays"):
            raw.execute("DELETE FROM revision")
    raw.close()


def test_nothing_changed_keeps_no_second_revision(library: Library) -> None:
    assert library.save_revision(work()).number == 1
    assert library.save_revision(work(), "again").number == 1
    assert len(library.revisions("r1")) == 1


def test_the_export_is_the_document_that_is_kept(library: Library) -> None:
    library.save_revision(work())
    assert library.text("r1") == document.recipe_text(work())


def test_what_is_not_there_is_said(library: Library) -> None:
    for ask in (
        lambda: library.load("none"),
        lambda: library.ore("none"),
        lambda: library.recipe("none"),
        lambda: library.archive("none"),
        lambda: library.rename("none", "x"),
        lambda: library.duplicate("none"),
    ):
        with pytest.raises(StoreProblem, match="not in this library"):
            ask()
    library.save_revision(work())
    with pytest.raises(StoreProblem, match="revision is not in"):
        library.load("r1", 7)


def test_names_are_searched_without_case_and_accents(library: Library) -> None:
    library.save_revision(work())
    library.save_revision(work("r2", "Größe 100 %", ore=replace(BLACK, notes="from the Étoile level")))
    library.save_revision(work("r3", "Other", ore=OreType("o2", "Red_ore")))

    def names(text: str) -> list[str]:
        return [hit.recipe.name if hit.recipe else hit.ore.name for hit in library.search(text)]

    assert names("FIRST") == ["First"]
    assert names("grosse") == ["Größe 100 %"]
    assert names("north 100 %") == ["Größe 100 %"]
    assert names("etoile first") == ["First"]
    assert names("%") == ["Größe 100 %"]
    assert names("red_") == ["Red_ore", "Other"]
    assert names("d_o") == ["Red_ore", "Other"]
    assert names("r_d") == []
    assert names("  ") == []
    library.archive("r3")
    assert names("red") == ["Red_ore"]
    library.archive_ore("o2")
    assert names("red") == []


def test_a_duplicate_is_a_recipe_of_its_own(library: Library) -> None:
    library.save_revision(work())
    row = library.duplicate("r1")
    assert (row.name, row.latest, row.ore) == ("First (copy)", 1, "o1")
    assert row.uid != "r1"
    copy = library.load(row.uid).work.recipe
    assert replace(copy, uid="r1", name="First") == work().recipe
    assert library.duplicate("r1", "Lean").name == "Lean"


def test_a_rename_leaves_the_revisions_alone(library: Library) -> None:
    library.save_revision(work())
    kept = library.text("r1")
    library.rename("r1", "Lean one")
    library.rename_ore("o1", "Grey ore", "South vein")
    assert library.text("r1") == kept
    recipe = library.load("r1").work.recipe
    assert (recipe.name, recipe.ore.name, recipe.ore.group) == ("Lean one", "Grey ore", "South vein")
    assert library.load("r1").issues == ()
    assert [hit.ore.name for hit in library.search("lean")] == ["Grey ore"]
    assert library.search("first") == ()


def test_what_is_archived_comes_back(library: Library) -> None:
    library.save_revision(work())
    library.archive("r1")
    assert library.recipes("o1") == ()
    assert library.ores()[0].recipes == 0
    assert [r.uid for r in library.recipes("o1", archived=True)] == ["r1"]
    library.archive_ore("o1")
    assert library.ores() == ()
    assert [o.uid for o in library.ores(archived=True)] == ["o1"]
    library.restore("r1")
    assert [o.uid for o in library.ores()] == ["o1"]
    assert [r.uid for r in library.recipes("o1")] == ["r1"]


def test_a_changed_ore_type_is_said_when_an_older_recipe_is_opened(library: Library) -> None:
    library.save_revision(work())
    library.save_ore(replace(BLACK, moisture=4.0))
    loaded = library.load("r1")
    assert loaded.work.recipe.ore == BLACK
    assert [i.where for i in loaded.issues] == ["ore"]


def test_a_recipe_is_opened_on_todays_shelf(library: Library) -> None:
    library.save_revision(work())
    library.save_shelf(Shelf((replace(SODA, stock=250.0),), balance_step=0.01))
    loaded = library.load("r1")
    assert loaded.work.shelf.fluxes[0].stock == 250.0
    assert loaded.work.shelf.balance_step == 0.01
    assert [c.uid for c in loaded.work.shelf.crucibles] == ["pot"]
    assert [i.where for i in loaded.issues] == ["shelf.pot"]


def test_the_shelf_keeps_its_last_states_only(library: Library) -> None:
    for step in range(1, 61):
        library.save_shelf(replace(SHELF, balance_step=step / 10))
    library.save_shelf(replace(SHELF, balance_step=6.0))
    assert library.load_shelf() == replace(SHELF, balance_step=6.0)
    assert library._db.one("SELECT count(*), max(number) FROM shelf") == (50, 60)


def test_an_import_covers_nothing_of_the_library(library: Library) -> None:
    assert library.take_in(work()) == (work(), ())
    library.save_revision(work())
    foreign = work(charge=500.0, ore=replace(BLACK, moisture=9.0))
    taken, issues = library.take_in(foreign)
    assert taken.recipe.uid != "r1"
    assert taken.recipe.ore.uid != "o1"
    assert [i.where for i in issues] == ["recipe", "ore"]
    library.save_revision(taken)
    assert library.load("r1").work == work()
    assert library.load(taken.recipe.uid).work.recipe.charge == 500.0


def test_small_facts_are_kept(library: Library) -> None:
    assert library.meta("first start") == ""
    library.set_meta("first start", "done")
    assert library.meta("first start") == "done"


# Tickets


def test_copies_are_counted_per_revision(library: Library) -> None:
    def record(revision: int | None, recipe: str = "r1") -> int:
        return library.record_ticket("{}", ore="o1", recipe=recipe, revision=revision, confirmed=("R02", "R01"))

    assert library.next_copy("r1", 1) == 1
    assert [record(1), record(1), record(2), record(None), record(None), record(1, "r2")] == [1, 2, 1, 1, 2, 1]
    assert library.next_copy("r1", 1) == 3
    last = library.last_ticket("o1")
    assert last is not None
    assert (last.recipe, last.copy, last.confirmed) == ("r2", 1, ("R01", "R02"))
    assert library.ticket(last.number) == last
    assert library.last_ticket("o2") is None
    assert [t.copy for t in library.tickets("r1")] == [2, 1, 1, 2, 1]
    assert len(library.tickets()) == 6


def test_a_printed_ticket_stays(library: Library, path: Path) -> None:
    library.record_ticket('{"a": "½"}', ore="o1", recipe="r1", revision=None)
    with sqlite3.connect(path) as raw:
        for change in ("UPDATE ticket SET copy = 9", "DELETE FROM ticket"):
            with pytest.raises(sqlite3.IntegrityError, match="stays"):
                raw.execute(change)
    raw.close()
    assert library.tickets()[0].document == '{"a": "½"}'


# Two windows


def test_the_other_window_sees_that_something_changed(library: Library, other: Library) -> None:
    assert not other.changed_elsewhere()
    library.save_revision(work())
    assert other.changed_elsewhere()
    assert not other.changed_elsewhere()
    assert not library.changed_elsewhere()
    assert [r.name for r in other.recipes("o1")] == ["First"]


def test_a_revision_kept_elsewhere_meanwhile_is_not_passed_over(library: Library, other: Library) -> None:
    library.save_revision(work(), base=None)
    other.save_revision(work(charge=200.0), base=1)
    library.save_draft(work(charge=300.0), base=1)
    with pytest.raises(ChangedElsewhere, match="revision 2") as caught:
        library.save_revision(work(charge=300.0), base=1)
    assert caught.value.latest == 2
    assert [d.owner for d in library.drafts()] == ["this"]
    assert library.save_revision(work(charge=300.0)).number == 3
    assert library.drafts() == ()


def test_no_window_overwrites_the_draft_of_another(library: Library, other: Library) -> None:
    library.save_draft(work(charge=1.0), base=3)
    other.save_draft(work(charge=2.0))
    assert sorted(d.owner for d in library.drafts()) == ["elsewhere", "this"]
    mine, theirs = library.load_draft("r1"), other.load_draft("r1")
    assert mine is not None
    assert theirs is not None
    assert (mine.work.recipe.charge, mine.revision) == (1.0, 3)
    assert (theirs.work.recipe.charge, theirs.revision) == (2.0, None)
    library.drop_draft("r1")
    assert [d.owner for d in other.drafts()] == ["this"]
    assert library.load_draft("r1") is None
    token = library.drafts()[0].token
    read = library.load_draft("r1", token)
    assert read is not None
    assert read.work.recipe.charge == 2.0
    assert [d.owner for d in other.drafts()] == ["this"]
    with pytest.raises(StoreProblem, match="open in another window"):
        library.drop_draft("r1", token)


def test_a_draft_left_behind_is_taken_over(path: Path) -> None:
    with Library.open(path) as first:
        first.save_draft(replace(work(), shelf=replace(SHELF, notes="half done")), base=4)
    with Library.open(path) as second:
        (row,) = second.drafts()
        assert (row.owner, row.name, row.ore_name, row.base) == ("gone", "First", "Black ore", 4)
        draft = second.load_draft("r1")
        assert draft is not None
        assert draft.work.shelf.notes == "half done"
        assert [d.owner for d in second.drafts()] == ["this"]


def test_a_draft_left_behind_is_opened_on_a_full_disk_too(path: Path) -> None:
    with Library.open(path) as first:
        first.save_draft(work())
    with Library.open(path) as second:
        second._db.one("PRAGMA query_only = ON")
        draft = second.load_draft("r1")
        assert draft is not None
        assert draft.work == work()
        assert [d.owner for d in second.drafts()] == ["gone"]


def test_taking_over_leaves_an_own_draft_alone(path: Path) -> None:
    with Library.open(path) as first:
        first.save_draft(work(charge=1.0))
    with Library.open(path) as second:
        gone = second.drafts()[0].token
        second.save_draft(work(charge=2.0))
        left = second.load_draft("r1", gone)
        assert left is not None
        assert left.work.recipe.charge == 1.0
        assert sorted(d.owner for d in second.drafts()) == ["gone", "this"]
        second.drop_draft("r1", gone)
        own = second.load_draft("r1")
        assert own is not None
        assert own.work.recipe.charge == 2.0


def test_shelf_changes_of_both_windows_stay(library: Library, other: Library) -> None:
    library.save_shelf(SHELF)
    other.save_shelf(replace(SHELF, balance_step=1.0), since=SHELF)
    kept = library.save_shelf(replace(SHELF, currency="£"), since=SHELF)
    assert kept == replace(SHELF, balance_step=1.0, currency="£")
    assert other.load_shelf() == kept


def test_a_library_held_by_another_program_is_said(
    library: Library, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    library.save_revision(work())
    library._db.one("PRAGMA busy_timeout = 50")
    raw = sqlite3.connect(path, isolation_level=None)
    raw.execute("BEGIN EXCLUSIVE")
    with pytest.raises(StoreProblem, match="another window or program holds"):
        library.save_revision(work(charge=2.0))
    raw.execute("ROLLBACK")
    raw.close()
    assert library.save_revision(work(charge=2.0)).number == 2


# Documents of other versions


def test_a_document_from_an_earlier_program_takes_the_defaults(library: Library, path: Path) -> None:
    library.save_revision(work())
    plain = json.loads(library.text("r1"))
    del plain["recipe"]["hold_min"], plain["shelf"]["currency"]
    _add_revision(path, json.dumps(plain))
    assert library.load("r1").work == work()


def test_a_document_from_a_later_program_is_refused_in_a_sentence(library: Library, path: Path) -> None:
    library.save_revision(work())
    _add_revision(path, json.dumps(json.loads(library.text("r1")) | {"fluxlab": 2}))
    with pytest.raises(StoreProblem, match=r"Cannot open revision 2: .* newer fluxlab .* Update the program"):
        library.load("r1")
    assert library.load("r1", 1).work == work()


def test_a_number_out_of_range_in_our_own_file_is_still_opened(library: Library) -> None:
    library.save_revision(work(charge=-5.0))
    assert library.load("r1").work.recipe.charge == -5.0


def _add_revision(path: Path, text: str) -> None:
    with sqlite3.connect(path) as raw:
        raw.execute("INSERT INTO revision VALUES ('r1', 2, '2026-01-01T00:00:00+00:00', '', ?)", (text,))
    raw.close()
