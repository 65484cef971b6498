"""Melts whose figures cannot all be true, in the Melts place: left out, named, told first, in the reader's decimals."""

import csv
import json
from dataclasses import fields, replace
from datetime import datetime

import pytest
from PySide6.QtWidgets import QFileDialog

from fluxlab.gui.melts.corrections import TOLD, corrections
from fluxlab.gui.melts.lines import NO_REASON
from fluxlab.gui.widgets.fields import choose_decimal_mark
from fluxlab.learn.melt import Fineness, Melt
from fluxlab.learn.yields import recovery_of
from fluxlab.store.library import Library
from fluxlab.store.melt_document import read_melts
from tests.gui.melt_record import bench_with_ticket, record_melts
from tests.gui.melt_record import shown_alone as shown


@pytest.fixture
def bench(qapp):
    with Library.in_memory() as library:
        yield bench_with_ticket(library)


@pytest.fixture
def comma():
    choose_decimal_mark(",")
    yield
    choose_decimal_mark("")


def record_back(bench, *percents, **changes):
    """Melts that give back so much of the silver that the charge held."""
    return record_melts(bench, tuple(percent / 100.0 * held(bench) / 0.93 for percent in percents), **changes)


def held(bench):
    from tests.gui.melt_record import blank

    return blank(bench).held("silver")


def _gold_answer(place, uid):
    place.table.choose(uid)
    return next(line.answer for line in place.detail.sheet.lines if line.name == "Gold back")


def means(place):
    return place.summary.figures.accessibleName()


# Left out, and named


def test_a_melt_that_cannot_be_is_in_no_mean_and_named(bench, qtbot):
    record_back(bench, 86.6, 124.3)
    place = shown(bench, qtbot)
    assert "Silver back 86.6 %" in means(place)
    assert place.summary.apart.words == "Left out of the mean: melt 2 (more silver than the charge held)."
    assert place.summary.apart.isVisible()
    assert "1 of 2 melts" in place.summary._title.note
    assert place.trend.mean.value == pytest.approx(86.6, rel=1e-4)


def test_a_gold_that_cannot_be_makes_no_mean_and_leaves_its_silver_out(bench, qtbot):
    fine = Fineness(93.0, 0.05, "assayer")
    good, wrong = record_back(bench, 95.0, 95.0)
    assert bench.library is not None
    bench.library.record_melt(replace(good, uid="g", replaces="m1", fineness=fine))
    bench.library.record_melt(replace(wrong, uid="w", replaces="m2", fineness=Fineness(45.0, 48.0, "assayer")))
    place = shown(bench, qtbot)
    back = 100.0 * good.button * 0.0005 / good.held("gold")
    assert recovery_of(replace(good, fineness=Fineness(93.0, 0.05, "assayer")), "gold").value.value == pytest.approx(
        back
    )
    assert f"Gold back {back:.1f} %" in means(place)
    assert "melt 2 (more gold than the charge held)" in place.summary.apart.words
    assert "1 of 2 melts" in place.summary._title.note
    assert [point.reason for point in place.trend.points] == ["", "more gold than the charge held"]
    told = {uid: _gold_answer(place, uid) for uid in ("g", "w")}
    assert told == {"g": None, "w": "no"}


def test_a_gold_that_stands_apart_is_named_beside_the_means_too(bench, qtbot):
    """Five melts alike in silver; the gold of the last is half that of the others."""
    assert bench.library is not None
    for k, melt in enumerate(record_back(bench, 95.0, 95.1, 94.9, 95.0, 95.0)):
        fine = Fineness(93.0, 0.025 if k == 4 else 0.05, "assayer")
        bench.library.record_melt(replace(melt, uid=f"g{k}", replaces=melt.uid, fineness=fine))
    place = shown(bench, qtbot)
    assert place.summary.apart.words == "Left out of the mean: melt 5 (of gold: stands apart)."
    assert "5 of 5 melts" in place.summary._title.note


def test_where_no_melt_can_be_the_note_says_that_none_counts(bench, qtbot):
    record_back(bench, 130.0, 140.0)
    place = shown(bench, qtbot)
    assert "Silver back not known" in means(place)
    assert "none of 2 melts" in place.summary._title.note


# What is told first


def test_what_cannot_be_is_told_by_its_figures_and_not_as_standing_apart(bench, qtbot):
    record_back(bench, 95.0, 96.0, 94.0, 95.5, 124.0)
    place = shown(bench, qtbot)
    place.table.choose("m5")
    line = place.table.line
    assert (line.apart, line.answer) == (False, "no")
    assert line.why.startswith("More than there is: the button would hold")
    assert place.detail.why.words == ""
    assert "look at the unit of the grade" in place.detail.issues.words


def test_a_melt_apart_that_gave_more_than_was_held_leads_with_assay_or_weight(bench, qtbot):
    """With a grade good to 10 % only, 118 % is within the errors: it is not called impossible, but stands apart."""
    from tests.gui.melt_record import blank

    said = replace(blank(bench).beforehand, grade_error=10.0)
    melts = record_back(bench, 95.0, 96.0, 94.0, 95.5, 118.0)
    assert bench.library is not None
    for melt in melts:
        bench.library.record_melt(replace(melt, uid=f"{melt.uid}x", replaces=melt.uid, beforehand=said))
    place = shown(bench, qtbot)
    place.table.choose("m5x")
    assert place.table.line.apart
    words = place.detail.why.words
    assert words == (
        "Stands apart from the others: silver back: more than the ore was said to hold: check assay or weights."
    )


