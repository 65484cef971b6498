"""Who has a library open: one locked file per window beside it. The system drops the lock when the program dies."""

import os
import sys
from pathlib import Path
from typing import IO

_ENDING = ".open"


class Session:
    """This window's mark on a library; `token` names its drafts."""

    def __init__(self, library: Path | None) -> None:
        self.token = os.urandom(8).hex()
        self._path = None if library is None else _path_of(library, self.token)
        self._file: IO[bytes] | None = None
        if self._path is not None:
            self._file = open(self._path, "ab")  # noqa: SIM115 (held open as long as the window)
            _lock(self._file)

    def close(self) -> None:
        """Take the mark away."""
        if self._file is not None and self._path is not None:
            self._file.close()
            self._file = None
            _remove(self._path)


def is_open(library: Path | None, token: str) -> bool:
    """Whether a window with this token has the library open. In doubt it has not: a draft is rather offered twice."""
    if library is None:
        return False
    try:
        with open(_path_of(library, token), "r+b") as file:
            return not _lock(file)
    except PermissionError:
        return sys.platform == "win32"
    except OSError:
        return False


def clear_dead(library: Path) -> bool:
    """Remove the marks of windows that died; True if there were any, so that the library wants checking."""
    dead = [
        path
        for path in library.parent.glob(f"{_escaped(library.name)}.*{_ENDING}")
        if not is_open(library, path.name.removesuffix(_ENDING).rpartition(".")[2])
    ]
    for path in dead:
        _remove(path)
    return bool(dead)


def _path_of(library: Path, token: str) -> Path:
    return library.with_name(f"{library.name}.{token}{_ENDING}")


def _escaped(name: str) -> str:
    return "".join(f"[{c}]" if c in "*?[" else c for c in name)


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except OSError:
        # Still held, or the folder is write-protected by now: the next start clears it.
        return


if sys.platform == "win32":
    import msvcrt

    def _lock(file: IO[bytes]) -> bool:
        try:
            os.lseek(file.fileno(), 0, os.SEEK_SET)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import errno
    import fcntl

    def _lock(file: IO[bytes]) -> bool:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as fault:
            # A file system without locks cannot tell; then nobody counts as there.
            return fault.errno not in (errno.EWOULDBLOCK, errno.EACCES)
        return True
