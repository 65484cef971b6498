"""Files written whole or not at all, and read with a sentence for whatever is wrong with them."""

import os
import time
from pathlib import Path

from fluxlab.store.problem import StoreProblem, of_os

SIZE_LIMIT = 16_000_000  # bytes; a recipe takes some ten thousand

_WAITS = (0.02, 0.04, 0.08, 0.16, 0.32)  # s: sync clients and virus scanners hold a new file for some tens of ms


def write_atomic(path: Path, content: str | bytes, doing: str = "save") -> None:
    """Put `content` in the file `path`: all of it, or the old file stays. Raises StoreProblem."""
    data = content.encode("utf-8") if isinstance(content, str) else content
    try:
        # A link stays a link: what it points to is replaced.
        target = path.resolve()
        temporary = target.with_name(f".{target.name[:60]}.{os.urandom(4).hex()}.part")
        try:
            _write_synced(temporary, data, _mode_of(target))
            replace_file(temporary, target)
        except BaseException:
            temporary.unlink(missing_ok=True)
            raise
        sync_folder(target.parent)
    except OSError as fault:
        raise of_os(fault, doing, path) from fault


def read_text(path: Path, doing: str = "read") -> str:
    """The text of the file `path`. Raises StoreProblem, also when it is too large or not UTF-8 text."""
    try:
        with open(path, "rb") as file:
            data = file.read(SIZE_LIMIT + 1)
    except OSError as fault:
        raise of_os(fault, doing, path) from fault
    if len(data) > SIZE_LIMIT:
        raise StoreProblem(
            f"Cannot {doing} {path}: it is larger than {SIZE_LIMIT // 1_000_000} MB. Choose another file."
        )
    return text_of(data, str(path), doing)


def text_of(data: bytes, name: str, doing: str = "read") -> str:
    """The text that bytes hold; a byte order mark is dropped. Raises StoreProblem when they are not UTF-8."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise StoreProblem(
            f"Cannot {doing} {name}: it is not UTF-8 text. Choose a file that fluxlab exported."
        ) from fault


def sync_file(path: Path) -> None:
    """Make what a file holds survive a power cut."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sync_folder(folder: Path) -> None:
    """Make the names in a folder survive a power cut, where the system can do it."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:
        # Some network file systems cannot; the file itself is already safe.
        pass
    finally:
        os.close(handle)


def _mode_of(target: Path) -> int:
    try:
        return target.stat().st_mode & 0o777
    except FileNotFoundError:
        return 0o666


def _write_synced(path: Path, data: bytes, mode: int) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def replace_file(source: Path, target: Path) -> None:
    """Put a file in the place of another, trying again while a scanner or a sync client holds it."""
    for wait in _WAITS:
        try:
            os.replace(source, target)
        except PermissionError:
            time.sleep(wait)
        else:
            return
    os.replace(source, target)
