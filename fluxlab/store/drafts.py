"""Drafts: the unsaved state of each open recipe, one per window, so that nothing typed is lost."""

from typing import Literal

from fluxlab.design.recipe import Work
from fluxlab.store import document
from fluxlab.store.part import Part, clean, moment, now_text, sound
from fluxlab.store.problem import StoreProblem
from fluxlab.store.rows import DraftRow, Loaded
from fluxlab.store.session import is_open


class Drafts(Part):
    """The drafts of this window, and those that others left."""

    def save_draft(self, work: Work, base: int | None = None) -> None:
        """Keep the work as this window's draft of its recipe; `base` is the revision it comes from."""
        recipe = work.recipe
        with self._db.writing("keep the draft") as connection:
            connection.execute(
                "INSERT OR REPLACE INTO draft (recipe, session, base, ore_name, name, saved, document) "
                "VALUES (?, ?, ?, ?, ?, ?, ?)",
                (
                    recipe.uid,
                    self._session.token,
                    base,
                    clean(recipe.ore.name),
                    clean(recipe.name),
                    now_text(),
                    document.draft_text(work),
                ),
            )

    def drafts(self) -> tuple[DraftRow, ...]:
        """All drafts, the latest first, and whose they are."""
        rows = self._db.rows(
            "SELECT recipe, session, name, ore_name, base, saved FROM draft ORDER BY saved DESC, rowid DESC"
        )
        owners = {token: self._owner(token) for token in {r[1] for r in rows}}
        return tuple(DraftRow(r[0], r[1], r[2], r[3], r[4], moment(r[5]), owners[r[1]]) for r in rows)

    def load_draft(self, recipe: str, token: str | None = None) -> Loaded | None:
        """The latest draft of a recipe that this window may go on with, None if there is none.

        A draft that a closed or crashed window left becomes this window's. One that is open elsewhere is read only when
        its `token` is named, and stays with its window.
        """
        fitting = [d for d in self.drafts() if d.recipe == recipe and (token is None or d.token == token)]
        chosen = next((d for d in fitting if d.owner != "elsewhere" or token is not None), None)
        if chosen is None:
            return None
        row = self._db.one("SELECT document FROM draft WHERE recipe = ? AND session = ?", (recipe, chosen.token))
        if row is None:
            return None
        work = sound(document.read_work(row[0], ranges=False), "the draft")
        if chosen.owner == "gone" and not self._db.read_only:
            self._take_over(chosen)
        return Loaded(work, chosen.base)

    def drop_draft(self, recipe: str, token: str | None = None) -> None:
        """Drop this window's draft of a recipe, or one that a window that is gone left behind."""
        owner = self._owner(token) if token is not None else "this"
        if owner == "elsewhere":
            raise StoreProblem("Cannot drop the draft: it is open in another window. Close it there first.")
        with self._db.writing("drop the draft") as connection:
            connection.execute(
                "DELETE FROM draft WHERE recipe = ? AND session = ?", (recipe, token or self._session.token)
            )

    def _take_over(self, draft: DraftRow) -> None:
        try:
            with self._db.writing("take over the draft") as connection:
                # Where this window has a draft of its own, the other one stays beside it.
                connection.execute(
                    "UPDATE OR IGNORE draft SET session = ? WHERE recipe = ? AND session = ?",
                    (self._session.token, draft.recipe, draft.token),
                )
        except StoreProblem:
            # On a full disk the work is opened all the same; its row stays as it was left.
            return

    def _owner(self, token: str) -> Literal["this", "gone", "elsewhere"]:
        if token == self._session.token:
            return "this"
        return "elsewhere" if is_open(self._db.path, token) else "gone"
