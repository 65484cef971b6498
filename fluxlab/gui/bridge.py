"""The bench: the one value being worked on, its report, where it is kept, and the signals that tell the views."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal

from fluxlab.design.decimal_mark import with_marks
from fluxlab.design.document import Document
from fluxlab.design.recipe import Recipe, Work
from fluxlab.design.report_types import Report
from fluxlab.gui.widgets.fields import decimal_mark

if TYPE_CHECKING:
    from fluxlab.issue import Issue
    from fluxlab.ore.ore_types import OreType
    from fluxlab.store.library import Library

Edit = Callable[..., tuple[str, Work]]
DRAFT_MS = 600
AGAIN_MS = 5000


def _evaluate(work: Work) -> Report:
    from fluxlab.design.evaluate import evaluate

    return evaluate(work)


def _named(name: str) -> Edit:
    from fluxlab.design import edits

    found: Edit = getattr(edits, name)
    return found


class Bench(QObject):
    """What lies on the bench. Views change it with `do` and redraw on `changed`; the report is made once per change.

    `kept` tells that what is saved changed (a revision, a draft, another recipe), `refused` carries a sentence that
    the operator should see; what the disk refuses comes that way too and never as an exception.

    While a point or a line is dragged, `try_out` shows the work as it would be; `do` makes it one step of the history
    and `drop_trial` goes back to what was there.
    """

    changed = Signal()
    kept = Signal()
    refused = Signal(str)

    def __init__(
        self,
        work: Work,
        parent: QObject | None = None,
        evaluate: Callable[[Work], Report] = _evaluate,
        saved: Work | None = None,
        library: "Library | None" = None,
        revision: int | None = None,
    ) -> None:
        super().__init__(parent)
        self._evaluate = evaluate
        self.library = library
        self.revision = revision
        self.document = Document(work, saved)
        self._report: Report | None = None
        self._trial: Work | None = None
        self._kept_report: tuple[Work, Report] | None = None
        self._shelf = work.shelf
        self._drafted: Work | None = work
        self.draft_problem = ""
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self.changed)
        self._draft_timer = QTimer(self, singleShot=True, interval=DRAFT_MS)
        self._draft_timer.timeout.connect(self.keep_draft)

    # -- the present value ----------------------------------------------------------------------------------------

    @property
    def work(self) -> Work:
        """The present value, or the one being tried."""
        return self.document.work if self._trial is None else self._trial

    @property
    def report(self) -> Report:
        """The report of the present value."""
        if self._report is None:
            self._report = with_marks(self._evaluate(self.work), decimal_mark())
        return self._report

    @property
    def saved_report(self) -> Report | None:
        """The report of the saved revision where the work differs from it; made once for each save, when asked for."""
        saved = self.document.saved
        if saved is None or saved.recipe == self.work.recipe:
            return None
        if self._kept_report is None or self._kept_report[0] is not saved:
            self._kept_report = saved, with_marks(self._evaluate(saved), decimal_mark())
        return self._kept_report[1]

    @property
    def melts_on_record(self) -> int:
        """How many melts of the ore type on the bench are on record; 0 where the library cannot tell."""
        from fluxlab.store.problem import StoreProblem

        try:
            return 0 if self.library is None else self.library.melt_count(self.work.recipe.ore.uid)
        except StoreProblem:
            return 0

    def tell_again(self) -> None:
        """Make the report anew, as its words change with the decimal mark."""
        self._report = self._kept_report = None

    def do(self, edit: Edit | str, *arguments: Any) -> str | None:
        """Apply an edit of design.edits, given or by name; the label of the new step, None if nothing changed."""
        self.drop_trial()
        apply = _named(edit) if isinstance(edit, str) else edit
        label, work = apply(self.work, *arguments)
        if not self.document.apply(label, work):
            return None
        self._touch()
        return label

    def try_out(self, edit: Edit | str, *arguments: Any) -> None:
        """Show what an edit would make of the present value; the history and the draft do not hear of it."""
        apply = _named(edit) if isinstance(edit, str) else edit
        _, work = apply(self.document.work, *arguments)
        if work != self.work:
            self._trial = work
            self._tell()

    def drop_trial(self) -> None:
        """Show the present value again."""
        if self._trial is not None:
            self._trial = None
            self._tell()

    def undo(self) -> str | None:
        """Take the last step back; its label."""
        self.drop_trial()
        label = self.document.undo()
        if label is not None:
            self._touch()
        return label

    def redo(self) -> str | None:
        """Take an undone step again; its label."""
        self.drop_trial()
        label = self.document.redo()
        if label is not None:
            self._touch()
        return label

    def flush(self) -> None:
        """Tell the views now what they would be told at the next turn of the event loop."""
        if self._soon.isActive():
            self._soon.stop()
            self.changed.emit()

    def _tell(self) -> None:
        self._report = None
        self._soon.start()

    def _touch(self) -> None:
        self._tell()
        if self.library is not None and not self._draft_timer.isActive():
            self._draft_timer.start(DRAFT_MS)

    # -- keeping --------------------------------------------------------------------------------------------------

    def keep_draft(self) -> bool:
        """Put what is unsaved into the library as this window's draft; False if the disk refused."""
        self._draft_timer.stop()
        library, work = self.library, self.document.work
        if library is None or library.read_only:
            return library is None
        if not self._try(lambda: self._keep_draft(work), quiet=bool(self.draft_problem)):
            self._draft_timer.start(AGAIN_MS)
            return False
        if self.draft_problem:
            self.draft_problem = ""
            self.kept.emit()
        return True

    def _keep_draft(self, work: Work) -> None:
        assert self.library is not None
        if work.shelf != self._shelf:
            self.library.save_shelf(work.shelf, since=self._shelf)
            self._shelf = work.shelf
        if work == self._drafted:
            return
        if self.document.dirty:
            self.library.save_draft(work, base=self.revision)
        else:
            self.library.drop_draft(work.recipe.uid)
        self._drafted = work

    def _try(self, keep: Callable[[], object], quiet: bool = False) -> bool:
        """Do something on the disk; a refusal becomes a sentence."""
        from fluxlab.store.problem import StoreProblem

        try:
            keep()
        except StoreProblem as problem:
            self.draft_problem = problem.sentence
            if not quiet:
                self.refused.emit(problem.sentence)
            self.kept.emit()
            return False
        return True

    def look_around(self) -> None:
        """Tell the views when another window has changed what the library holds."""
        library = self.library
        seen: list[bool] = []
        if library is not None and self._said(lambda: seen.append(library.changed_elsewhere())) and seen[0]:
            self.kept.emit()

    def save(self, note: str = "", over: bool = False) -> bool:
        """Keep the recipe as its next revision; `over` keeps it also when another window was first."""
        from fluxlab.store.problem import ChangedElsewhere, StoreProblem

        if self.library is None:
            self.refused.emit("There is no library open. Export the recipe to a file instead.")
            return False
        self.drop_trial()
        work = self.work
        try:
            kept = self.library.save_revision(work, note, base=None if over else self.revision)
        except ChangedElsewhere as problem:
            self.refused.emit(problem.sentence)
            return False
        except StoreProblem as problem:
            self.refused.emit(f"{problem.sentence} The recipe is still here, unsaved.")
            return False
        self.revision = kept.number
        self.document.mark_saved()
        self._drafted = work
        self.keep_draft()
        self.kept.emit()
        return True

    # -- other work -----------------------------------------------------------------------------------------------

    def lay_out(
        self, work: Work, saved: Work | None = None, revision: int | None = None, issues: "tuple[Issue, ...]" = ()
    ) -> None:
        """Put another work on the bench, with a history of its own; the draft of the one before is kept first."""
        self.keep_draft()
        self._trial = None
        self.document = Document(work, saved)
        self.revision = revision
        self._shelf, self._drafted = work.shelf, saved
        self._touch()
        self.kept.emit()
        for issue in issues:
            self.refused.emit(f"{issue.sentence} {issue.remedy}".strip())

    def open_recipe(self, recipe: str, revision: int | None = None) -> bool:
        """Open a recipe of the library: its draft where this window may go on with one, else the kept revision."""
        if self.library is None or not self.keep_draft():
            return False
        return self._try(lambda: self._open(recipe, revision))

    def _open(self, recipe: str, revision: int | None) -> None:
        assert self.library is not None
        from fluxlab.store.shelves import on_shelf

        library, shelf = self.library, self.work.shelf
        kept = library.load(recipe, revision, today=shelf) if library.has(recipe) else None
        draft = library.load_draft(recipe) if revision is None else None
        if draft is not None:
            work, moved = on_shelf(draft.work.recipe, draft.work.shelf, shelf)
            self.lay_out(work, None if kept is None else kept.work, draft.revision, moved)
        elif kept is not None:
            self.lay_out(kept.work, kept.work, kept.revision, kept.issues)

    def new_recipe(self, ore: "OreType") -> None:
        """Begin a recipe for an ore type."""
        from fluxlab.design.start import new_recipe

        shelf = self.work.shelf
        self.lay_out(Work(new_recipe(ore, shelf), shelf))

    def duplicate(self) -> None:
        """Go on with a copy of the recipe; the one it came from stays as it is."""
        from fluxlab.design.start import new_id

        work = self.work
        copy: Recipe = replace(work.recipe, uid=new_id(), name=f"{work.recipe.name} (copy)")
        self.lay_out(Work(copy, work.shelf))

    def export_to(self, path: Path) -> bool:
        """Write the recipe as one file that holds all it needs."""
        from fluxlab.store.document import recipe_text
        from fluxlab.store.files import write_atomic

        return self._said(lambda: write_atomic(path, recipe_text(self.work), "export the recipe to"))

    def import_from(self, path: Path) -> bool:
        """Lay out the recipe of a file; what it needs of fluxes and vessels goes on the shelf."""
        from fluxlab.store.document import read_work
        from fluxlab.store.files import read_text
        from fluxlab.store.shelves import on_shelf

        texts: list[str] = []
        if not self._said(lambda: texts.append(read_text(path))):
            return False
        read = read_work(texts[0])
        if read.value is None:
            self.refused.emit(" ".join(f"{i.sentence} {i.remedy}".strip() for i in read.issues[:3]))
            return False
        work, issues = read.value, read.issues
        if self.library is not None:
            work, taken = self.library.take_in(work)
            issues = (*issues, *taken)
        laid, moved = on_shelf(work.recipe, work.shelf, self.work.shelf)
        self.lay_out(laid, issues=(*issues, *moved))
        return True

    def back_up(self, folder: Path) -> Path | None:
        """Copy the library into a folder; where the copy is."""
        library = self.library
        if library is None:
            return None
        made: list[Path] = []
        self.keep_draft()
        return made[0] if self._said(lambda: made.append(library.back_up(folder))) else None

    def _said(self, work: Callable[[], object]) -> bool:
        """Do something on the disk; a refusal becomes a sentence and changes nothing here."""
        from fluxlab.store.problem import StoreProblem

        try:
            work()
        except StoreProblem as problem:
            self.refused.emit(problem.sentence)
            return False
        return True

    # -- words ----------------------------------------------------------------------------------------------------

    @property
    def title(self) -> tuple[str, str, str]:
        """The ore type, the plan, and how it is kept, in words."""
        recipe = self.work.recipe
        ore = ", ".join(part for part in (recipe.ore.group, recipe.ore.name) if part) or "Ore without a name"
        plan = recipe.name
        charge = f"{recipe.charge:.10g} g"
        if charge not in plan:
            plan = f"{plan} · {charge}" if plan else f"{recipe.route}, {charge}"
        return ore, plan, self.status

    @property
    def status(self) -> str:
        """How the recipe is kept, in words."""
        if self.draft_problem:
            return "not kept on disk"
        if self.library is not None and self.library.read_only:
            return "library open for reading only"
        if self.library is not None and self.library.path is None:
            return "kept in this window only: export it"
        if self.revision is None:
            return "not saved yet, draft kept"
        return f"revision {self.revision} · {'edited' if self.document.dirty else 'all kept'}"

    @property
    def save_words(self) -> str:
        """What the save button says, "" when there is nothing to save."""
        if self.library is None or self.library.read_only or not self.document.dirty:
            return ""
        return f"Save as revision {(self.revision or 0) + 1}"
