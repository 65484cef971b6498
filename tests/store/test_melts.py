"""The melt record on disk: what was written stays, and what holds is the latest entry."""

import json
import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import fields, replace
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.learn.melt import Beforehand, Fineness, Melt, Weighing
from fluxlab.materials.estimate import Estimate
from fluxlab.store.keys import FIGURES
from fluxlab.store.library import Library
from fluxlab.store.melt_document import melt_text, melts_text, read_melt, read_melts
from fluxlab.store.melt_table import melts_table
from fluxlab.store.problem import AlreadyCorrected, StoreProblem
from fluxlab.store.rows import KeptMelt
from tests.learn.melts import SAID, melt

FULL = melt(
    "full",
    replaces="m1",
    recipe_name="Ångström’s",
    ticket_name="2-1",
    route="lead collection",
    feed="ore",
    weighed=(Weighing("ore", "Ore", 90.0, 90.1), Weighing("soda", "Soda ash", 60.0, None)),
    roast_before=100.0,
    roast_after=90.0,
    matte=1.0,
    slag=120.0,
    speiss=0.2,
    prills=0.1,
    pot_change=-2.0,
    in_fire=41.0,
    hold=10.0,
    roasted=90.0,
    pour_temperature=1150.0,
    roast_temperature=740.0,
    mould_temperature=200.0,
    froth=-3.0,
    button_density=10.2,
    calcine_sulphur=0.4,
    fluidity=4,
    seen=("slag-black", "boil-over"),
    fineness=Fineness(90.0, 1.0, "x-ray gun", 1.5),
    beforehand=replace(
        SAID,
        button=Estimate(1.5, 1.2, 1.8, "predicted"),
        silver_recovery=Estimate(96.0, 94.0, 98.0),
        pour_temperature=1150.0,
        hold=15.0,
    ),
    notes="½ cm\nunder the rim",
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "library.sqlite"


@pytest.fixture
def library(path: Path) -> Iterator[Library]:
    with Library.open(path) as opened:
        opened.record_ticket("{}", ore="o1", recipe="r1", revision=1)
        opened.record_ticket("{}", ore="o2", recipe="r2", revision=1)
        yield opened


def test_a_recorded_melt_is_there_after_closing(path: Path, library: Library) -> None:
    library.record_melt(melt())
    library.record_melt(FULL)
    library.close()
    with Library.open(path) as again:
        (kept,) = again.melts("o1")
        assert kept.melt == FULL
        assert (kept.number, kept.entry, kept.corrected) == (1, 2, 1)
        assert again.melt_entries("m1") == again.melt_entries("full")
        assert [entry.melt for entry in again.melt_entries("full")] == [melt(), FULL]


def test_melts_are_counted_per_ore_type_and_keep_their_number(library: Library) -> None:
    library.record_melt(melt("a"))
    library.record_melt(melt("b", ore="o2", ticket=2))
    library.record_melt(melt("c"))
    library.record_melt(melt("a2", replaces="a", button=1.4))
    library.record_melt(melt("d"))
    assert [(k.number, k.melt.uid) for k in library.melts("o1")] == [(1, "a2"), (2, "c"), (3, "d")]
    assert [(k.number, k.melt.uid) for k in library.melts("o2")] == [(1, "b")]
    assert {k.melt.uid for k in library.melts()} == {"a2", "b", "c", "d"}
    assert (library.melt_count("o1"), library.melt_count("o2"), library.melt_count("o3")) == (3, 1, 0)


def test_a_struck_melt_is_left_out_and_can_be_brought_back(library: Library) -> None:
    library.record_melt(melt("a"))
    library.record_melt(melt("b"))
    library.record_melt(melt("a2", replaces="a", struck=True, notes="entered twice"))
    assert [(k.number, k.melt.uid) for k in library.melts("o1")] == [(2, "b")]
    assert library.melt_count("o1") == 1
    library.record_melt(melt("a3", replaces="a2"))
    assert [(k.number, k.melt.uid) for k in library.melts("o1")] == [(1, "a3"), (2, "b")]


def test_an_entry_stays_as_it_was_written(library: Library, path: Path) -> None:
    library.record_melt(melt())
    with closing(sqlite3.connect(path)) as raw:
        for change in ("UPDATE melt SET struck = 1", "DELETE FROM melt"):
            with pytest.raises(sqlite3.IntegrityError, match="stays"):
                raw.execute(change)
    assert library.melts("o1")[0].melt == melt()


def test_two_windows_cannot_correct_the_same_entry(library: Library, path: Path) -> None:
    library.record_melt(melt())
    with Library.open(path) as other:
        other.record_melt(melt("m2", replaces="m1", button=1.4))
        with pytest.raises(AlreadyCorrected, match="has been corrected in the meantime"):
            library.record_melt(melt("m3", replaces="m1", button=1.3))
        assert [k.melt.uid for k in other.melts("o1")] == ["m2"]
        assert library.changed_elsewhere()


def test_only_what_is_on_record_can_be_corrected(library: Library) -> None:
    library.record_melt(melt("b", ore="o2", ticket=2))
    for wrong in ("nobody", "b"):
        with pytest.raises(StoreProblem, match="not on record"):
            library.record_melt(melt("a", replaces=wrong))
    assert library.melts("o1") == ()


def test_no_melt_without_its_ticket_and_no_entry_twice(library: Library) -> None:
    with pytest.raises(StoreProblem, match="Cannot record the melt"):
        library.record_melt(melt(ticket=99))
    library.record_melt(melt())
    with pytest.raises(StoreProblem, match="Cannot record the melt"):
        library.record_melt(melt())
    assert len(library.melts()) == 1


def test_a_full_disk_is_said_and_nothing_is_lost(library: Library) -> None:
    library.record_melt(melt())
    pages = library._db.one("PRAGMA page_count")[0]
    library._db.one(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(StoreProblem, match="the disk is full"):
        library.record_melt(melt("m2", notes="x" * 100_000))
    assert [k.melt for k in library.melts("o1")] == [melt()]
    library._db.one("PRAGMA max_page_count = 100000")
    library.record_melt(melt("m2", notes="x" * 100_000))
    assert len(library.melts("o1")) == 2


def test_the_tickets_of_an_ore_are_listed_latest_first(library: Library) -> None:
    library.record_ticket("{}", ore="o1", recipe="r3", revision=None)
    assert [(t.number, t.recipe) for t in library.tickets_of_ore("o1")] == [(3, "r3"), (1, "r1")]


# Documents


@pytest.mark.parametrize("value", [melt(), FULL], ids=["plain", "full"])
def test_a_melt_is_read_back_equal(value: Melt) -> None:
    read = read_melt(melt_text(value))
    assert read.issues == ()
    assert read.value == value
    assert read_melts(melts_text((value, value))).value == (value, value)


numbers = st.none() | st.floats(0.0, 1e4)


@given(
    st.builds(
        Melt,
        uid=st.text(min_size=1),
        ore=st.text(),
        recipe=st.text(),
        revision=st.none() | st.integers(1, 99),
        ticket=st.integers(1, 999),
        poured=st.datetimes(min_value=datetime(2000, 1, 1)),
        weighed=st.lists(st.builds(Weighing, st.text(), st.text(), st.floats(0, 1e4), numbers)).map(tuple),
        button=numbers,
        slag=numbers,
        froth=st.none() | st.floats(-100, 100),
        fluidity=st.none() | st.integers(1, 5),
        seen=st.lists(st.text()).map(tuple),
        fineness=st.none() | st.builds(Fineness, st.none() | st.floats(0, 100)),
        beforehand=st.builds(Beforehand, silver=numbers),
        notes=st.text(),
    )
)
def test_any_melt_is_read_back_equal(value: Melt) -> None:
    text = melt_text(value)
    read = read_melt(text)
    assert read.issues == ()
    assert read.value is not None
    assert melt_text(read.value) == text


def test_a_key_names_its_unit() -> None:
    plain = json.loads(melt_text(FULL))["melt"]
    assert plain["button_g"] == 1.5
    assert plain["in_fire_min"] == 41.0
    assert plain["pour_temperature_c"] == 1150.0
    assert plain["fineness"]["silver_percent"] == 90.0
    assert plain["beforehand"]["button_g"] == {"value": 1.5, "low": 1.2, "high": 1.8, "source": "predicted"}
    assert all(field.name in plain or field.name in FIGURES[Melt] for field in fields(Melt))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"button_g": -1.0}, "melt.button_g must be at least 0"),
        ({"fluidity": 6}, "melt.fluidity must be at most 5"),
        ({"fineness": {"silver_percent": 925.0}}, "melt.fineness.silver_percent must be at most 100"),
        ({"gold_g": 1.0}, "melt.gold_g is not known"),
        ({"poured": "yesterday"}, "melt.poured must be a date and time"),
    ],
)
def test_figures_that_make_no_sense_are_refused(change: dict[str, object], words: str) -> None:
    plain = json.loads(melt_text(melt()))
    plain["melt"] |= change
    read = read_melt(json.dumps(plain))
    assert read.value is None
    assert words in " ".join(issue.sentence for issue in read.issues)


