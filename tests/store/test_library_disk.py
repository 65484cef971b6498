"""What the disk does to a library: full, write-protected, foreign, newer, damaged, backed up, migrated."""

import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

import fluxlab
from fluxlab.design.recipe import Recipe, Work
from fluxlab.ore.ore_types import OreType
from fluxlab.store.backup import restore
from fluxlab.store.library import Library
from fluxlab.store.migrations import STEPS
from fluxlab.store.old_tickets import as_now
from fluxlab.store.problem import StoreProblem
from fluxlab.store.report_document import read_ticket


def work(charge: float = 100.0, notes: str = "") -> Work:
    return Work(Recipe("r1", "First", OreType("o1", "Black ore"), charge=charge, notes=notes))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "library.sqlite"


@pytest.fixture
def kept(path: Path) -> Path:
    with Library.open(path) as library:
        library.save_revision(work())
    return path


def own_parents(folder: Path) -> list[Path]:
    """The folders above that the tests made, however many there are."""
    return [parent for parent in folder.parents if parent.name.startswith(("pytest-", "popen-"))]


@pytest.fixture
def unprivileged(tmp_path: Path) -> Iterator[None]:
    """Without the powers of root, to whom nothing is forbidden; the folder and what is in it is another's."""
    if os.name == "nt":
        pytest.skip("needs POSIX permissions")
    root = os.geteuid() == 0
    for folder in (tmp_path, *own_parents(tmp_path)) if root else (tmp_path,):
        folder.chmod(0o755 if root else 0o555)
    if root:
        os.seteuid(65534)
    yield
    if root:
        os.seteuid(0)
    tmp_path.chmod(0o755)


def test_a_full_disk_is_said_and_nothing_is_lost(path: Path) -> None:
    with Library.open(path) as library:
        library.save_revision(work())
        pages = library._db.one("PRAGMA page_count")[0]
        library._db.one(f"PRAGMA max_page_count = {pages}")
        for save in (library.save_revision, library.save_draft):
            with pytest.raises(StoreProblem, match="the disk is full"):
                save(work(notes="x" * 100_000))
        assert library.load("r1").work == work()
        library._db.one("PRAGMA max_page_count = 100000")
        assert library.save_revision(work(notes="x" * 100_000)).number == 2


ROOT = Path(fluxlab.__file__).parent.parent
ON_A_SMALL_DISK = """
import sys
from pathlib import Path
from fluxlab.design.recipe import Recipe, Work
from fluxlab.ore.ore_types import OreType
from fluxlab.store.library import Library
from fluxlab.store.problem import StoreProblem
from fluxlab.store.report_document import read_ticket

disk = Path(sys.argv[1])
work = Work(Recipe("r1", "First", OreType("o1", "Black ore")))
with Library.open(disk / "library.sqlite") as library:
    library.save_revision(work)
    try:
        with open(disk / "filler", "wb") as filler:
            while True:
                filler.write(bytes(4096))
                filler.flush()
    except OSError:
        pass
    big = Work(Recipe("r1", "First", OreType("o1", "Black ore"), notes="x" * 100_000))
    for save in (lambda: library.save_revision(big), lambda: library.save_draft(big), lambda: library.back_up(disk)):
        try:
            save()
        except StoreProblem as problem:
            print(problem.sentence)
    assert library.load("r1").work == work
    assert sorted(p.suffix for p in disk.iterdir()) == ["", ".open", ".sqlite"], list(disk.iterdir())
with Library.open(disk / "library.sqlite") as library:
    print("notices", library.notices)
    assert library.load("r1").work == work
    (disk / "filler").unlink()
with Library.open(disk / "library.sqlite") as library:
    print("revision", library.save_revision(big).number)
"""


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="a small disk takes root")
def test_a_really_full_disk_is_said_and_nothing_is_lost(tmp_path: Path) -> None:
    # The mount is the child's own and goes with it.
    mount = 'mount -t tmpfs -o size=1m tmpfs "$1" || exit 77; exec "$2" -c "$3" "$1"'
    command = ["unshare", "-m", "sh", "-c", mount, "sh", str(tmp_path), sys.executable, ON_A_SMALL_DISK]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60, check=False)
    except FileNotFoundError:
        pytest.skip("no unshare here")
    if done.returncode == 77 or "unshare" in done.stderr:
        pytest.skip("no mounting here")
    assert done.returncode == 0, done.stderr
    said = done.stdout.splitlines()
    assert [line.partition(":")[0] for line in said[:3]] == [
        "Cannot save the recipe",
        "Cannot keep the draft",
        "Cannot back up the library",
    ]
    assert all("the disk is full. Make room on it and try again" in line for line in said[:3])
    assert said[-1] == "revision 2"


