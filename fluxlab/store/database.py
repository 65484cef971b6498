"""One SQLite file: opened, checked, written in whole transactions; every fault becomes a sentence."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from fluxlab.store.problem import StoreProblem, of_sqlite

APPLICATION_ID = 0x464C5558  # "FLUX"
PATIENCE = 3.0  # s to wait while another window writes


class Database:
    """A connection to the library file; `path` is None for one in memory."""

    def __init__(self, path: Path | None, *, read_only: bool = False) -> None:
        self.path = path
        self.read_only = read_only
        where = ":memory:" if path is None else f"{path.resolve().as_uri()}?mode={'ro' if read_only else 'rwc'}"
        try:
            self.connection = sqlite3.connect(where, uri=path is not None, timeout=PATIENCE, isolation_level=None)
        except sqlite3.Error as fault:
            raise self.problem(fault, "open the library") from fault
        try:
            with self.reading("open the library"):
                self.connection.execute("PRAGMA foreign_keys = ON")
                # EXTRA is FULL with the folder synced too once the journal is gone: else a power cut just after a save
                # could bring the journal back and with it the state before the save.
                self.connection.execute("PRAGMA synchronous = EXTRA")
        except StoreProblem:
            self.connection.close()
            raise

    @property
    def version(self) -> int:
        """The version of the schema, 0 for a new file."""
        return int(self.one("PRAGMA user_version", doing="open the library")[0])

    def problem(self, fault: sqlite3.Error, doing: str) -> StoreProblem:
        """The sentence for a fault."""
        return of_sqlite(fault, doing, self.path or Path("in memory"))

    @contextmanager
    def reading(self, doing: str) -> Iterator[sqlite3.Connection]:
        """Read; raises StoreProblem."""
        try:
            yield self.connection
        except sqlite3.Error as fault:
            raise self.problem(fault, doing) from fault

    @contextmanager
    def writing(self, doing: str) -> Iterator[sqlite3.Connection]:
        """Write: all of it or nothing, kept on the disk when the block ends. Raises StoreProblem."""
        if self.read_only:
            raise StoreProblem(
                f"Cannot {doing}: the library is open for reading only ({self.path}). "
                "Export the recipe to a file elsewhere, or free the library's folder and start again."
            )
        with self.reading(doing) as connection:
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield connection
                connection.execute("COMMIT")
            except BaseException:
                # After a full disk SQLite has already rolled back by itself.
                if connection.in_transaction:
                    connection.execute("ROLLBACK")
                raise

    def rows(self, statement: str, values: Sequence[Any] = (), *, doing: str = "read the library") -> list[Any]:
        """All rows of a query."""
        with self.reading(doing) as connection:
            return connection.execute(statement, values).fetchall()

    def one(self, statement: str, values: Sequence[Any] = (), *, doing: str = "read the library") -> Any:
        """The first row of a query, None if it has none."""
        with self.reading(doing) as connection:
            return connection.execute(statement, values).fetchone()

    def is_writable(self) -> bool:
        """Whether the disk lets us write: tried, and taken back."""
        try:
            self.connection.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as fault:
            # Another window that writes just now shows that writing is possible.
            return fault.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY
        try:
            self.connection.execute(f"PRAGMA user_version = {self.version + 1}")
        except (sqlite3.OperationalError, StoreProblem):
            return False
        finally:
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
        return True

    def check(self) -> str:
        """What the integrity check says, "" when all is well."""
        found = [str(row[0]) for row in self.rows("PRAGMA integrity_check(5)", doing="check the library")]
        return "" if found == ["ok"] else "; ".join(found)

    def close(self) -> None:
        """Close the connection."""
        self.connection.close()
