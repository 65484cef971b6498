"""The files of resources/ are found by one function in a checkout and in an installed wheel."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from fluxlab import resources

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "resources"
PROBE = """
import fluxlab, fluxlab.resources as resources
print(fluxlab.__file__)
for name in ("fonts/B612-Regular.otf", "fonts/B612-Bold.otf", "notices.toml", "licences/lgpl-3.txt"):
    print(resources.path(name))
"""


def names_below(folder: Path) -> set[str]:
    return {str(found.relative_to(folder).as_posix()) for found in folder.rglob("*") if found.is_file()}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert told.returncode == 0, told.stderr
    (made,) = folder.glob("*.whl")
    return made


def test_a_checkout_reads_its_own_resources_folder():
    assert resources.root() == SOURCE
    assert resources.path("fonts/B612-Regular.otf").is_relative_to(SOURCE)


def test_a_name_that_is_not_there_is_our_own_fault():
    with pytest.raises(FileNotFoundError, match="no-such-table"):
        resources.path("no-such-table.csv")


def test_the_wheel_holds_every_file_of_resources_and_no_tests(wheel):
    held = set(zipfile.ZipFile(wheel).namelist())
    prefix = "fluxlab/_data/"
    assert {name.removeprefix(prefix) for name in held if name.startswith(prefix)} == names_below(SOURCE)
    assert not [name for name in held if name.startswith(("tests/", "packaging/"))]


def test_the_wheel_holds_its_licence_and_notice(wheel):
    held = {Path(name).name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/licenses/" in name}
    assert held == {"LICENSE", "NOTICE"}


def test_an_installed_wheel_finds_its_files_from_anywhere(wheel, tmp_path):
    home, elsewhere = tmp_path / "installed", tmp_path / "elsewhere"
    elsewhere.mkdir()
    install = [sys.executable, "-m", "pip", "install", "--quiet", "--no-index", "--no-deps", "--target", str(home)]
    subprocess.run([*install, str(wheel)], check=True)
    told = subprocess.run(
        [sys.executable, "-c", PROBE],
        cwd=elsewhere,
        env={**os.environ, "PYTHONPATH": str(home)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0, told.stderr
    paths = [Path(line) for line in told.stdout.splitlines()]
    assert len(paths) == 5
    assert all(path.is_relative_to(home) for path in paths)
