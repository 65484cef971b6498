"""The bench: the one value being worked on, its report, and the signal that tells the views."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer, Signal

from fluxlab.design.document import Document
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report

Edit = Callable[..., tuple[str, Work]]
DRAFT_MS = 700


def _evaluate(work: Work) -> Report:
    from fluxlab.design.evaluate import evaluate

    return evaluate(work)


def _named(name: str) -> Edit:
    from fluxlab.design import edits

    found: Edit = getattr(edits, name)
    return found


class Bench(QObject):
    """What lies on the bench. Views change it with `do` and redraw on `changed`; the report is made once per change."""

    changed = Signal()
    refused = Signal(str)
    kept = Signal()

    def __init__(
        self,
        work: Work,
        parent: QObject | None = None,
        evaluate: Callable[[Work], Report] = _evaluate,
        saved: Work | None = None,
    ) -> None:
        super().__init__(parent)
        self._evaluate = evaluate
        self.document = Document(work, saved)
        self._report: Report | None = None
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._tell)

    @property
    def work(self) -> Work:
        """The present value."""
        return self.document.work

    @property
    def report(self) -> Report:
        """The report of the present value."""
        if self._report is None:
            self._report = self._evaluate(self.work)
        return self._report

    def do(self, edit: Edit | str, *arguments: Any) -> str | None:
        """Apply an edit of design.edits, given or by name; the label of the new step, None if nothing changed."""
        apply = _named(edit) if isinstance(edit, str) else edit
        label, work = apply(self.work, *arguments)
        if not self.document.apply(label, work):
            return None
        self._touch()
        return label

    def undo(self) -> str | None:
        """Take the last step back; its label."""
        label = self.document.undo()
        if label is not None:
            self._touch()
        return label

    def redo(self) -> str | None:
        """Take an undone step again; its label."""
        label = self.document.redo()
        if label is not None:
            self._touch()
        return label

    def lay_out(self, work: Work, saved: Work | None = None) -> None:
        """Put another work on the bench, with a history of its own."""
        self.document = Document(work, saved)
        self._touch()

    def flush(self) -> None:
        """Tell the views now what they would be told at the next turn of the event loop."""
        if self._soon.isActive():
            self._soon.stop()
            self._tell()

    def _touch(self) -> None:
        self._report = None
        self._soon.start()

    def _tell(self) -> None:
        self.changed.emit()
