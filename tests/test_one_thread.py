"""The arithmetic library is told its threads before it is loaded, and by the user first of all."""

import os
import subprocess
import sys

import pytest

from fluxlab.one_thread import CHOSEN_BY, keep_to_one_thread


@pytest.fixture
def nothing_chosen(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    # set first, so that whatever the call sets is taken back afterwards
    for name in CHOSEN_BY:
        monkeypatch.setenv(name, "2")
        monkeypatch.delenv(name)
    return monkeypatch


def test_without_a_choice_there_is_one_thread(nothing_chosen: pytest.MonkeyPatch) -> None:
    keep_to_one_thread()
    assert [os.environ[name] for name in CHOSEN_BY] == ["1", "1"]


@pytest.mark.parametrize("name", CHOSEN_BY)
def test_a_choice_of_the_user_stays_and_no_other_is_put_over_it(nothing_chosen: pytest.MonkeyPatch, name: str) -> None:
    nothing_chosen.setenv(name, "3")
    keep_to_one_thread()
    assert {key: os.environ.get(key) for key in CHOSEN_BY} == dict.fromkeys(CHOSEN_BY) | {name: "3"}


@pytest.mark.parametrize("module", ["fluxlab.cli", "fluxlab.__main__"])
def test_neither_way_in_loads_the_arithmetic_before_it_can_be_told(module: str) -> None:
    asked = f"import sys, {module}; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", asked], timeout=60, check=False).returncode == 0
