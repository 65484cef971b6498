"""Documents: the JSON text that is exported, imported and kept as a revision or a draft."""

import json
from typing import Any

from fluxlab.design.recipe import Recipe, Shelf, Work
from fluxlab.issue import Issue, error
from fluxlab.ore.ore_types import OreType
from fluxlab.store.codec import CODEC, Read
from fluxlab.store.shelves import used_shelf

FORMAT = 1
_MARK = "fluxlab"


def write(kind: str, **parts: Any) -> str:
    """The text of a document of `kind` holding plain parts."""
    return json.dumps({_MARK: FORMAT, "kind": kind, **parts}, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def recipe_text(work: Work) -> str:
    """A recipe as one self-contained document, with what it uses of the shelf."""
    return write("recipe", recipe=CODEC.plain(work.recipe), shelf=CODEC.plain(used_shelf(work)))


def draft_text(work: Work) -> str:
    """A recipe with the whole shelf as it stood beside it."""
    return write("draft", recipe=CODEC.plain(work.recipe), shelf=CODEC.plain(work.shelf))


def shelf_text(shelf: Shelf) -> str:
    """A shelf as a document."""
    return write("shelf", shelf=CODEC.plain(shelf))


def ore_text(ore: OreType) -> str:
    """An ore type as a document."""
    return write("ore", ore=CODEC.plain(ore))


def read_work(text: str, *, ranges: bool = True) -> Read[Work]:
    """The recipe and shelf of a recipe or draft document; `ranges` refuses numbers that make no sense."""
    parts = read_parts(text, ("recipe", "draft"), ("recipe", "shelf"))
    if parts.value is None:
        return Read(None, parts.issues)
    recipe = CODEC.value(Recipe, parts.value.get("recipe"), "recipe", ranges=ranges)
    shelf = CODEC.value(Shelf, parts.value.get("shelf", {}), "shelf", ranges=ranges)
    if recipe.value is None or shelf.value is None:
        return Read(None, recipe.issues + shelf.issues)
    return Read(Work(recipe.value, shelf.value))


def read_shelf(text: str, *, ranges: bool = True) -> Read[Shelf]:
    """The shelf of a shelf document."""
    parts = read_parts(text, ("shelf",), ("shelf",))
    if parts.value is None:
        return Read(None, parts.issues)
    return CODEC.value(Shelf, parts.value.get("shelf"), "shelf", ranges=ranges)


def read_ore(text: str, *, ranges: bool = True) -> Read[OreType]:
    """The ore type of an ore document."""
    parts = read_parts(text, ("ore",), ("ore",))
    if parts.value is None:
        return Read(None, parts.issues)
    return CODEC.value(OreType, parts.value.get("ore"), "ore", ranges=ranges)


def read_parts(text: str, kinds: tuple[str, ...], names: tuple[str, ...]) -> Read[dict[str, Any]]:
    """The plain parts of a document that is one of `kinds` and holds no other parts than `names`."""
    plain = parse(text)
    if plain.issues:
        return Read(None, plain.issues)
    top = plain.value
    if not isinstance(top, dict) or _MARK not in top:
        return _refused("This is no fluxlab document.", "Choose a file that fluxlab exported.")
    number = top[_MARK]
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        return _refused('The key "fluxlab" must hold the number of the format.', "Export the file again.")
    if number > FORMAT:
        return _refused(
            f"The document was made by a newer fluxlab (format {number}; this one reads up to {FORMAT}).",
            "Update the program, then open it again.",
        )
    if top.get("kind") not in kinds:
        return _refused(
            f"The document is of the kind “{str(top.get('kind'))[:40]}”, wanted is “{kinds[0]}”.",
            f"Choose a file that was exported as {kinds[0]}.",
        )
    unknown = [str(key)[:40] for key in top if key not in (_MARK, "kind", *names)]
    if unknown:
        return _refused(
            f"The document holds parts that are not known: {', '.join(unknown)}.",
            "Take them out. If a newer fluxlab wrote the file, update the program.",
        )
    return Read(top)


def parse(text: str) -> Read[Any]:
    """The plain value of a JSON text; a cut-off text, NaN, a key twice and the like are said in a sentence."""
    if not text.strip():
        return _refused("The file is empty.", "Export or copy it again.")
    try:
        return Read(json.loads(text, parse_constant=_no_constant, parse_int=_whole, object_pairs_hook=_no_doubles))
    except json.JSONDecodeError as fault:
        if fault.pos >= len(text.rstrip()) or not text.rstrip().endswith(("}", "]")):
            return _refused(
                f"The file ends too early, in line {fault.lineno}: it was cut off on its way.", "Copy it again."
            )
        return _refused(
            f"The file is no JSON text: line {fault.lineno}, column {fault.colno}.",
            "Choose a file that fluxlab exported, or correct that place.",
        )
    except RecursionError:
        return _refused("The file is nested too deep to be a fluxlab document.", "Choose another file.")
    except ValueError as fault:
        return _refused(f"The file cannot be read: {fault}.", "Correct that place, or export it again.")


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is not a number")


def _whole(digits: str) -> int:
    if len(digits) > 400:
        raise ValueError("a number has too many digits")
    return int(digits)


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"the key “{twice[:40]}” stands there twice")
    return found


def _refused(sentence: str, remedy: str) -> Read[Any]:
    issue: Issue = error("document", sentence, remedy)
    return Read(None, (issue,))
