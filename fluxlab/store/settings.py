"""How the window was left, in one small JSON file. A bad setting costs a log line, never the start."""

import json
import logging
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Literal

from fluxlab.store.codec import CODEC
from fluxlab.store.document import parse
from fluxlab.store.files import read_text, write_atomic
from fluxlab.store.problem import StoreProblem
from fluxlab.store.reader import hints

_log = logging.getLogger("fluxlab.settings")


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings.

    `geometry` and `layout` are what the toolkit gives of the window, in base 64. `text_size` [%]. `paper` is the key of
    the ticket's paper, "" = by the country; `decimals` the decimal mark, "auto" = by the system. `folded` are the parts
    left folded, `views` small states by the name of a view. `library` is the path of a library kept elsewhere, "" = the
    usual place.
    """

    geometry: str = ""
    layout: str = ""
    theme: Literal["system", "light", "dark"] = "system"
    text_size: Literal[100, 115, 130] = 100
    place: str = "flux"
    last_recipe: str = ""
    paper: str = ""
    decimals: Literal["auto", "comma", "point"] = "auto"
    folded: frozenset[str] = frozenset()
    views: tuple[tuple[str, str], ...] = ()
    library: str = ""
    back_up_folder: str = ""

    def view(self, name: str) -> str:
        """The state that a view left, "" if it left none."""
        return dict(self.views).get(name, "")


def load(path: Path) -> Settings:
    """The settings in a file; whatever is missing or wrong has its default."""
    try:
        text = read_text(path)
    except StoreProblem as problem:
        # No file is the rule at the first start and not worth a word.
        if path.exists():
            _log.warning("%s The settings start afresh.", problem.sentence)
        return Settings()
    plain = parse(text)
    if not isinstance(plain.value, dict):
        sentence = plain.issues[0].sentence if plain.issues else "It holds no settings."
        _log.warning("%s: %s The settings start afresh.", path, sentence)
        return Settings()
    return Settings(**_sound(plain.value, path))


def save(path: Path, settings: Settings) -> bool:
    """Keep the settings; False, with a log line, when the disk refuses."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_atomic(
            path, json.dumps(CODEC.plain(settings), ensure_ascii=False, indent=1) + "\n", "keep the settings in"
        )
    except (StoreProblem, OSError) as problem:
        _log.warning("%s", problem)
        return False
    return True


def _sound(plain: dict[str, Any], path: Path) -> dict[str, Any]:
    found = {}
    for field in fields(Settings):
        if field.name not in plain:
            continue
        read = CODEC.value(hints(Settings)[field.name], plain[field.name], field.name)
        if read.issues:
            _log.warning("%s: %s It has its default.", path, read.issues[0].sentence)
        else:
            found[field.name] = read.value
    return found
