"""Settings survive, and bad ones cost a log line only."""

import json
import logging
from dataclasses import replace
from pathlib import Path

import pytest

from fluxlab.store import settings
from fluxlab.store.settings import Settings

LEFT = Settings(
    geometry="AdnQ",
    theme="dark",
    text_size=130,
    last_recipe="r1",
    paper="roll",
    decimals="comma",
    folded=frozenset({"mould", "slag"}),
    views=(("flux table", "AAAB"),),
)


def test_what_was_left_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.json"
    assert settings.save(path, LEFT)
    assert settings.load(path) == LEFT
    assert settings.load(path).view("flux table") == "AAAB"
    assert settings.load(path).view("other") == ""


def test_the_first_start_is_silent(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    assert settings.load(tmp_path / "none.json") == Settings()
    assert caplog.records == []


@pytest.mark.parametrize(
    ("key", "bad", "words"),
    [
        ("theme", "pink", "theme must be one of"),
        ("text_size", "130", "text_size must be one of"),
        ("text_size", True, "text_size must be one of"),
        ("paper", 5, "paper must be text"),
        ("folded", "mould", "folded must be a list"),
        ("geometry", None, "geometry must be text"),
        ("views", [["a"]], "views[0] must be a list of 2"),
    ],
)
def test_one_bad_setting_costs_a_log_line_and_no_other_setting(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, key: str, bad: object, words: str
) -> None:
    path = tmp_path / "settings.json"
    settings.save(path, LEFT)
    path.write_text(json.dumps(json.loads(path.read_text()) | {key: bad, "of a later version": 1}))
    with caplog.at_level(logging.WARNING):
        assert settings.load(path) == replace(LEFT, **{key: getattr(Settings(), key)})
    (record,) = caplog.records
    assert words in record.getMessage()


@pytest.mark.parametrize("content", [b"", b"{", b"[1]", b"\xff\xfe", b'"dark"', b"null", b'{"theme": NaN}'])
def test_a_spoilt_file_starts_afresh(tmp_path: Path, caplog: pytest.LogCaptureFixture, content: bytes) -> None:
    path = tmp_path / "settings.json"
    path.write_bytes(content)
    assert settings.load(path) == Settings()
    assert "start afresh" in caplog.text


def test_a_folder_in_the_way_stops_nothing(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    assert settings.load(tmp_path) == Settings()
    assert not settings.save(tmp_path, LEFT)
    (tmp_path / "file").write_text("")
    assert not settings.save(tmp_path / "file" / "settings.json", LEFT)
    assert len(caplog.records) == 3
