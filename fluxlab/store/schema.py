"""Bringing a library file to the present schema: a new one is made, an older one is backed up and migrated."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from fluxlab.store.backup import copy_to
from fluxlab.store.database import APPLICATION_ID, Database
from fluxlab.store.migrations import STEPS, Step
from fluxlab.store.problem import StoreProblem, of_os

# The file format of SQLite: what its files begin with; version and application id stand at fixed places.
_MAGIC = b"SQLite format 3\x00"
_HEAD = 100


def refuse_foreign(path: Path, newest: int = len(STEPS)) -> None:
    """Raise StoreProblem for a file of another program or of a newer fluxlab. It is only looked at, never written."""
    try:
        with open(path, "rb") as file:
            head = file.read(_HEAD)
    except FileNotFoundError:
        return
    except OSError as fault:
        raise of_os(fault, "open the library", path) from fault
    if not head:
        # A start that was cut short before anything was kept leaves an empty file.
        return
    identity, version = int.from_bytes(head[68:72], "big"), int.from_bytes(head[60:64], "big")
    if len(head) < _HEAD or not head.startswith(_MAGIC) or identity != APPLICATION_ID:
        raise StoreProblem(f"{path} is no fluxlab library. Choose another file.")
    if version > newest:
        raise StoreProblem(
            f"{path} was made by a newer fluxlab (library version {version}; this one reads up to {newest}). "
            "Update the program; the library was left untouched."
        )


def upgrade(database: Database, steps: Sequence[Step] = STEPS) -> Path | None:
    """Bring the library to the version that `steps` lead to; the path of the back-up made before, if one was needed."""
    version = database.version
    if version >= len(steps):
        return None
    backup = None
    if version > 0 and database.path is not None:
        stamp = datetime.now().strftime("%Y%m%d-%H%M%S")
        path = database.path
        backup = copy_to(database, path.with_name(f"{path.stem}-before-version-{len(steps)}-{stamp}{path.suffix}"))
    # Rebuilding a table would trip over references to it; they are checked as a whole before the commit.
    database.one("PRAGMA foreign_keys = OFF")
    try:
        with database.writing("bring the library up to date") as connection:
            # Another window may have done it while we waited.
            for number, step in enumerate(steps[database.version :], start=database.version + 1):
                step(connection)
                connection.execute(f"PRAGMA user_version = {number}")
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            if connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
                raise StoreProblem(
                    f"Cannot bring the library up to date: its parts do not fit together ({database.path}). "
                    "It was left as it was; put a back-up in its place."
                )
    finally:
        database.one("PRAGMA foreign_keys = ON")
    return backup