# The table for a spreadsheet


def table(kept: Sequence[KeptMelt]) -> list[dict[str, str]]:
    head, *rows = melts_table(kept, {"o1": "Kettle Drift"}.get)  # type: ignore[arg-type]
    assert len(set(head)) == len(head)
    return [dict(zip(head, row, strict=True)) for row in rows]


def test_the_table_holds_the_figures_and_what_follows_from_them(library: Library) -> None:
    """1.5 g of button at 90 % is 1.35 g silver and at 1 % 15 mg gold, of 1.54 g and 20 mg in 90 g and so a little more
    in the 90.1 g that were read."""
    library.record_melt(melt())
    library.record_melt(FULL)
    (cells,) = table(library.melts())
    assert (cells["number"], cells["entry"], cells["state"], cells["ore_name"]) == ("1", "2", "stands", "Kettle Drift")
    assert cells["button_g"] == "1.5"
    assert (cells["Ore asked_g"], cells["Ore read_g"], cells["charge_g"]) == ("90", "90.1", "90.1")
    assert (cells["Soda ash asked_g"], cells["Soda ash read_g"], cells["total_g"]) == ("60", "", "150.1")
    assert cells["pot_change_g"] == "-2"
    assert float(cells["silver_held_g"]) == pytest.approx(1.54 * 90.1 / 90.0, rel=1e-5)
    assert float(cells["silver_recovery_percent"]) == pytest.approx(100.0 * 1.35 / (1.54 * 90.1 / 90.0), rel=1e-5)
    assert float(cells["gold_recovery_percent"]) == pytest.approx(100.0 * 0.015 / (0.02 * 90.1 / 90.0), rel=1e-5)
    assert float(cells["yield_percent"]) == pytest.approx(100.0 * 1.5 / 90.1, rel=1e-5)
    assert float(cells["silver_recovery_low_percent"]) < float(cells["silver_recovery_percent"])
    assert (cells["fineness_by"], cells["fineness_error_percent"]) == ("x-ray gun", "1.5")
    assert (cells["said_grade_error_percent"], cells["said_charge_error_percent"]) == ("4", "1")
    assert [cells[f"said_button{end}_g"] for end in ("", "_low", "_high")] == ["1.5", "1.2", "1.8"]
    assert [cells[f"said_silver_recovery{end}_percent"] for end in ("", "_low", "_high")] == ["96", "94", "98"]
    assert cells["said_matte_g"] == ""
    assert cells["seen"] == "slag-black boil-over"
    assert cells["notes"] == "½ cm\nunder the rim"


