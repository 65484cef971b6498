"""An open recipe: its present value, its history, and what of it is saved."""

from fluxlab.design.history import History
from fluxlab.design.recipe import Work


class Document:
    """The work on the bench. It knows nothing of windows or files; the owner asks after each call."""

    def __init__(self, work: Work, saved: Work | None = None) -> None:
        self._history = History(work)
        self.saved = saved

    @property
    def work(self) -> Work:
        """The present value."""
        return self._history.now

    def apply(self, label: str, work: Work) -> bool:
        """Make `work` the present as one undo step; False if it equals the present and nothing happens."""
        if work == self._history.now:
            return False
        self._history.push(label, work)
        return True

    def undo(self) -> str | None:
        """Take the last step back; its label, None if there is none."""
        return self._history.undo()

    def redo(self) -> str | None:
        """Take an undone step again; its label, None if there is none."""
        return self._history.redo()

    @property
    def undo_label(self) -> str | None:
        """Label of the step that undo would take back."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str | None:
        """Label of the step that redo would take again."""
        return self._history.redo_label

    @property
    def dirty(self) -> bool:
        """Whether the recipe differs from the saved one. The shelf is kept by itself and does not count."""
        return self.saved is None or self.saved.recipe != self.work.recipe

    def mark_saved(self) -> None:
        """Remember the present value as the saved one."""
        self.saved = self.work
