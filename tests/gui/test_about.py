import pytest
from PySide6.QtWidgets import QWidget

from fluxlab import resources
from fluxlab.gui import theme
from fluxlab.gui.about import ABOUT, AboutPanel, notices
from fluxlab.gui.widgets.words import Words


@pytest.fixture
def window(qtbot):
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(1366, 768)
    window.show()
    return window


def test_about_lists_everything_that_notices_name_with_its_licence(window):
    panel = AboutPanel(window)
    panel.open_at(window)
    named = [row["name"] for row in resources.toml("notices.toml")["notice"]]
    assert sorted(notice.name for notice in panel.model.rows) == sorted(named)
    panel.list.choose_row(next(i for i, n in enumerate(panel.model.rows) if n.kind == "toolkit"))
    assert "Putting another copy in its place" in panel.facts.words
    assert "GNU LESSER GENERAL PUBLIC LICENSE" in panel.licence.toPlainText()
    assert window.focusWidget() is panel.list


def test_about_says_what_the_program_does_not_know_and_what_can_hurt(window):
    panel = AboutPanel(window)
    assert ABOUT in [words.words for words in panel.findChildren(Words)]


@pytest.mark.parametrize(("width", "height", "size"), [(1366, 768, 100), (683, 384, 100), (1366, 768, 130)])
def test_the_plate_fits_into_the_window(window, width, height, size):
    theme.set_text_size(size)
    try:
        window.resize(width, height)
        panel = AboutPanel(window)
        panel.open_at(window)
        assert window.rect().contains(panel.geometry())
    finally:
        theme.set_text_size(100)


def test_every_notice_has_a_holder_a_licence_and_a_readable_text():
    heading, found = notices()
    assert heading.startswith("fluxlab is free software")
    assert found[0].kind == "program"
    for notice in found:
        assert notice.holder
        assert notice.licence
        assert bool(notice.licence_text) == bool(notice.texts)


def test_the_opening_words_tell_estimates_from_an_assay():
    assert "predicts no" not in ABOUT
    assert "with its range" in ABOUT
    assert "No estimate is an assay." in ABOUT