def test_every_figure_of_an_entry_has_a_column(library: Library) -> None:
    """Whatever stands in the document of a melt stands in the table, but for where a prediction comes from."""
    library.record_melt(melt())
    library.record_melt(FULL)
    (cells,) = table(library.melts())
    for key, value in json.loads(melt_text(FULL))["melt"].items():
        if key == "fineness":
            assert all(cells[f"fineness_{inner}"] == f"{worth}" for inner, worth in _plainly(value))
        elif key == "beforehand":
            assert {f"said_{inner}" for inner in value} <= cells.keys()
        elif key == "weighed":
            assert all(f"{each['name']} {part}" in cells for each in value for part in ("asked_g", "read_g"))
        elif key not in ("struck", "seen", "poured"):
            assert cells[key] == ("" if value is None else f"{value:g}" if isinstance(value, float) else f"{value}")


def _plainly(values: dict[str, object]) -> list[tuple[str, str]]:
    return [(key, f"{value:g}" if isinstance(value, float) else f"{value}") for key, value in values.items()]


def test_more_than_was_held_is_told_as_measured_and_marked(library: Library) -> None:
    """1.7469 g of button at 90 % hold 1.5722 g of 1.54 g: 102.09 %, within the errors, its range cut at 100 %."""
    library.record_melt(melt(button=1.7469))
    library.record_melt(melt("m2"))
    over, under = table(library.melts())
    assert float(over["silver_recovery_percent"]) == pytest.approx(100.0 * 1.7469 * 0.9 / 1.54, rel=1e-5)
    assert over["silver_recovery_percent"].startswith("102.09")
    assert over["silver_recovery_high_percent"] == "100"
    assert float(over["silver_recovery_low_percent"]) < 100.0
    assert (over["silver_over_what_was_held"], under["silver_over_what_was_held"]) == ("yes", "no")
    assert (over["gold_over_what_was_held"], over["gold_missing"][:8]) == ("", "The gold")
    assert over["impossible"] == ""