def test_a_slip_of_the_pen_is_the_reason_where_the_record_shows_no_other(bench, qtbot):
    melts = record_back(bench, 95.0, 96.0, 94.0, 95.5, 70.0)
    assert bench.library is not None
    odd = melts[4]
    slip = (*odd.weighed[:1], replace(odd.weighed[1], read=10.0 * odd.weighed[1].asked), *odd.weighed[2:])
    alike = {name: getattr(melts[0], name) for name in ("seen", "in_fire", "pour_temperature")}
    bench.library.record_melt(replace(odd, uid="x", replaces="m5", weighed=slip, **alike))
    bench.library.record_melt(replace(odd, uid="y", replaces="x", weighed=odd.weighed, **alike))
    place = shown(bench, qtbot)
    place.table.choose("y")
    assert place.table.line.why == NO_REASON
    bench.library.record_melt(replace(odd, uid="z", replaces="y", weighed=slip, **alike))
    place.refresh()
    place.table.choose("z")
    assert f"{odd.weighed[1].name}: {10.0 * odd.weighed[1].asked:g} g was read" in place.table.line.why


# In the reader's decimals


def test_sentences_of_the_record_have_the_decimal_mark_in_force(bench, qtbot, comma):
    record_back(bench, 124.3)
    place = shown(bench, qtbot)
    words = place.detail.issues.words
    got = f"{1.243 * held(bench):.3g}".replace(".", ",")
    assert f"would hold {got} g silver" in words
    assert f"{got} g silver" in place.table.line.why
    place.begin()
    place.entry.fields["button"].set_value(6.6)
    place.entry.silver.set_value(93.0)
    place.entry._typed()
    assert "would hold 6,14 g silver" in place.entry.issues.words


def test_reasons_and_what_is_missing_have_it_too(bench, qtbot, comma):
    melts = record_back(bench, 95.0, 96.0, 94.0, 95.5, 60.0)
    assert bench.library is not None
    bench.library.record_melt(replace(melts[4], uid="x", replaces="m5", matte=3.5))
    bench.library.record_melt(replace(melts[3], uid="y", replaces="m4", button=0.02))
    place = shown(bench, qtbot)
    lines = {line.melt.uid: line for line in place.lines}
    assert "3,5 g more matte" in lines["x"].why
    assert "shows 0,1 g" in lines["y"].recovery.why


# While it is typed


def test_a_day_to_come_a_cold_pour_and_too_long_a_hold_are_said_in_the_form(bench, qtbot):
    place = shown(bench, qtbot)
    place.begin()
    entry = place.entry
    entry.poured.set_value(datetime(2099, 3, 1, 16, 20))
    for name, value in (("hold", 30.0), ("in_fire", 10.0), ("pour_temperature", 115.0)):
        entry.fields[name].set_value(value)
    entry._typed()
    words = entry.issues.words
    assert "Poured 2099-03-01 16:20, but entered" in words
    assert "Held quiet for 30 min" in words
    assert "Poured at 115 °C" in words
    entry.fields["roast_before"].set_value(100.0)
    entry.fields["roast_after"].set_value(140.0)
    entry._typed()
    assert "no roast of this ore as described ends there (possible is −" in entry.issues.words


# Corrections


def test_a_correction_of_whose_word_it_is_is_told(bench):
    guess, assayed = (Fineness(93.0, by=by) for by in ("own guess", "assayer"))
    (melt,) = record_melts(bench, (4.9,))
    told = corrections((replace(melt, fineness=guess), replace(melt, fineness=assayed)))
    assert told == ("Corrected: fineness by an assayer, was by own guess.",)


def test_no_field_of_a_melt_is_changed_in_silence(bench):
    (melt,) = record_melts(bench, (4.9,))
    for field in fields(Melt):
        if field.name in TOLD:
            continue
        was = getattr(melt, field.name)
        (told,) = corrections((melt, replace(melt, **{field.name: f"{was}x" if isinstance(was, str) else 7})))
        assert told == f"Corrected: {field.name.replace('_', ' ')}.", field.name


# The whole record as files


def test_the_whole_record_is_every_entry_of_every_ore(bench, qtbot, tmp_path, monkeypatch):
    melts = record_melts(bench, (49.0, 4.9))
    assert bench.library is not None
    bench.library.record_melt(replace(melts[0], uid="x", replaces="m1", button=4.9))
    bench.library.record_melt(replace(melts[1], uid="other", ore="o9"))
    place = shown(bench, qtbot)
    assert len(place.table.model.rows) == 2
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "r.csv"), ""))
    place.table.export_csv()
    with open(tmp_path / "r.csv", encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["uid"], row["button_g"], row["state"]) for row in rows] == [
        ("m1", "49", "superseded"),
        ("m2", "4.9", "stands"),
        ("x", "4.9", "stands"),
        ("other", "4.9", "stands"),
    ]
    assert rows[0]["ore_name"] == bench.work.recipe.ore.name
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "r.json"), ""))
    place.table.export_json()
    text = (tmp_path / "r.json").read_text(encoding="utf-8")
    assert [melt["uid"] for melt in json.loads(text)["melts"]] == ["m1", "m2", "x", "other"]
    assert read_melts(text).value == tuple(kept.melt for kept in bench.library.melt_record())
