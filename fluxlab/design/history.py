"""Undo and redo as a list of values."""

from dataclasses import dataclass

from fluxlab.design.recipe import Work


@dataclass(frozen=True, slots=True)
class Step:
    """One change: its label and the value before it."""

    label: str
    before: Work


class History:
    """Steps that can be taken back and taken again, without limit."""

    def __init__(self, now: Work) -> None:
        self.now = now
        self._done: list[Step] = []
        self._undone: list[Step] = []

    def push(self, label: str, work: Work) -> None:
        """Make `work` the present; what was undone can no longer be redone."""
        self._done.append(Step(label, self.now))
        self._undone.clear()
        self.now = work

    def undo(self) -> str | None:
        """Take the last step back; its label, None if there is none."""
        if not self._done:
            return None
        step = self._done.pop()
        self._undone.append(Step(step.label, self.now))
        self.now = step.before
        return step.label

    def redo(self) -> str | None:
        """Take an undone step again; its label, None if there is none."""
        if not self._undone:
            return None
        step = self._undone.pop()
        self._done.append(Step(step.label, self.now))
        self.now = step.before
        return step.label

    @property
    def undo_label(self) -> str | None:
        """Label of the step that undo would take back."""
        return self._done[-1].label if self._done else None

    @property
    def redo_label(self) -> str | None:
        """Label of the step that redo would take again."""
        return self._undone[-1].label if self._undone else None
