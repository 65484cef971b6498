import pytest

from fluxlab.gui.ore.paste import pasted
from fluxlab.ore.ore_types import Share

HERE = (Share("Pyrite", 40, 30, 50, "by eye"), Share("Quartz", 60, known_from="panned"))


def test_name_and_share_replace_the_range_and_keep_how_it_is_known():
    found = pasted([["Pyrite", "52"], ["Galena", "8.5", "microscope"]], "minerals", HERE, -1, 0)
    assert found.shares == (Share("Pyrite", 52, known_from="by eye"), Share("Galena", 8.5, known_from="microscope"))
    assert found.refused == ()


def test_three_figures_are_low_likely_and_high():
    found = pasted([["quartz", "8", "11.5", "15"]], "minerals", HERE, -1, 0)
    assert found.shares == (Share("Quartz", 11.5, 8, 15, "panned"),)


def test_the_heading_of_a_spreadsheet_is_left_out_without_a_word():
    found = pasted([["Mineral", "share %"], ["Pyrite", "52"]], "minerals", (), -1, 0)
    assert [share.what for share in found.shares] == ["Pyrite"]
    assert found.refused == ()


def test_figures_alone_fill_the_rows_from_the_current_cell_on():
    found = pasted([["12", "14"], ["55", "70"]], "minerals", HERE, 0, 1)
    assert found.shares == (Share("Pyrite", 12, 30, 14, "by eye"), Share("Quartz", 55, None, 70, "panned"))
    more = pasted([["1"], ["2"], ["3"]], "minerals", HERE, 0, 1)
    assert len(more.shares) == 2
    assert more.refused[0].startswith("1 more rows have no name")


def test_a_beginning_that_fits_one_mineral_is_enough_and_one_that_fits_several_is_asked_back():
    assert pasted([["galen", "3"]], "minerals", (), -1, 0).shares[0].what == "Galena"
    asked = pasted([["sphal", "3"]], "minerals", (), -1, 0)
    assert asked.shares == ()
    assert asked.refused[0].startswith("“sphal” may be Sphalerite")


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        (["Unobtainium", "3"], "“Unobtainium” is not in the list of minerals."),
        (["Pyrite", "3", "4"], "Pyrite: 2 figures cannot be placed."),
        (["Pyrite", "-3"], "Pyrite: A share cannot be negative."),
        (["Pyrite", "130"], "Pyrite: "),
    ],
)
def test_a_row_that_is_not_understood_is_said_and_the_others_are_taken(row, sentence):
    found = pasted([row, ["Quartz", "5"]], "minerals", HERE, -1, 0)
    assert [share.what for share in found.shares] == ["Quartz"]
    assert found.refused[0].startswith(sentence)


def test_an_assay_takes_formulas_and_subscripts():
    found = pasted([["SiO₂", "40.5"], ["Fe2O3", "30"], ["LOI", "2"], ["Xx", "1"]], "oxides", (), -1, 0)
    assert [share.what for share in found.shares] == ["SiO2", "Fe2O3", "LOI"]
    assert found.refused == ("“Xx” is no oxide.",)


def test_an_empty_clipboard_says_what_is_wanted():
    assert pasted([], "minerals", HERE, 0, 0).refused[0].startswith("There is nothing to paste.")
