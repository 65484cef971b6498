"""Whole copies of a library, made while it is open and checked before they count."""

import os
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from fluxlab.store.database import APPLICATION_ID, Database
from fluxlab.store.files import replace_file, sync_file, sync_folder
from fluxlab.store.problem import StoreProblem, of_os, of_sqlite


def copy_to(database: Database, target: Path) -> Path:
    """Copy an open library into the new file `target` and return it. Raises StoreProblem; nothing half is left."""
    doing = "back up the library"
    part = target.with_name(f".{target.name}.{os.urandom(4).hex()}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            with closing(sqlite3.connect(part, isolation_level=None)) as copy:
                database.connection.backup(copy)
                if copy.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
                    raise StoreProblem(f"Cannot {doing}: the copy does not pass its check ({target}). Try again.")
            sync_file(part)
            replace_file(part, target)
        finally:
            part.unlink(missing_ok=True)
        sync_folder(target.parent)
    except sqlite3.Error as fault:
        raise of_sqlite(fault, doing, target) from fault
    except OSError as fault:
        raise of_os(fault, doing, target) from fault
    return target


def restore(backup: Path, library: Path) -> Path | None:
    """Put a back-up in the place of a library that no window has open; where the old one was set aside, if any was.

    Raises StoreProblem.
    """
    with closing(Database(backup, read_only=True)) as source:
        if source.one("PRAGMA application_id", doing="read the back-up")[0] != APPLICATION_ID or source.check():
            raise StoreProblem(f"{backup} is no sound back-up of a fluxlab library. Choose another one.")
        stamp = datetime.now().strftime("%Y%m%d-%H%M%S")
        fresh = copy_to(source, library.with_name(f"{library.stem}-restored-{stamp}{library.suffix}"))
    aside = library.with_name(f"{library.stem}-set-aside-{stamp}{library.suffix}") if library.exists() else None
    try:
        if aside is not None:
            # A journal that a crash left belongs to the old file and would spoil the new one.
            journal = library.with_name(f"{library.name}-journal")
            if journal.exists():
                replace_file(journal, aside.with_name(f"{aside.name}-journal"))
            replace_file(library, aside)
        replace_file(fresh, library)
        sync_folder(library.parent)
    except OSError as fault:
        raise of_os(fault, "restore the library", library) from fault
    return aside
