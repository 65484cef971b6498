"""The workshop card on the Shelf place: every statement of it, what is not stated, what the rules make of it."""

from dataclasses import fields as fields_of

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from fluxlab.design import edits
from fluxlab.design.cautions import CONDITIONS
from fluxlab.design.start import demo_work
from fluxlab.design.workshop import Workshop
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.shelf.place import ShelfPlace
from fluxlab.gui.shelf.workshop_card import QUIET
from fluxlab.gui.shelf.workshop_shelf import NUMBERS
from fluxlab.gui.shelf.workshop_words import FIRE, HABITS, PEOPLE, POT, RULES
from tests.gui.parts import page_in_window, settle

SAFE = Workshop(
    indoors=False, capture=True, fuel="propane", co_alarm=True, cylinder_far=True, alone=False, told_somebody=True,
    minor=False, ppe=True, disposal="a licensed site",
)  # fmt: skip


@pytest.fixture
def bench():
    return Bench(demo_work())


@pytest.fixture
def place(bench, qtbot):
    with page_in_window(qtbot, bench, ShelfPlace) as page:
        page.show_way("workshop")
        settle(bench)
        yield page


def card(bench: Bench) -> Workshop:
    return bench.work.shelf.workshop


def test_every_field_of_the_card_can_be_stated():
    asked = {s.field for s in (*FIRE, *PEOPLE, *HABITS, *POT)} | set(NUMBERS) | {"disposal"}
    assert asked == {field.name for field in fields_of(Workshop)}


def test_the_rules_listed_beside_the_card_exist():
    assert set(RULES) <= set(CONDITIONS)


def test_a_new_card_says_how_much_is_not_stated(place):
    assert place.note.words == "10 not stated"
    assert place.workshop.choices["indoors"].text() == "not stated"
    assert any(said.startswith("Gear") for said in place.workshop.card.said)


def test_every_answer_of_every_statement_reaches_the_shelf_and_can_be_undone(place, bench):
    for statement in (*FIRE, *PEOPLE, *HABITS, *POT):
        for answer, words in statement.answers:
            place.workshop.choose(statement.field, words)
            assert getattr(card(bench), statement.field) == answer
    settle(bench)
    bench.do(edits.set_workshop, SAFE)
    place.workshop.choose("indoors", "indoors")
    bench.undo()
    assert card(bench) == SAFE


def test_a_dangerous_statement_is_told_beside_it_at_once(place, bench):
    bench.do(edits.set_workshop, SAFE)
    settle(bench)
    assert not any("indoors" in said for said in place.workshop.card.said)
    place.workshop.choose("indoors", "indoors")
    settle(bench)
    assert any("the fire burns indoors" in said for said in place.workshop.card.said)


def test_numbers_are_typed_in_the_reader_s_units_and_emptied_again(place, bench, qtbot):
    field = place.workshop.numbers["pot_wall_left"]
    for typed, value in (("55", 55.0), ("", None)):
        field.setFocus()
        field.selectAll()
        qtbot.keyClick(field, Qt.Key.Key_Delete)
        qtbot.keyClicks(field, typed)
        qtbot.keyClick(field, Qt.Key.Key_Return)
        settle(bench)
        assert card(bench).pot_wall_left == value
    opened = place.workshop.numbers["mould_opened_after"]
    opened.setFocus()
    qtbot.keyClicks(opened, "0.1 h")
    qtbot.keyClick(opened, Qt.Key.Key_Return)
    settle(bench)
    assert card(bench).mould_opened_after == pytest.approx(6.0)
    assert any("opened after 6 min" in said for said in place.workshop.card.said)


def test_a_wall_of_130_per_cent_is_refused(place, bench, qtbot):
    field = place.workshop.numbers["pot_wall_left"]
    field.setFocus()
    qtbot.keyClicks(field, "130")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    settle(bench)
    assert card(bench).pot_wall_left is None


def test_where_the_waste_goes_is_typed_and_silences_its_rule(place, bench, qtbot):
    assert any(said.startswith("Waste") for said in place.workshop.card.said)
    place.workshop.disposal.setFocus()
    qtbot.keyClicks(place.workshop.disposal, "a licensed site")
    place.commit_pending()
    settle(bench)
    assert card(bench).disposal == "a licensed site"
    assert not any(said.startswith("Waste") for said in place.workshop.card.said)


def test_the_limits_are_folded_and_name_their_source_and_the_law(place, bench):
    limits = place.workshop.card.limits
    assert limits.is_folded
    limits.set_folded(False)
    settle(bench)
    said = " ".join(child.accessibleName() for child in limits.findChildren(QWidget))
    assert "The law of your place decides" in said
    assert "Sulphur dioxide: 2 ppm (NIOSH, 8 h)" in said
    assert "found: NIOSH and OSHA chemical pages" in said


def test_sections_stand_under_each_other_where_the_words_have_no_room(place, bench):
    def sections() -> list[int]:
        return [place.workshop.choices[key].mapTo(place, place.workshop.choices[key].rect().topLeft()).y()
                for key in ("indoors", "ppe")]  # fmt: skip

    wide = sections()
    assert wide[0] == wide[1]
    theme.set_text_size(130)
    try:
        settle(bench)
        narrow = sections()
        assert narrow[1] > narrow[0]
    finally:
        theme.set_text_size(100)


def test_what_speaks_against_nothing_says_so(bench, qtbot):
    from fluxlab.gui.shelf.workshop_card import WorkshopCard

    shown = WorkshopCard()
    qtbot.addWidget(shown)
    shown.show_cautions(())
    assert shown.said == []
    assert any(child.accessibleName() == QUIET for child in shown.findChildren(QWidget))
