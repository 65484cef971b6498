"""What the start opens: the library, the recipe last worked on or the demo, and what is to be said about it."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fluxlab.design.recipe import Work

if TYPE_CHECKING:
    from fluxlab.store.library import Library


@dataclass(frozen=True)
class Opened:
    """The library, the work to lay out, the kept value behind it, its revision, and sentences to show."""

    library: "Library"
    work: Work
    saved: Work | None
    revision: int | None
    notices: tuple[str, ...]


def open_library(path: Path) -> "Library":
    """The library at `path`; one in memory, with a sentence, where the disk refuses."""
    from fluxlab.store.library import Library
    from fluxlab.store.problem import StoreProblem

    try:
        return Library.open(path)
    except StoreProblem as problem:
        return Library.in_memory(
            f"{problem.sentence} This window works without it: save by Export, nothing else is kept."
        )


def open_work(library: "Library", last: str) -> Opened:
    """The recipe last worked on, with its draft; else a draft that a window left; else the demo on the shelf."""
    from fluxlab.design.start import demo_work
    from fluxlab.store.problem import StoreProblem

    said = list(library.notices)
    shelf = library.load_shelf()
    left = [draft.recipe for draft in library.drafts() if draft.owner == "gone"]
    for recipe in dict.fromkeys([last, *left]):
        if not recipe:
            continue
        try:
            found = _found(library, recipe)
        except StoreProblem as problem:
            said.append(problem.sentence)
            continue
        if found is not None:
            work, saved, revision = found
            return Opened(library, work, saved, revision, tuple(said))
    demo = demo_work()
    if shelf is None:
        if not library.read_only:
            library.save_shelf(demo.shelf)
        return Opened(library, demo, None, None, tuple(said))
    if library.has(demo.recipe.uid):
        loaded = library.load(demo.recipe.uid)
        return Opened(library, loaded.work, loaded.work, loaded.revision, tuple(said))
    return Opened(library, Work(demo.recipe, shelf), None, None, tuple(said))


def _found(library: "Library", recipe: str) -> tuple[Work, Work | None, int | None] | None:
    from fluxlab.store.shelves import on_shelf

    kept = library.load(recipe) if library.has(recipe) else None
    draft = library.load_draft(recipe)
    if draft is not None:
        work, _ = on_shelf(draft.work.recipe, draft.work.shelf, library.load_shelf() or draft.work.shelf)
        return work, None if kept is None else kept.work, draft.revision
    if kept is not None:
        return kept.work, kept.work, kept.revision
    return None
