"""Packaged files are found by one function in every form of the program."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from fluxlab import resources


def test_a_checkout_finds_its_resources() -> None:
    assert resources.path("oxides.csv").is_file()


def test_an_installed_or_frozen_program_finds_the_files_beside_the_module(tmp_path: Path) -> None:
    package = tmp_path / "fluxlab"
    (package / "_data").mkdir(parents=True)
    (package / "__init__.py").write_text("")
    shutil.copy(Path(resources.__file__), package / "resources.py")
    (package / "_data" / "a.toml").write_text("n = 3")
    (package / "_data" / "b.json").write_text('{"n": 4}')
    code = (
        "from fluxlab import resources as r; "
        "print(r.toml('a.toml')['n'], r.json('b.json')['n'], r.path('a.toml').parent.name)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["3", "4", "_data"]


def test_a_missing_file_is_our_fault_and_says_which() -> None:
    with pytest.raises(FileNotFoundError, match=r"nothing\.csv"):
        resources.path("nothing.csv")


def test_a_table_is_read_by_its_titles() -> None:
    assert resources.table("oxides.csv")[0]["symbol"] == "SiO2"


def test_a_table_is_read_once() -> None:
    assert resources.table("oxides.csv") is resources.table("oxides.csv")


def test_the_finder_needs_no_numbers_library() -> None:
    code = "import sys, fluxlab.resources as r; r.table('oxides.csv'); print('numpy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_a_program_without_its_files_says_where_it_looked(tmp_path: Path) -> None:
    package = tmp_path / "alone" / "fluxlab"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text("")
    shutil.copy(Path(resources.__file__), package / "resources.py")
    code = "from fluxlab import resources; resources.root()"
    done = subprocess.run([sys.executable, "-c", code], cwd=package.parent, capture_output=True, text=True, check=False)
    assert done.returncode != 0
    assert "neither _data nor resources" in done.stderr
