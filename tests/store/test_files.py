"""Files: whole or not at all, with a sentence for what the disk refuses."""

import errno
import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest

from fluxlab.store import files
from fluxlab.store.problem import StoreProblem, of_os


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "recipe.json"
    path.write_text("old")
    return path


def own_parents(folder: Path) -> list[Path]:
    """The folders above that the tests made, however many there are."""
    return [parent for parent in folder.parents if parent.name.startswith(("pytest-", "popen-"))]


@pytest.fixture
def unprivileged(tmp_path: Path) -> Iterator[None]:
    """Without the powers of root, to whom nothing is forbidden."""
    if os.name == "nt":
        pytest.skip("needs POSIX permissions")
    root = os.geteuid() == 0
    if root:
        for folder in (tmp_path, *own_parents(tmp_path)):
            folder.chmod(0o755)
        os.seteuid(65534)
    yield
    if root:
        os.seteuid(0)


def leftovers(folder: Path) -> list[str]:
    return [p.name for p in folder.iterdir() if p.name.endswith(".part")]


def test_a_file_is_replaced_as_a_whole(old: Path) -> None:
    files.write_atomic(old, "new “text”")
    assert old.read_bytes() == "new “text”".encode()
    assert leftovers(old.parent) == []


def test_a_new_file_is_made(tmp_path: Path) -> None:
    files.write_atomic(tmp_path / "new.bin", b"\x00\r\n")
    assert (tmp_path / "new.bin").read_bytes() == b"\x00\r\n"


@pytest.mark.skipif(os.name == "nt", reason="POSIX modes and links")
def test_mode_and_link_stay(old: Path) -> None:
    old.chmod(0o640)
    link = old.with_name("link.json")
    link.symlink_to(old)
    files.write_atomic(link, "new")
    assert link.is_symlink()
    assert old.read_text() == "new"
    assert stat.S_IMODE(old.stat().st_mode) == 0o640


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "disk is full. Make room"),
        (errno.EROFS, "write-protected"),
        (errno.EIO, "reports a fault"),
        (errno.EDQUOT, "share of the disk"),
        (errno.EXDEV, "the system says"),
    ],
)
def test_a_refusal_of_the_disk_keeps_the_old_file(
    old: Path, monkeypatch: pytest.MonkeyPatch, step: str, number: int, words: str
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(f"fluxlab.store.files.os.{step}", refuse)
    with pytest.raises(StoreProblem, match=words) as caught:
        files.write_atomic(old, "new")
    assert str(old) in caught.value.sentence
    assert old.read_text() == "old"
    assert leftovers(old.parent) == []


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_a_really_full_disk_is_said_to_be_full() -> None:
    with pytest.raises(OSError) as caught:
        Path("/dev/full").write_text("x")
    assert "the disk is full" in of_os(caught.value, "save", Path("x")).sentence


def test_a_file_held_by_another_program_is_tried_again(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real, calls = os.replace, []

    def held(source: Path, target: Path) -> None:
        calls.append(target)
        if len(calls) < 4:
            raise PermissionError(errno.EACCES, "held")
        real(source, target)

    monkeypatch.setattr("fluxlab.store.files.os.replace", held)
    monkeypatch.setattr("fluxlab.store.files.time.sleep", lambda _: None)
    files.write_atomic(old, "new")
    assert len(calls) == 4
    assert old.read_text() == "new"


def test_a_file_held_for_good_ends_in_a_sentence(old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def held(*_: object) -> None:
        raise PermissionError(errno.EACCES, "held")

    monkeypatch.setattr("fluxlab.store.files.os.replace", held)
    monkeypatch.setattr("fluxlab.store.files.time.sleep", lambda _: None)
    with pytest.raises(StoreProblem, match="may not be touched"):
        files.write_atomic(old, "new")
    assert old.read_text() == "old"


def test_a_read_only_folder_is_said(old: Path, unprivileged: None) -> None:
    with pytest.raises(StoreProblem, match="may not be touched"):
        files.write_atomic(old, "new")
    assert old.read_text() == "old"


def test_a_missing_file_or_folder_is_said(tmp_path: Path) -> None:
    with pytest.raises(StoreProblem, match="it is not there"):
        files.read_text(tmp_path / "none.json")
    with pytest.raises(StoreProblem, match="it is not there"):
        files.write_atomic(tmp_path / "none" / "x.json", "x")
    with pytest.raises(StoreProblem, match=r"it is a folder|may not be touched"):
        files.read_text(tmp_path)
    (tmp_path / "f").write_text("")
    with pytest.raises(StoreProblem, match=r"not a folder|not there"):
        files.read_text(tmp_path / "f" / "x")
    with pytest.raises(StoreProblem, match="too long"):
        files.read_text(tmp_path / ("x" * 300))


def test_a_file_too_large_or_no_text_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x"
    path.write_bytes(b"\xff\xfe{\x00")
    with pytest.raises(StoreProblem, match="not UTF-8"):
        files.read_text(path)
    monkeypatch.setattr(files, "SIZE_LIMIT", 10)
    path.write_bytes(b"x" * 11)
    with pytest.raises(StoreProblem, match="larger than"):
        files.read_text(path)


def test_a_byte_order_mark_is_dropped(tmp_path: Path) -> None:
    (tmp_path / "x").write_bytes(b"\xef\xbb\xbf{}")
    assert files.read_text(tmp_path / "x") == "{}"
