"""Ore types and recipes: the tree, its search, and revisions that stay."""

import sqlite3
from dataclasses import replace
from typing import Any

from fluxlab.design.recipe import Shelf, Work
from fluxlab.design.start import new_id
from fluxlab.issue import Issue, note
from fluxlab.ore.ore_types import OreType
from fluxlab.store import document
from fluxlab.store.part import clean, findable, moment, now_text, pattern, sound
from fluxlab.store.problem import ChangedElsewhere, StoreProblem
from fluxlab.store.rows import Hit, Loaded, OreRow, RecipeRow, Revision
from fluxlab.store.shelf import Shelves
from fluxlab.store.shelves import on_shelf

_ORES = """
    SELECT ore.uid, ore.family, ore.name,
           (SELECT count(*) FROM recipe WHERE recipe.ore = ore.uid AND recipe.archived = 0), ore.archived
    FROM ore
"""
_RECIPES = """
    SELECT recipe.uid, recipe.ore, recipe.name, last.number, last.saved, last.note, recipe.archived
    FROM recipe JOIN revision AS last ON last.recipe = recipe.uid
        AND last.number = (SELECT max(number) FROM revision WHERE recipe = recipe.uid)
"""


class Recipes(Shelves):
    """The ore types and the recipes under them."""

    def ores(self, *, archived: bool = False) -> tuple[OreRow, ...]:
        """The ore types by group and name; the archived ones instead with `archived`."""
        rows = self._db.rows(f"{_ORES} WHERE ore.archived = ?", (int(archived),))
        return tuple(sorted((_ore_row(r) for r in rows), key=lambda o: (findable(o.group), findable(o.name), o.uid)))

    def recipes(self, ore: str, *, archived: bool = False) -> tuple[RecipeRow, ...]:
        """The recipes of an ore type by name; the archived ones instead with `archived`."""
        rows = self._db.rows(f"{_RECIPES} WHERE recipe.ore = ? AND recipe.archived = ?", (ore, int(archived)))
        return tuple(sorted((_recipe_row(r) for r in rows), key=lambda r: (findable(r.name), r.uid)))

    def search(self, text: str) -> tuple[Hit, ...]:
        """Ore types and recipes that hold every word of `text` in group, name or notes, whatever accents or case."""
        words = findable(text).split()
        if not words:
            return ()
        patterns = [pattern(word) for word in words]
        ores = {o.uid: o for o in self.ores()}
        own = " AND ".join(["finder LIKE ? ESCAPE '\\'"] * len(words))
        both = " AND ".join(["ore.finder || ' ' || recipe.finder LIKE ? ESCAPE '\\'"] * len(words))
        of_ore = {row[0] for row in self._db.rows(f"SELECT uid FROM ore WHERE archived = 0 AND {own}", patterns)}
        of_recipe = self._db.rows(
            f"{_RECIPES} JOIN ore ON ore.uid = recipe.ore WHERE recipe.archived = 0 AND ore.archived = 0 AND {both}",
            patterns,
        )
        found = sorted((_recipe_row(r) for r in of_recipe), key=lambda r: (findable(r.name), r.uid))
        hits = []
        for uid, ore in ores.items():
            hits += [Hit(ore, None)] if uid in of_ore else []
            hits += [Hit(ore, recipe) for recipe in found if recipe.ore == uid]
        return tuple(hits)

    def ore(self, uid: str) -> OreType:
        """An ore type as last kept. Raises StoreProblem when it is not there."""
        row = self._db.one("SELECT document, name, family FROM ore WHERE uid = ?", (uid,))
        if row is None:
            raise _gone("ore type")
        ore = sound(document.read_ore(row[0], ranges=False), "the ore type")
        return replace(ore, name=row[1], group=row[2])

    def save_ore(self, ore: OreType) -> None:
        """Keep an ore type by itself, without a recipe."""
        with self._db.writing("save the ore type") as connection:
            _put_ore(connection, ore)

    def save_revision(self, work: Work, note: str = "", base: int | None = None) -> Revision:
        """Keep the recipe as its next revision, under its ore type, and drop this window's draft of it.

        `base` is the revision that the work comes from: if another window kept a later one, ChangedElsewhere is raised;
        without it the work is kept as the next revision in any case. What equals the latest is not kept twice.
        """
        recipe = work.recipe
        text = document.recipe_text(work)
        with self._db.writing("save the recipe") as connection:
            last = connection.execute(
                "SELECT number, saved, note, document FROM revision WHERE recipe = ? ORDER BY number DESC LIMIT 1",
                (recipe.uid,),
            ).fetchone()
            _put_ore(connection, recipe.ore)
            _put_recipe(connection, work)
            connection.execute("DELETE FROM draft WHERE recipe = ? AND session = ?", (recipe.uid, self._session.token))
            if last is not None and last[3] == text:
                return Revision(recipe.uid, last[0], moment(last[1]), last[2])
            number = 0 if last is None else int(last[0])
            if base is not None and number > base:
                raise ChangedElsewhere(number)
            saved = now_text()
            connection.execute(
                "INSERT INTO revision (recipe, number, saved, note, document) VALUES (?, ?, ?, ?, ?)",
                (recipe.uid, number + 1, saved, clean(note), text),
            )
        return Revision(recipe.uid, number + 1, moment(saved), clean(note))

    def revisions(self, recipe: str) -> tuple[Revision, ...]:
        """The revisions of a recipe, the latest first."""
        rows = self._db.rows(
            "SELECT recipe, number, saved, note FROM revision WHERE recipe = ? ORDER BY number DESC", (recipe,)
        )
        return tuple(Revision(r[0], r[1], moment(r[2]), r[3]) for r in rows)

    def load(self, recipe: str, revision: int | None = None, *, today: Shelf | None = None) -> Loaded:
        """A recipe, its latest revision or the one asked for, on the shelf `today` (the kept one when not given).

        Names follow the tree; the rest is as kept. Raises StoreProblem when it is not there or cannot be read.
        """
        number, work, name = self._kept(recipe, revision)
        issues: tuple[Issue, ...] = ()
        ore = self.ore(work.recipe.ore.uid)
        own = replace(work.recipe.ore, name=ore.name, group=ore.group)
        if own != ore:
            issues = (
                note(
                    "ore",
                    "The ore type was changed after this recipe was kept; the recipe keeps its own description.",
                    "Take over the present description on the Ore place if it fits.",
                ),
            )
        shelf = today or self.load_shelf()
        kept = replace(work.recipe, name=name, ore=own)
        if shelf is None:
            return Loaded(Work(kept, work.shelf), number, issues)
        laid, moved = on_shelf(kept, work.shelf, shelf)
        return Loaded(laid, number, issues + moved)

    def text(self, recipe: str, revision: int | None = None) -> str:
        """The document of a revision exactly as kept, the latest when none is named."""
        row = self._document(recipe, revision)
        return str(row[1])

    def has(self, recipe: str) -> bool:
        """Whether the library holds this recipe, archived or not."""
        return self._db.one("SELECT 1 FROM recipe WHERE uid = ?", (recipe,)) is not None

    def duplicate(self, recipe: str, name: str = "") -> RecipeRow:
        """A new recipe, equal to the latest revision of this one."""
        number, work, old_name = self._kept(recipe, None)
        fresh = replace(work.recipe, uid=new_id(), name=name or f"{old_name} (copy)")
        self.save_revision(Work(replace(fresh, ore=self.ore(fresh.ore.uid)), work.shelf), f"copy of revision {number}")
        return self.recipe(fresh.uid)

    def recipe(self, uid: str) -> RecipeRow:
        """The row of a recipe, archived or not. Raises StoreProblem when it is not there."""
        row = self._db.one(f"{_RECIPES} WHERE recipe.uid = ?", (uid,))
        if row is None:
            raise _gone("recipe")
        return _recipe_row(row)

    def rename(self, recipe: str, name: str) -> None:
        """Give a recipe another name; its revisions stay as they are."""
        notes = self._kept(recipe, None)[1].recipe.notes
        self._change(
            "recipe", recipe, "rename the recipe", "name = ?, finder = ?", (clean(name), findable(clean(name), notes))
        )

    def rename_ore(self, ore: str, name: str, group: str | None = None) -> None:
        """Give an ore type another name, and move it to another group when one is given."""
        kept = self.ore(ore)
        self.save_ore(replace(kept, name=name, group=kept.group if group is None else group))

    def archive(self, recipe: str) -> None:
        """Take a recipe out of the tree; `restore` brings it back."""
        self._change("recipe", recipe, "archive the recipe", "archived = ?", (1,))

    def restore(self, recipe: str) -> None:
        """Bring an archived recipe back, and its ore type with it."""
        ore = self.recipe(recipe).ore
        self._change("recipe", recipe, "bring the recipe back", "archived = ?", (0,))
        self.restore_ore(ore)

    def archive_ore(self, ore: str) -> None:
        """Take an ore type and its recipes out of the tree; `restore_ore` brings them back."""
        self._change("ore", ore, "archive the ore type", "archived = ?", (1,))

    def restore_ore(self, ore: str) -> None:
        """Bring an archived ore type back with its recipes."""
        self._change("ore", ore, "bring the ore type back", "archived = ?", (0,))

    def take_in(self, work: Work) -> tuple[Work, tuple[Issue, ...]]:
        """An imported recipe made fit for this library: what would cover something else gets an id of its own."""
        recipe, issues = work.recipe, []
        if self.has(recipe.uid):
            recipe = replace(recipe, uid=new_id())
            issues.append(
                note("recipe", f"{recipe.name} is here already; the imported one becomes a recipe of its own.")
            )
        known = self._db.one("SELECT 1 FROM ore WHERE uid = ?", (recipe.ore.uid,)) is not None
        if known and self.ore(recipe.ore.uid) != recipe.ore:
            recipe = replace(recipe, ore=replace(recipe.ore, uid=new_id()))
            issues.append(
                note("ore", f"{recipe.ore.name} is described differently here; the imported one becomes an ore type.")
            )
        return Work(recipe, work.shelf), tuple(issues)

    def _document(self, recipe: str, revision: int | None) -> Any:
        row = self._db.one(
            "SELECT number, document FROM revision WHERE recipe = ? AND number = coalesce(?, number) "
            "ORDER BY number DESC LIMIT 1",
            (recipe, revision),
        )
        if row is None:
            raise _gone("recipe" if revision is None else "revision")
        return row

    def _kept(self, recipe: str, revision: int | None) -> tuple[int, Work, str]:
        row = self._document(recipe, revision)
        name = self._db.one("SELECT name FROM recipe WHERE uid = ?", (recipe,))[0]
        return row[0], sound(document.read_work(row[1], ranges=False), f"revision {row[0]}"), name

    def _change(self, table: str, uid: str, doing: str, changes: str, values: tuple[Any, ...]) -> None:
        with self._db.writing(doing) as connection:
            if connection.execute(f"UPDATE {table} SET {changes} WHERE uid = ?", (*values, uid)).rowcount == 0:
                raise _gone("ore type" if table == "ore" else "recipe")