def test_a_write_protected_library_is_opened_for_reading(kept: Path, unprivileged: None) -> None:
    with Library.open(kept) as library:
        assert library.read_only
        assert "open for reading only" in library.notices[0]
        assert library.load("r1").work == work()
        for save in (library.save_revision, library.save_draft):
            with pytest.raises(StoreProblem, match="Export the recipe to a file elsewhere"):
                save(work(2.0))
        assert library.load_draft("r1") is None


def test_a_write_protected_folder_around_a_free_file_is_opened_for_reading(kept: Path) -> None:
    if os.name == "nt" or os.geteuid() != 0:
        pytest.skip("needs root to give up being root")
    kept.chmod(0o666)
    for folder in (kept.parent, *list(kept.parent.parents)[:2]):
        folder.chmod(0o755)
    os.seteuid(65534)
    try:
        with Library.open(kept) as library:
            assert library.read_only
            assert library.load("r1").work == work()
    finally:
        os.seteuid(0)


def test_no_library_in_a_write_protected_folder_is_said(tmp_path: Path, unprivileged: None) -> None:
    with pytest.raises(StoreProblem, match="its folder is there and may be written to"):
        Library.open(tmp_path / "library.sqlite")
    with pytest.raises(StoreProblem, match="may not be touched"):
        Library.open(tmp_path / "sub" / "library.sqlite")


def test_a_library_in_memory_does_the_same_and_says_so() -> None:
    with Library.in_memory("Nothing will be kept.") as library:
        assert library.notices == ("Nothing will be kept.",)
        assert library.save_revision(work()).number == 1
        library.save_draft(work(2.0))
        assert [d.owner for d in library.drafts()] == ["this"]
        assert library.load("r1").work == work()
        assert library.path is None


