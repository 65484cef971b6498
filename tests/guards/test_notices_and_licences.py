"""Whose work is shipped is said, with its licence text, and NOTICE says the same as the About page."""

import importlib.util
import re
import tomllib
from importlib.metadata import requires
from pathlib import Path

import pytest

from fluxlab import resources

ROOT = Path(__file__).resolve().parents[2]
NOTICES = resources.toml("notices.toml")["notice"]
SHIPPED = [notice for notice in NOTICES if notice["kind"] != "data"]


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def bare(requirement: str) -> str:
    """The name alone of "Some_Package[extra]>=1.2"."""
    return plain(re.match(r"[\w.-]+", requirement).group())


def needed_at_run_time() -> set[str]:
    """Every package that an installed fluxlab brings along."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    found: set[str] = set()
    waiting = [bare(line) for line in project["dependencies"]]
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        found.add(name)
        waiting += [bare(line) for line in requires(name) or [] if ";" not in line]
    return found


def test_notice_says_what_the_about_page_shows():
    spec = importlib.util.spec_from_file_location("notices", ROOT / "packaging" / "notices.py")
    notices = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(notices)
    assert (ROOT / "NOTICE").read_text(encoding="utf-8") == notices.render(notices.read())


@pytest.mark.parametrize("notice", SHIPPED, ids=lambda notice: notice["name"])
def test_a_shipped_work_has_its_licence_text(notice):
    assert notice["text"]
    for name in notice["text"]:
        assert len(resources.text(name)) > 400


def test_every_package_that_comes_along_is_noticed():
    noticed = {plain(name) for notice in NOTICES for name in notice["packages"]}
    wanted = needed_at_run_time()
    assert "shiboken6" in wanted
    assert wanted - noticed == set()


def test_every_font_is_noticed():
    noticed = {name for notice in NOTICES for name in notice.get("files", [])}
    fonts = {f"fonts/{found.name}" for found in resources.path("fonts").iterdir()}
    assert fonts == noticed


def test_no_licence_text_is_left_over():
    named = {name for notice in NOTICES for name in notice["text"]}
    assert {f"licences/{found.name}" for found in resources.path("licences").iterdir()} == named


def test_the_licence_on_the_about_page_is_the_licence():
    assert resources.text("licences/fluxlab.txt") == (ROOT / "LICENSE").read_text(encoding="utf-8")


def test_the_toolkit_says_how_to_replace_it():
    toolkit = next(notice for notice in NOTICES if notice["kind"] == "toolkit")
    assert "LGPL" in toolkit["licence"]
    assert len(toolkit["replace"]) > 200
    assert "GNU LESSER GENERAL PUBLIC LICENSE" in resources.text("licences/lgpl-3.txt")
    assert "GNU GENERAL PUBLIC LICENSE" in resources.text("licences/gpl-3.txt")
