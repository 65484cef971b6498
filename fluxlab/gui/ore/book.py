"""The ore types and recipes of the library, with the one on the bench, and what can be done with them."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.tree import Group, OreEntry, RecipeEntry, grouped
from fluxlab.ore.ore_types import OreType

if TYPE_CHECKING:
    from fluxlab.store.library import Library
    from fluxlab.store.rows import OreRow, RecipeRow


class Book:
    """Reads the library for the tree. What the disk refuses is said by the bench and changes nothing."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench

    @property
    def current_ore(self) -> str:
        """Id of the ore type on the bench."""
        return self._bench.work.recipe.ore.uid

    @property
    def current_recipe(self) -> str:
        """Id of the recipe on the bench."""
        return self._bench.work.recipe.uid

    def groups(self, archived: bool = False) -> tuple[Group, ...]:
        """The tree; the archived ore types and recipes instead with `archived`."""
        found: list[OreEntry] = []
        self._try(lambda library: found.extend(self._entries(library, archived)))
        return grouped(found if archived else self._with_bench(found))

    def _entries(self, library: "Library", archived: bool) -> list[OreEntry]:
        if not archived:
            return [self._entry(ore, library.recipes(ore.uid)) for ore in library.ores()]
        gone = [self._entry(ore, library.recipes(ore.uid)) for ore in library.ores(archived=True)]
        here = [self._entry(ore, library.recipes(ore.uid, archived=True)) for ore in library.ores()]
        return gone + [ore for ore in here if ore.recipes]

    def _entry(self, ore: "OreRow", recipes: "tuple[RecipeRow, ...]") -> OreEntry:
        count = len(recipes)
        words = "no recipe yet" if not count else "1 recipe" if count == 1 else f"{count} recipes"
        entries = tuple(RecipeEntry(r.uid, r.name, f"revision {r.latest}") for r in recipes)
        return OreEntry(ore.uid, ore.name, ore.group, words, entries)

    def _with_bench(self, found: list[OreEntry]) -> list[OreEntry]:
        """The entries with the ore type and recipe on the bench, kept or not, under their present names."""
        recipe = self._bench.work.recipe
        own = RecipeEntry(recipe.uid, recipe.name, self._bench.status)
        entry = next((e for e in found if e.uid == recipe.ore.uid), OreEntry(recipe.ore.uid, "", note="not saved yet"))
        recipes = tuple(own if r.uid == own.uid else r for r in entry.recipes)
        if own not in recipes:
            recipes = (*recipes, own)
        entry = replace(entry, name=recipe.ore.name, group=recipe.ore.group, recipes=recipes)
        return [entry if e.uid == entry.uid else e for e in found] + ([] if self._has(found, entry) else [entry])

    @staticmethod
    def _has(found: list[OreEntry], entry: OreEntry) -> bool:
        return any(e.uid == entry.uid for e in found)

    def begin(self, ore: OreType) -> None:
        """Keep a new ore type and lay out a first recipe for it."""
        self._try(lambda library: library.save_ore(ore))
        self._bench.new_recipe(ore)

    def open_ore(self, uid: str) -> None:
        """Open the recipe of an ore type that was kept last; a first one is begun where there is none."""
        if uid == self.current_ore:
            return
        self._try(lambda library: self._open_ore(library, uid))

    def _open_ore(self, library: "Library", uid: str) -> None:
        recipes = sorted(library.recipes(uid), key=lambda r: r.saved)
        if recipes:
            self._bench.open_recipe(recipes[-1].uid)
        else:
            self._bench.new_recipe(library.ore(uid))

    def open_recipe(self, uid: str) -> None:
        """Open a recipe."""
        if uid != self.current_recipe:
            self._bench.open_recipe(uid)

    def new_recipe(self, ore: str) -> None:
        """Begin another recipe for an ore type."""
        if ore == self.current_ore:
            self._bench.new_recipe(self._bench.work.recipe.ore)
        else:
            self._try(lambda library: self._bench.new_recipe(library.ore(ore)))

    def duplicate_ore(self, uid: str) -> None:
        """Begin a new ore type that is described as this one."""
        from fluxlab.design.start import new_id

        found: list[OreType] = []
        if uid == self.current_ore:
            found.append(self._bench.work.recipe.ore)
        else:
            self._try(lambda library: found.append(library.ore(uid)))
        for ore in found:
            self.begin(replace(ore, uid=new_id(), name=f"{ore.name}, copy"))

    def duplicate_recipe(self, uid: str) -> None:
        """Go on with a copy of a recipe."""
        if uid == self.current_recipe:
            self._bench.duplicate()
            return
        copies: list[str] = []
        self._try(lambda library: copies.append(library.duplicate(uid).uid))
        for copy in copies:
            self._bench.open_recipe(copy)

    def rename_ore(self, uid: str, name: str, group: str) -> None:
        """Give an ore type another name or group; the one on the bench is renamed there too, as one undo step."""
        if uid == self.current_ore:
            ore = replace(self._bench.work.recipe.ore, name=name, group=group)
            self._bench.do(edits.set_ore, ore, f"Ore type: {name}")
        self._try(lambda library: library.rename_ore(uid, name, group) if self._knows(library, uid) else None)

    def rename_recipe(self, uid: str, name: str) -> None:
        """Give a recipe another name."""
        if uid == self.current_recipe:
            self._bench.do(edits.rename_recipe, name)
        self._try(lambda library: library.rename(uid, name) if library.has(uid) else None)

    def archive_ore(self, uid: str) -> str:
        """Take an ore type out of the tree; the sentence that refuses it, empty when it is done."""
        if uid == self.current_ore:
            return "This ore type is on the bench. Open another one first, then archive it."
        self._try(lambda library: library.archive_ore(uid))
        return ""

    def archive_recipe(self, uid: str) -> str:
        """Take a recipe out of the tree; the sentence that refuses it, empty when it is done."""
        if uid == self.current_recipe:
            return "This recipe is on the bench. Open another one first, then archive it."
        self._try(lambda library: library.archive(uid))
        return ""

    def restore_ore(self, uid: str) -> None:
        """Bring an archived ore type back with its recipes."""
        self._try(lambda library: library.restore_ore(uid))

    def restore_recipe(self, uid: str) -> None:
        """Bring an archived recipe back."""
        self._try(lambda library: library.restore(uid))

    @staticmethod
    def _knows(library: "Library", uid: str) -> bool:
        return any(ore.uid == uid for archived in (False, True) for ore in library.ores(archived=archived))

    def _try(self, work: "Callable[[Library], object]") -> None:
        from fluxlab.store.problem import StoreProblem

        if self._bench.library is None:
            return
        try:
            work(self._bench.library)
        except StoreProblem as problem:
            self._bench.refused.emit(problem.sentence)