def test_what_is_left_out_of_the_mean_says_so(library: Library) -> None:
    for k in range(5):
        library.record_melt(melt(f"g{k}", button=1.45 + 0.01 * k))
    library.record_melt(melt("poor", button=0.9))
    library.record_melt(melt("wrong", button=15.0))
    library.record_melt(melt("unknown", fineness=None))
    cells = {each["uid"]: each for each in table(library.melts())}
    assert {uid: each["silver_left_out_of_mean"] for uid, each in cells.items() if each["silver_left_out_of_mean"]} == {
        "poor": "stands apart",
        "wrong": "more silver than the charge held",
    }
    assert cells["wrong"]["impossible"] == "more silver than the charge held"
    assert "have it assayed" in cells["unknown"]["silver_missing"]
    assert float(cells["unknown"]["silver_at_most_percent"]) == pytest.approx(100.0 * 1.5 / 1.54, rel=1e-5)
    assert cells["unknown"]["silver_recovery_percent"] == ""


def test_the_whole_record_holds_every_entry_and_says_which_are_superseded(library: Library) -> None:
    library.record_melt(melt("a", button=15.0))
    library.record_melt(melt("b", ore="o2", ticket=2))
    library.record_melt(melt("a2", replaces="a"))
    library.record_melt(melt("c"))
    library.record_melt(melt("c2", replaces="c", struck=True))
    rows = table(library.melt_record())
    told = [(row["number"], row["entry"], row["uid"], row["state"], row["superseded_by"]) for row in rows]
    assert told == [
        ("1", "1", "a", "superseded", "a2"),
        ("1", "2", "b", "stands", ""),
        ("1", "3", "a2", "stands", ""),
        ("2", "4", "c", "superseded", "c2"),
        ("2", "5", "c2", "struck", ""),
    ]
    assert [row["button_g"] for row in rows][:3] == ["15", "1.5", "1.5"]
    assert all(row["silver_left_out_of_mean"] == "" for row in rows)
    assert {kept.melt.uid for kept in library.melts()} == {"a2", "b"}


def test_fluxes_of_one_name_are_told_apart(library: Library) -> None:
    both = (Weighing("calcine", "Calcine", 90.0), Weighing("f1", "Soda", 10.0), Weighing("f2", "Soda", 20.0, 21.0))
    library.record_melt(melt(weighed=both))
    (cells,) = table(library.melts())
    assert (cells["Soda (f1) asked_g"], cells["Soda (f2) asked_g"], cells["Soda (f2) read_g"]) == ("10", "20", "21")


# A library of version 1


def test_a_library_of_version_1_is_backed_up_and_takes_melts(path: Path) -> None:
    released = Path(__file__).parent.parent / "data" / "libraries" / "version-1.sqlite"
    shutil.copy(released, path)
    with Library.open(path) as library:
        assert "brought up to date" in library.notices[0]
        assert library.melts() == ()
        (ticket,) = library.tickets()
        library.record_melt(melt(ore=ticket.ore, recipe=ticket.recipe, ticket=ticket.number))
        assert library.melt_count(ticket.ore) == 1
    (backup,) = path.parent.glob("library-before-version-*.sqlite")
    with closing(sqlite3.connect(backup)) as raw, closing(sqlite3.connect(released)) as old:
        assert list(raw.iterdump()) == list(old.iterdump())
        assert raw.execute("PRAGMA user_version").fetchone() == (1,)


def test_the_melts_of_a_released_library_are_read_in_full(path: Path) -> None:
    shutil.copy(Path(__file__).parent.parent / "data" / "libraries" / "version-2.sqlite", path)
    with Library.open(path) as library:
        (kept,) = library.melts()
        assert (kept.number, kept.corrected, kept.melt.uid) == (1, 1, "melt-corrected")
        assert kept.melt.button == 2.1
        assert kept.melt.weighed[0].read == 100.1
        assert kept.melt.beforehand.button == Estimate(2.0, 1.5, 2.6, "invented")
        assert [entry.melt.button for entry in library.melt_entries("melt-first")] == [21.0, 2.1]
