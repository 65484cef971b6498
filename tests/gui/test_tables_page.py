from hypothesis import given
from hypothesis import strategies as st

from fluxlab.gui.tables.page import Room, rows_of, widths_of

ORE = [Room(180, 214), Room(470, 560, 1), Room(330, 378)]


def test_three_columns_stand_side_by_side_on_the_screen_of_the_pictures():
    assert rows_of(ORE, 1226 - 32, 21) == [[0, 1, 2]]
    assert widths_of(ORE, 1226 - 32, 21) == [214, 560, 378]


def test_what_is_left_over_goes_to_the_column_that_stretches():
    assert widths_of(ORE, 1226 - 32 + 200, 21) == [214, 760, 378]


def test_at_half_the_width_the_columns_stand_under_each_other():
    assert rows_of(ORE, 543 - 32, 21) == [[0], [1], [2]]


def test_between_the_two_the_right_column_goes_below():
    assert rows_of(ORE, 700, 21) == [[0, 1], [2]]


@given(st.integers(350, 3000))
def test_columns_never_get_less_than_they_need_as_long_as_one_fits_at_all(width):
    for row in rows_of(ORE, width, 21):
        rooms = [ORE[i] for i in row]
        wide = widths_of(rooms, width, 21)
        if len(row) > 1 or width >= rooms[0].least:
            assert all(w >= room.least - 1 for w, room in zip(wide, rooms, strict=True))
            assert sum(wide) + 21 * (len(row) - 1) <= width + len(row)
