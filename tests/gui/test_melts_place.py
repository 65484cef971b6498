from PySide6.QtWidgets import QWidget

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
