import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.gui.tables import tsv

CELL = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1).filter(lambda s: ";" not in s)


@given(st.lists(st.lists(CELL, min_size=2, max_size=4), min_size=1, max_size=5))
def test_what_was_copied_pastes_as_the_same_rows(rows):
    assert tsv.read(tsv.write(rows)) == rows


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_parts_rows(end):
    assert tsv.read(f"Pyrite\t52{end}Quartz\t11,5{end}") == [["Pyrite", "52"], ["Quartz", "11,5"]]


def test_hard_spaces_of_a_spreadsheet_become_plain_ones():
    assert tsv.read("Soda ash\t1\u202f200\u00a0g") == [["Soda ash", "1 200 g"]]


def test_a_list_with_semicolons_pastes_when_it_has_no_tab():
    assert tsv.read("Pyrite; 52\nQuartz;11,5") == [["Pyrite", "52"], ["Quartz", "11,5"]]
    assert tsv.read("a;b\tc") == [["a;b", "c"]]


def test_tabs_and_line_ends_inside_a_cell_become_spaces():
    assert tsv.write([["a\tb\nc", "d"]]) == "a b c\td"


def test_an_empty_clipboard_has_no_rows():
    assert tsv.read("") == []
    assert tsv.read(" \n\n") == []
