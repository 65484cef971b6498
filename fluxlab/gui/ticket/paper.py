"""The papers that a ticket is printed on."""

from dataclasses import dataclass

MM_PER_POINT = 25.4 / 72.0


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper [mm]; `height` is None for a roll, which is cut where the ticket ends.

    `enlargements` are tried from the largest: the first at which the ticket keeps to one page is taken, else the last.
    """

    key: str
    name: str
    width: float
    height: float | None
    margin: float
    enlargements: tuple[float, ...] = (1.0,)

    @property
    def narrow(self) -> bool:
        """Whether everything stands in one column."""
        return self.width < 110.0


PAPERS = (
    Paper("a5", "A5", 148.0, 210.0, 8.0),
    Paper("a4", "A4", 210.0, 297.0, 8.0, (1.35, 1.2, 1.0)),
    Paper("letter", "Letter", 215.9, 279.4, 8.0, (1.3, 1.2, 1.0)),
    Paper("roll", "80 mm roll", 80.0, None, 4.0),
)


def paper_of(key: str) -> Paper | None:
    """The paper with this key, None if there is none."""
    return next((paper for paper in PAPERS if paper.key == key), None)


def default_paper() -> Paper:
    """The paper that suits the country: Letter where inches are used, else A5."""
    from PySide6.QtCore import QLocale

    inches = QLocale().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
    return PAPERS[2] if inches else PAPERS[0]