@pytest.mark.parametrize("content", [b"", b"\x00"])
def test_an_empty_or_foreign_file(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    if not content:
        with Library.open(path) as library:
            assert library.save_revision(work()).number == 1
        return
    with pytest.raises(StoreProblem, match="is no fluxlab library"):
        Library.open(path)
    assert path.read_bytes() == content


def test_a_library_of_another_program_is_left_untouched(path: Path) -> None:
    with sqlite3.connect(path) as raw:
        raw.execute("CREATE TABLE t (a)")
    raw.close()
    before = path.read_bytes()
    with pytest.raises(StoreProblem, match="is no fluxlab library"):
        Library.open(path)
    assert path.read_bytes() == before
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_a_newer_library_is_refused_untouched(kept: Path) -> None:
    with sqlite3.connect(kept) as raw:
        raw.execute(f"PRAGMA user_version = {len(NEXT)}")
    raw.close()
    before, when = kept.read_bytes(), kept.stat().st_mtime_ns
    with pytest.raises(StoreProblem, match=rf"newer fluxlab \(library version {len(NEXT)}; .* Update the program"):
        Library.open(kept)
    assert (kept.read_bytes(), kept.stat().st_mtime_ns) == (before, when)
    assert [p.name for p in kept.parent.iterdir()] == [kept.name]


def test_a_folder_in_place_of_the_library_is_said(tmp_path: Path) -> None:
    (tmp_path / "library.sqlite").mkdir()
    with pytest.raises(StoreProblem, match=r"it is a folder|may not be touched"):
        Library.open(tmp_path / "library.sqlite")


def test_damage_is_found_after_a_window_died(kept: Path) -> None:
    with Library.open(kept) as library:
        library.save_revision(work(2.0, notes="x" * 50_000))
    data = bytearray(kept.read_bytes())
    # A page in the middle turned to noise.
    data[3 * 4096 : 4 * 4096] = b"\xa5" * 4096
    kept.write_bytes(data)
    kept.with_name(f"{kept.name}.0123456789abcdef.open").touch()
    with pytest.raises(StoreProblem, match=r"damaged.*back-up in its place"):
        Library.open(kept)
    assert kept.read_bytes() == bytes(data)


def test_a_clean_close_leaves_no_mark_and_needs_no_check(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert [p.name for p in kept.parent.iterdir()] == [kept.name]
    monkeypatch.setattr("fluxlab.store.database.Database.check", lambda _: pytest.fail("checked without need"))
    with Library.open(kept), Library.open(kept):
        assert len(list(kept.parent.glob("*.open"))) == 2
    assert [p.name for p in kept.parent.iterdir()] == [kept.name]


# Back-ups


def test_a_back_up_is_a_whole_library(kept: Path, tmp_path: Path) -> None:
    stick = tmp_path / "stick" / "deep"
    with Library.open(kept) as library:
        library.save_draft(work(5.0))
        copy = library.back_up(stick)
    assert [p.name for p in stick.iterdir()] == [copy.name]
    with Library.open(copy) as library:
        assert library.load("r1").work == work()
        assert [d.owner for d in library.drafts()] == ["gone"]


def test_a_back_up_that_fails_leaves_nothing(kept: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with Library.open(kept) as library:
        with pytest.raises(StoreProblem, match="Cannot back up the library"):
            library.back_up(tmp_path / "file")
        assert library.load("r1").work == work()


def test_a_back_up_put_back_replaces_the_library_and_keeps_the_old_one(kept: Path, tmp_path: Path) -> None:
    with Library.open(kept) as library:
        copy = library.back_up(tmp_path / "stick")
        library.save_revision(work(2.0))
    kept.with_name(f"{kept.name}-journal").write_bytes(b"left by a crash")
    aside = restore(copy, kept)
    with Library.open(kept) as library:
        assert [r.number for r in library.revisions("r1")] == [1]
    assert aside is not None
    assert aside.with_name(f"{aside.name}-journal").exists()
    aside.with_name(f"{aside.name}-journal").unlink()
    with Library.open(aside) as library:
        assert [r.number for r in library.revisions("r1")] == [2, 1]


def test_a_back_up_is_put_back_where_nothing_was(kept: Path, tmp_path: Path) -> None:
    with Library.open(kept) as library:
        copy = library.back_up(tmp_path / "stick")
    assert restore(copy, tmp_path / "elsewhere" / "library.sqlite") is None
    with Library.open(tmp_path / "elsewhere" / "library.sqlite") as library:
        assert library.load("r1").work == work()


def test_no_other_file_is_taken_for_a_back_up(kept: Path, tmp_path: Path) -> None:
    before = kept.read_bytes()
    with sqlite3.connect(tmp_path / "x.sqlite") as raw:
        raw.execute("CREATE TABLE t (a)")
    raw.close()
    with pytest.raises(StoreProblem, match="no sound back-up"):
        restore(tmp_path / "x.sqlite", kept)
    (tmp_path / "y.sqlite").write_bytes(b"not a database" * 1000)
    with pytest.raises(StoreProblem, match="no library"):
        restore(tmp_path / "y.sqlite", kept)
    assert kept.read_bytes() == before


# Migrations: a made-up next version stands for those to come.


def dump(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as raw:
        return [str(raw.execute("PRAGMA user_version").fetchone()), *raw.iterdump()]


def _add_colour(connection: sqlite3.Connection) -> None:
    connection.execute("ALTER TABLE ore ADD COLUMN colour TEXT NOT NULL DEFAULT 'black'")


def _break_off(connection: sqlite3.Connection) -> None:
    connection.execute("DROP TABLE ticket")
    raise sqlite3.OperationalError("made to fail")


def _orphan(connection: sqlite3.Connection) -> None:
    connection.execute("DELETE FROM ore")


NEXT = (*STEPS, _add_colour)


def test_an_older_library_is_backed_up_and_brought_up_to_date(kept: Path) -> None:
    before = dump(kept)
    with Library.open(kept, steps=NEXT) as library:
        assert library._db.one("SELECT colour FROM ore") == ("black",)
        assert library._db.version == len(NEXT)
        assert library._db.one("PRAGMA foreign_keys") == (1,)
        assert library.load("r1").work == work()
        assert "brought up to date" in library.notices[0]
    (backup,) = kept.parent.glob(f"library-before-version-{len(NEXT)}-*.sqlite")
    assert dump(backup) == before
    with Library.open(backup) as library:
        assert library.load("r1").work == work()


@pytest.mark.parametrize(("step", "words"), [(_break_off, "made to fail"), (_orphan, "do not fit together")])
def test_a_migration_that_fails_leaves_the_library_as_it_was(kept: Path, step: object, words: str) -> None:
    with pytest.raises(StoreProblem, match=words):
        Library.open(kept, steps=(*STEPS, step))  # type: ignore[arg-type]
    with Library.open(kept) as library:
        assert library._db.version == len(STEPS)
        assert library.load("r1").work == work()
        assert library.tickets() == ()


def test_no_migration_without_its_back_up(kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> Path:
        raise StoreProblem("no room for the back-up")

    monkeypatch.setattr("fluxlab.store.schema.copy_to", refuse)
    with pytest.raises(StoreProblem, match="no room for the back-up"):
        Library.open(kept, steps=NEXT)
    with Library.open(kept) as library:
        assert library._db.version == len(STEPS)


def test_a_write_protected_older_library_is_not_migrated(kept: Path, unprivileged: None) -> None:
    with pytest.raises(StoreProblem, match="cannot be brought up to date where it is"):
        Library.open(kept, steps=NEXT)


def test_two_windows_migrate_once(kept: Path) -> None:
    with Library.open(kept, steps=NEXT), Library.open(kept, steps=NEXT) as second:
        assert second.notices == ()
    assert len(list(kept.parent.glob("library-before-*"))) == 1


RELEASED = sorted((Path(__file__).parent.parent / "data" / "libraries").glob("*.sqlite"))


@pytest.mark.parametrize("released", RELEASED, ids=lambda p: p.stem)
def test_every_released_library_is_opened_and_read_in_full(released: Path, tmp_path: Path) -> None:
    path = tmp_path / "library.sqlite"
    shutil.copy(released, path)
    with Library.open(path) as library:
        assert [(o.group, o.name) for o in library.ores()] == [("", "Rusty ore"), ("Upper level", "Grey ore")]
        recipes = [r for o in library.ores() for r in library.recipes(o.uid)]
        assert [(r.name, r.latest) for r in recipes] == [("Plain", 1), ("Ångström’s first", 2)]
        for recipe in recipes:
            for revision in library.revisions(recipe.uid):
                assert library.load(recipe.uid, revision.number).work.recipe.lines
        assert library.load_shelf() is not None
        assert [(d.name, d.owner) for d in library.drafts()] == [("Plain", "gone")]
        draft = library.load_draft(library.drafts()[0].recipe)
        assert draft is not None
        assert draft.work.recipe.charge == 250.0
        (ticket,) = library.tickets()
        assert (ticket.copy, ticket.revision, ticket.confirmed) == (1, 2, ("R01", "R02"))
        paper = read_ticket(ticket.document)
        assert paper.issues == ()
        assert paper.value is not None
        assert paper.value.rows[0].grams == 100.0
        assert [r.name for o in library.ores() for r in library.recipes(o.uid, archived=True)] == ["Set aside"]


def test_there_is_a_released_library_of_every_version() -> None:
    assert [p.stem for p in RELEASED] == [f"version-{n}" for n in range(1, len(STEPS) + 1)]


def test_the_swelling_heap_of_an_old_ticket_is_as_far_from_the_rim_as_its_levels_say() -> None:
    old = {"fill": {"loose_level_mm": 40.0, "loose_from_rim_mm": 60.0, "foam_level_mm": 70.0, "foam_fraction": 0.7}}
    fill = as_now(old)["fill"]
    assert (fill["swollen_level_mm"], fill["swollen_from_rim_mm"], fill["swollen_fraction"]) == (70.0, 30.0, 0.7)
    assert not any(key.startswith("foam") for key in fill)
    assert as_now({"fill": None}) == {"fill": None}
