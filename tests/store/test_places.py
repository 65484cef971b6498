"""Where the files stand on each system."""

from pathlib import Path

import pytest

from fluxlab.store import places


@pytest.fixture(autouse=True)
def bare(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    for name in ("FLUXLAB_HOME", "APPDATA", "XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("platform", "library", "settings"),
    [
        ("linux", ".local/share/fluxlab/library.sqlite", ".config/fluxlab/settings.json"),
        (
            "darwin",
            "Library/Application Support/fluxlab/library.sqlite",
            "Library/Application Support/fluxlab/settings.json",
        ),
        ("win32", "AppData/Roaming/fluxlab/library.sqlite", "AppData/Roaming/fluxlab/settings.json"),
    ],
)
def test_each_system_has_its_usual_place(
    bare: Path, monkeypatch: pytest.MonkeyPatch, platform: str, library: str, settings: str
) -> None:
    monkeypatch.setattr("fluxlab.store.places.sys.platform", platform)
    assert places.library_path() == bare / library
    assert places.settings_path() == bare / settings


def test_the_folders_of_the_system_are_followed_when_whole(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("fluxlab.store.places.sys.platform", "linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(bare / "d"))
    monkeypatch.setenv("XDG_CONFIG_HOME", "relative/is/ignored")
    assert places.library_path() == bare / "d" / "fluxlab" / "library.sqlite"
    assert places.settings_path() == bare / ".config" / "fluxlab" / "settings.json"


def test_one_folder_may_hold_everything(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLUXLAB_HOME", str(bare / "stick"))
    assert places.library_path() == bare / "stick" / "library.sqlite"
    assert places.settings_path() == bare / "stick" / "settings.json"
