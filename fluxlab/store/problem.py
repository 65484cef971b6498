"""What the disk refuses, as a sentence that says what to do."""

import errno
import sqlite3
from pathlib import Path


class StoreProblem(Exception):  # noqa: N818 (it is the sentence that matters)
    """The disk or the library refused. `sentence` says what happened and what to do; what was kept stays as it was."""

    def __init__(self, sentence: str) -> None:
        super().__init__(sentence)
        self.sentence = sentence


class ChangedElsewhere(StoreProblem):
    """Another window kept a newer revision of this recipe first; `latest` is its number."""

    def __init__(self, latest: int) -> None:
        super().__init__(
            f"Another window has kept revision {latest} of this recipe in the meantime. "
            f"Look at it first, then save yours as the next revision or as a new recipe."
        )
        self.latest = latest


class AlreadyCorrected(StoreProblem):
    """The entry of the melt record that was to be replaced has been replaced already."""

    def __init__(self) -> None:
        super().__init__(
            "This melt has been corrected in the meantime, perhaps in another window. "
            "Look at it as it stands now, then correct that."
        )


_BY_ERRNO = {
    errno.ENOSPC: "the disk is full. Make room on it and try again",
    errno.EDQUOT: "your share of the disk is used up. Make room and try again",
    errno.EFBIG: "the file would grow larger than is allowed here. Choose another folder",
    errno.EROFS: "the disk is write-protected. Choose another folder",
    errno.EACCES: "it may not be touched. Close other programs that hold it, check its permissions, or choose another",
    errno.EPERM: "it may not be touched. Close other programs that hold it, check its permissions, or choose another",
    errno.ENOENT: "it is not there. Check the name and the folder",
    errno.ENOTDIR: "its folder is not a folder. Check the name",
    errno.EISDIR: "it is a folder. Choose a file",
    errno.ENAMETOOLONG: "its name is too long. Choose a shorter one",
    errno.EIO: "the disk reports a fault. Keep a copy on another disk and have this one looked at",
    errno.ENODEV: "the disk is gone. Plug it in again or choose another folder",
    errno.EINVAL: "the name is not allowed here. Choose another one",
}


def of_os(fault: OSError, doing: str, path: Path) -> StoreProblem:
    """The sentence for a fault of the file system; `doing` is "save", "read" or the like."""
    words = _BY_ERRNO.get(fault.errno or 0, f"the system says “{fault.strerror or fault}”. Try another folder")
    return StoreProblem(f"Cannot {doing} {path}: {words}.")


_BY_SQLITE = {
    sqlite3.SQLITE_FULL: "the disk is full. Make room on it and try again",
    sqlite3.SQLITE_READONLY: "the library is write-protected. Export the recipe to a file elsewhere, "
    "or free the folder and start again",
    sqlite3.SQLITE_PERM: "the library may not be touched. Check the permissions of its folder",
    sqlite3.SQLITE_BUSY: "another window or program holds the library. Wait a moment and try again",
    sqlite3.SQLITE_LOCKED: "another window or program holds the library. Wait a moment and try again",
    sqlite3.SQLITE_CORRUPT: "the library is damaged. Close the program, set the file aside and put a back-up "
    "in its place",
    sqlite3.SQLITE_NOTADB: "the file is no library. Choose another file, or set this one aside",
    sqlite3.SQLITE_CANTOPEN: "the library cannot be opened. Check that its folder is there and may be written to",
    sqlite3.SQLITE_IOERR: "the disk reports a fault. Check that it is plugged in and has room, then try again",
}


def of_sqlite(fault: sqlite3.Error, doing: str, path: Path) -> StoreProblem:
    """The sentence for a fault of the library file; `doing` is "save the revision" or the like."""
    code = getattr(fault, "sqlite_errorcode", None)
    words = None if code is None else _BY_SQLITE.get(code & 0xFF)
    return StoreProblem(
        f"Cannot {doing}: {words or f'the library answers “{fault}”. Make a back-up and start again'} ({path})."
    )