def _put_ore(connection: sqlite3.Connection, ore: OreType) -> None:
    group, name, text = clean(ore.group), clean(ore.name), document.ore_text(ore)
    connection.execute(
        """
        INSERT INTO ore (uid, family, name, finder, changed, document) VALUES (?, ?, ?, ?, ?, ?)
        ON CONFLICT (uid) DO UPDATE SET family = excluded.family, name = excluded.name, finder = excluded.finder,
            changed = CASE document WHEN excluded.document THEN changed ELSE excluded.changed END,
            document = excluded.document, archived = 0
        """,
        (ore.uid, group, name, findable(group, name, ore.notes), now_text(), text),
    )


def _put_recipe(connection: sqlite3.Connection, work: Work) -> None:
    recipe = work.recipe
    connection.execute(
        """
        INSERT INTO recipe (uid, ore, name, finder, made) VALUES (?, ?, ?, ?, ?)
        ON CONFLICT (uid) DO UPDATE SET ore = excluded.ore, name = excluded.name, finder = excluded.finder, archived = 0
        """,
        (recipe.uid, recipe.ore.uid, clean(recipe.name), findable(recipe.name, recipe.notes), now_text()),
    )


def _ore_row(row: Any) -> OreRow:
    return OreRow(row[0], row[1], row[2], row[3], bool(row[4]))


def _recipe_row(row: Any) -> RecipeRow:
    return RecipeRow(row[0], row[1], row[2], row[3], moment(row[4]), row[5], bool(row[6]))


def _gone(what: str) -> StoreProblem:
    return StoreProblem(f"The {what} is not in this library. Look it up in the list again.")
