"""What the solver has to say: what gave way, what holds the flux up, and the recipe without the wish."""

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fluxlab.design.report_types import Report
from fluxlab.gui import theme
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.words import Words


def spoken(report: Report) -> list[tuple[str, str]]:
    """Sentences with the answer glyph that stands before each, "" for none."""
    said: list[tuple[str, str]] = []
    solve = report.solve
    for sentence in solve.gave_way:
        said.append(("no" if solve.status in ("relaxed", "impossible") else "close", sentence))
    said += [("", sentence) for sentence in solve.sentences]
    if report.without_wish:
        said.append(("", report.without_wish))
    for issue in report.issues:
        words = f"{issue.sentence} {issue.remedy}".strip()
        said.append(({"error": "no", "warning": "close"}.get(str(issue.severity), ""), words))
    return said


class _Line(QWidget):
    def __init__(self, answer: str, sentence: str, parent: QWidget) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 3, 0, 3)
        row.setSpacing(8)
        tone = {"close": "close", "no": "no"}.get(answer, "ink2")
        if answer:
            row.addWidget(Mark("close" if answer == "close" else "no"))
        row.addWidget(Words(sentence, 12 if not answer else 13, tone=tone), 1)


class SolverWords(QWidget):
    """The sentences, the ones that ask for attention first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._said: list[tuple[str, str]] | None = None
        self._lines: list[_Line] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        theme.notifier().theme_changed.connect(self.updateGeometry)

    def refresh(self, report: Report) -> None:
        """Show what a report says; nothing happens when it says the same."""
        said = spoken(report)
        if said == self._said:
            return
        self._said = said
        for line in self._lines:
            self._column.removeWidget(line)
            line.deleteLater()
        self._lines = [_Line(answer, sentence, self) for answer, sentence in said]
        for line in self._lines:
            self._column.addWidget(line)
        self.setAccessibleName(" ".join(sentence for _, sentence in said))
