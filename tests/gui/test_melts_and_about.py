from PySide6.QtWidgets import QWidget

from fluxlab import resources
from fluxlab.gui.about import AboutPanel, notices
from fluxlab.gui.melts.frame import EmptyAxes, EmptyTable, Ring
from fluxlab.gui.melts.place import SENTENCE, MeltsPlace
from fluxlab.gui.widgets.words import Words


class Window(QWidget):
    def __init__(self) -> None:
        super().__init__()
        self.went = ""

    def go(self, name: str) -> None:
        self.went = name


def test_melts_is_a_frame_with_nothing_in_it_and_one_sentence(qtbot):
    window = Window()
    qtbot.addWidget(window)
    window.resize(1226, 724)
    place = MeltsPlace(None, window)
    place.setGeometry(0, 0, 1226, 724)
    window.show()
    assert [part.accessibleName() for part in place.findChildren(EmptyTable)] == ["Melt record, no melts"]
    assert len(place.findChildren(EmptyAxes)) == 2
    assert place.findChild(Ring).accessibleName() == "Not known"
    assert [words.words for words in place.findChildren(Words)] == [SENTENCE]
    assert SENTENCE.count(".") == 1


def test_its_one_button_leads_to_the_ticket(qtbot):
    window = Window()
    qtbot.addWidget(window)
    place = MeltsPlace(None, window)
    window.show()
    place.show_ticket.click()
    assert window.went == "Weigh-out"


def test_about_lists_everything_that_notices_name_with_its_licence(qtbot):
    window = QWidget()
    qtbot.addWidget(window)
    window.resize(1366, 768)
    window.show()
    panel = AboutPanel(window)
    panel.open_at(window)
    named = [row["name"] for row in resources.toml("notices.toml")["notice"]]
    assert sorted(notice.name for notice in panel.model.rows) == sorted(named)
    panel.list.choose_row(next(i for i, n in enumerate(panel.model.rows) if n.kind == "toolkit"))
    assert "Putting another copy in its place" in panel.facts.words
    assert "GNU LESSER GENERAL PUBLIC LICENSE" in panel.licence.toPlainText()
    assert window.focusWidget() is panel.list


def test_every_notice_has_a_holder_a_licence_and_a_readable_text():
    heading, found = notices()
    assert heading.startswith("fluxlab is free software")
    assert next(notice.kind for notice in found) == "program"
    for notice in found:
        assert notice.holder
        assert notice.licence
        assert bool(notice.licence_text) == bool(notice.texts)
