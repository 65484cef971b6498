"""What the solver has to say: what gave way, what holds the flux up, and the recipe without the wish."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from fluxlab.design.report_types import Answer, Report, TargetReport
from fluxlab.gui import theme
from fluxlab.gui.flux.targets_model import limit_words
from fluxlab.gui.widgets import text as type_
from fluxlab.gui.widgets.fields import show_number
from fluxlab.gui.widgets.glyph import draw_button_glyph
from fluxlab.issue import Severity

LEADING, GAP, INDENT, LEAST = 17, 5, 22, 200
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
    figure = limit_words(target, target.lo if low else target.hi)
    return f"at {'least' if low else 'most'} {figure} {target.unit}".rstrip()


def _without_wish(report: Report) -> str:
    """The recipe that the flux-to-ore wish leaves out of sight."""
    mass = report.flux_mass_without_wish
    if mass is None or abs(mass - report.flux_mass) < 0.5 * report.work.shelf.balance_step:
        return ""
    holds = f"; then {report.without_wish} holds it" if report.without_wish else ""
    return f"Without the wish for flux to ore: {show_number(mass, 1)} g{holds}."


_GLYPHS: dict[str, Answer] = {"no": "no", "close": "close"}


class SolverWords(QWidget):
    """The sentences, the ones that ask for attention first. Drawn as one part: they change with almost every edit."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.said: list[tuple[str, str]] = []
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        theme.notifier().theme_changed.connect(self._redress)

    def _redress(self) -> None:
        self.updateGeometry()
        self.update()

    def refresh(self, report: Report) -> None:
        """Show what a report says; nothing happens when it says the same."""
        said = spoken(report)
        if said == self.said:
            return
        before = self.heightForWidth(self.width())
        self.said = said
        self.setAccessibleName(" ".join(sentence for _, sentence in said))
        if self.heightForWidth(self.width()) != before:
            self.updateGeometry()
        self.update()

    def _blocks(self, width: int) -> list[tuple[str, tuple[str, ...], float]]:
        """Answer, wrapped lines and type size of each sentence."""
        indent = theme.scaled(INDENT)
        return [
            (answer, type_.lines(sentence, 13, width - indent), 13.0)
            if answer
            else ("", type_.lines(sentence, 12, width), 12.0)
            for answer, sentence in self.said
        ]

    def hasHeightForWidth(self) -> bool:
        """Narrower means taller."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Height of all sentences [px]."""
        return sum(len(lines) * theme.scaled(LEADING) + theme.scaled(GAP) for _, lines, _ in self._blocks(width))

    def sizeHint(self) -> QSize:
        """As tall as the sentences at the present width."""
        wide = max(self.width(), theme.scaled(LEAST))
        return QSize(wide, self.heightForWidth(wide))

    def minimumSizeHint(self) -> QSize:
        """Wide enough for its longest words."""
        return QSize(theme.scaled(LEAST), theme.scaled(LEADING))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Write the sentences, a glyph before those that ask for attention."""
        painter = QPainter(self)
        t = theme.tokens()
        leading = theme.scaled(LEADING)
        top = 0.0
        for answer, lines, size in self._blocks(self.width()):
            colour = {"no": t.no, "close": t.close}.get(answer, t.ink2)
            if answer:
                size_px = theme.scaled(13)
                draw_button_glyph(painter, QRectF(0, top + 3, size_px, size_px), _GLYPHS[answer], t)
            left = theme.scaled(INDENT) if answer else 0
            type_.paragraph(painter, left, top + theme.scaled(13), lines, size, colour, leading)
            top += len(lines) * leading + theme.scaled(GAP)
