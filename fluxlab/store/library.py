"""The library: one file with ore types, recipes and all their revisions, drafts, the shelf, tickets and melts."""

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from types import TracebackType

from fluxlab.store.backup import copy_to
from fluxlab.store.database import Database
from fluxlab.store.drafts import Drafts
from fluxlab.store.melts import Melts
from fluxlab.store.migrations import STEPS, Step
from fluxlab.store.problem import StoreProblem, of_os
from fluxlab.store.recipes import Recipes
from fluxlab.store.schema import refuse_foreign, upgrade
from fluxlab.store.session import Session, clear_dead
from fluxlab.store.tickets import Tickets


class Library(Recipes, Drafts, Tickets, Melts):
    """An open library. `notices` are sentences about its opening that the operator should see.

    Whatever the disk refuses raises StoreProblem, and what was kept stays as it was.
    """

    def __init__(self, database: Database, session: Session, notices: Sequence[str] = ()) -> None:
        super().__init__(database, session)
        self.notices = tuple(notices)
        self._seen = self._data_version()

    @classmethod
    def open(cls, path: Path, *, steps: Sequence[Step] = STEPS) -> "Library":
        """Open the library at `path`; a new one is made where there is none.

        A file of a newer fluxlab or of another program is refused and left untouched. An older one is backed up beside
        itself and brought up to date. Where nothing can be written it is opened for reading. Raises StoreProblem.
        """
        _make_folder(path.parent)
        refuse_foreign(path, len(steps))
        database = Database(path)
        try:
            if not database.is_writable():
                return cls._open_for_reading(database, path, len(steps))
            return cls._open_for_writing(database, path, steps)
        except BaseException:
            database.close()
            raise

    @classmethod
    def in_memory(cls, notice: str = "") -> "Library":
        """A library that is forgotten when the program ends, for when no folder will have one."""
        database = Database(None)
        upgrade(database)
        return cls(database, Session(None), (notice,) if notice else ())

    @property
    def path(self) -> Path | None:
        """The file of the library, None in memory."""
        return self._db.path

    @property
    def read_only(self) -> bool:
        """Whether nothing can be saved here."""
        return self._db.read_only

    def changed_elsewhere(self) -> bool:
        """Whether another window or program has changed the library since this was last asked."""
        before, self._seen = self._seen, self._data_version()
        return before != self._seen

    def back_up(self, folder: Path) -> Path:
        """Copy the whole library into a folder under a name with date and time; the path of the copy."""
        name = f"fluxlab-library-{datetime.now().strftime('%Y%m%d-%H%M%S')}.sqlite"
        return copy_to(self._db, folder / name)

    def meta(self, key: str) -> str:
        """A small fact kept with the library, "" if it is not there."""
        row = self._db.one("SELECT value FROM meta WHERE key = ?", (key,))
        return "" if row is None else str(row[0])

    def set_meta(self, key: str, value: str) -> None:
        """Keep a small fact with the library."""
        with self._db.writing("keep a setting of the library") as connection:
            connection.execute("INSERT OR REPLACE INTO meta (key, value) VALUES (?, ?)", (key, value))

    def close(self) -> None:
        """Close the library; drafts stay for the next start."""
        self._db.close()
        self._session.close()

    def __enter__(self) -> "Library":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @classmethod
    def _open_for_writing(cls, database: Database, path: Path, steps: Sequence[Step]) -> "Library":
        try:
            died = clear_dead(path)
            session = Session(path)
        except OSError as fault:
            raise of_os(fault, "open the library beside", path) from fault
        try:
            if died and (damage := database.check()):
                raise StoreProblem(
                    f"The library is damaged ({damage}): {path}. "
                    "Set the file aside and put the latest back-up in its place; the damaged file was left as it is."
                )
            backup = upgrade(database, steps)
        except BaseException:
            session.close()
            raise
        said = f"The library was brought up to date. The old one is kept at {backup}."
        return cls(database, session, (said,) if backup else ())

    @classmethod
    def _open_for_reading(cls, database: Database, path: Path, newest: int) -> "Library":
        database.close()
        reading = Database(path, read_only=True)
        try:
            if reading.version < newest:
                raise StoreProblem(
                    f"The library is of an older version and cannot be brought up to date where it is ({path}): "
                    "the folder is write-protected or full. Free it, or copy the library to another folder."
                )
        except BaseException:
            reading.close()
            raise
        said = (
            f"The library is open for reading only: its folder is write-protected or full ({path}). "
            "What you change can be exported, but not saved here."
        )
        return cls(reading, Session(None), (said,))

    def _data_version(self) -> int:
        return int(self._db.one("PRAGMA data_version")[0])


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise of_os(fault, "make the library in", folder) from fault
