"""No file of the project names the machine it was written on or the place its packages were fetched from."""

import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LICENCES = "resources/licences/"
NOT_OURS = re.compile(r"\.(?!ci$|gitignore$).*|__pycache__|dist|build|htmlcov")

# Written in pieces, so that this file passes its own test.
FORBIDDEN = {
    "a folder of somebody's machine": r"(?<![\w.<{$])/(?:" + "|".join(("wo" + "rk", "tm" + "p", "ro" + "ot")) + r")/\w",
    "somebody's home folder": r"(?<![\w.])/(?:" + "|".join(("ho" + "me", "Us" + "ers")) + r")/\w|[A-Z]:\\Us" + "ers",
    "a package registry's host": "|".join(
        re.escape(name + "." + end)
        for name, end in (
            ("py" + "pi", "org"),
            ("python" + "hosted", "org"),
            ("registry.np" + "mjs", "org"),
            ("deb." + "debian", "org"),
            ("archive." + "ubuntu", "com"),
            ("cra" + "tes", "io"),
        )
    ),
}


def walked() -> list[str]:
    """The files of a copy that is no git repository."""
    found = (path.relative_to(ROOT) for path in ROOT.rglob("*"))
    return [name.as_posix() for name in found if not any(NOT_OURS.fullmatch(part) for part in name.parts)]


def project_files() -> list[str]:
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        names = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split("\0")
    except (OSError, subprocess.CalledProcessError):
        names = walked()
    return sorted(name for name in names if name and (ROOT / name).is_file())


def text_of(name: str) -> str | None:
    try:
        return (ROOT / name).read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None


def sinners(pattern: str) -> list[str]:
    found = []
    for name in project_files():
        words = None if name.startswith(LICENCES) else text_of(name)
        found += [f"{name}: {hit.group()}" for hit in re.finditer(pattern, words or "")]
    return found


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_file_names(what):
    assert sinners(FORBIDDEN[what]) == []


@pytest.mark.parametrize(
    ("what", "words"),
    [
        ("a folder of somebody's machine", "see /" + "work/notes"),
        ("somebody's home folder", "open('/" + "home/ann/x')"),
        ("a package registry's host", "https://py" + "pi.org/simple"),
    ],
)
def test_the_patterns_catch_what_they_are_for(what, words):
    assert re.search(FORBIDDEN[what], words)


@pytest.mark.parametrize("listing", [project_files, walked])
def test_the_project_files_are_found(listing):
    names = listing()
    assert "fluxlab/__init__.py" in names
    assert len(names) > 50
