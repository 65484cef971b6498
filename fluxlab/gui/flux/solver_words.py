"""What the solver has to say: what gave way, what holds the flux up, and the recipe without the wish."""

from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from fluxlab.design.report_types import Report, TargetReport
from fluxlab.gui import theme
from fluxlab.gui.flux.targets_model import limit_words
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.mark import Mark
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Severity

CORNER = "Least flux sits in a corner of its targets: a limit, no advice."


def spoken(report: Report) -> list[tuple[str, str]]:
    """Sentences with the answer glyph that stands before each, "" for none; what asks for attention comes first."""
    solve = report.solve
    musts = {t.sentence for t in report.targets if _breaks_a_must(t)}
    said = [("no" if sentence in musts else "close", sentence) for sentence in solve.gave_way]
    said.sort(key=lambda line: line[0] != "no")
    said += [
        ("no" if issue.severity is Severity.ERROR else "close", f"{issue.sentence} {issue.remedy}".strip())
        for issue in report.issues
        if issue.severity is not Severity.NOTE
    ]
    said += [("", sentence) for sentence in solve.sentences if sentence not in solve.gave_way]
    said += [("", sentence) for sentence in (_held(report), _without_wish(report)) if sentence]
    if report.work.recipe.goal == "least flux" and solve.status == "ok":
        said.append(("", CORNER))
    # what concerns the ore is said on its own place
    said += [
        ("", f"{issue.sentence} {issue.remedy}".strip())
        for issue in report.issues
        if issue.severity is Severity.NOTE and not issue.where.startswith("ore")
    ]
    return said


def _breaks_a_must(target: TargetReport) -> bool:
    kinds = {"below": target.lo_kind, "above": target.hi_kind}
    return target.on and kinds.get(target.state) == "must"


def _held(report: Report) -> str:
    """The targets that the recipe leans on."""
    held = [f"{t.label.lower()} {_end(t)}" for t in report.targets if t.on and t.state in ("at lo", "at hi")]
    return f"Held by {' and '.join(held)}." if held else ""


def _end(target: TargetReport) -> str:
    low = target.state == "at lo"
    return f"at {'least' if low else 'most'} {limit_words(target, target.lo if low else target.hi)}"


def _without_wish(report: Report) -> str:
    """The recipe that the flux-to-ore wish leaves out of sight."""
    mass = report.flux_mass_without_wish
    if mass is None or abs(mass - report.flux_mass) < 0.5 * report.work.shelf.balance_step:
        return ""
    holds = f"; then {report.without_wish} holds it" if report.without_wish else ""
    return f"Without the wish for flux to ore: {show_number(mass, 1)} g{holds}."


class _Line(QWidget):
    def __init__(self, answer: str, sentence: str, parent: QWidget) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 2)
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
