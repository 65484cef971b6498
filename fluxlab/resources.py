"""The one finder and reader of packaged files (tables, texts, icons).

The files stand in `resources/` of a checkout (also seen by an editable install) and in `fluxlab/_data`, beside this
module, in a wheel and in a frozen program. What is read is kept; a missing or broken file is our own fault and raises.
"""

import csv
from functools import cache
from pathlib import Path
from typing import Any


@cache
def root() -> Path:
    """The folder that holds the packaged files."""
    here = Path(__file__).resolve().parent
    for folder in (here / "_data", here.parent / "resources"):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"fluxlab's own files are missing: neither _data nor resources stands beside {here}")


def path(name: str) -> Path:
    """Where the packaged file `name` ("fonts/B612-Regular.ttf") stands; raises FileNotFoundError when it does not."""
    found = root() / name
    if not found.exists():
        raise FileNotFoundError(f"fluxlab's own file {name} is missing from {root()}")
    return found


@cache
def text(name: str) -> str:
    """The packaged text `name`."""
    return path(name).read_text(encoding="utf-8")


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of the packaged CSV table `name`, each by its column titles; to be read, not changed."""
    rows = csv.DictReader(text(name).splitlines(), strict=True)
    return tuple({title: (value or "").strip() for title, value in row.items()} for row in rows)


@cache
def toml(name: str) -> dict[str, Any]:
    """The packaged TOML document `name`; to be read, not changed."""
    import tomllib

    return tomllib.loads(text(name))


@cache
def json(name: str) -> Any:
    """The packaged JSON document `name`; to be read, not changed."""
    from json import loads

    return loads(text(name))
