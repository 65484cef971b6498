"""The demo ores and the by-eye list are whole, invented and usable."""

import subprocess
import sys

import pytest

from fluxlab.issue import Severity
from fluxlab.materials import oxides
from fluxlab.materials.minerals import minerals
from fluxlab.ore.demo import demo_ores
from fluxlab.ore.feed import feed
from fluxlab.ore.feed_types import Feed
from fluxlab.ore.mostly import UNKNOWN, Mostly, choices, new_ore
from fluxlab.ore.ore_types import Grade, OreType


def gangue_zinc_iron(f: Feed) -> float:
    i = oxides.INDEX
    return f.earthy_gangue / f.dry * 100 + float(f.percent[i["ZnO"]] + f.percent[i["FeO"]] + f.percent[i["Fe2O3"]])


@pytest.mark.parametrize("ore", demo_ores(), ids=lambda ore: ore.uid)
def test_a_demo_ore_gives_a_feed_without_warnings(ore: OreType) -> None:
    f = feed(ore, "calcine", 100.0)
    assert all(issue.severity is Severity.NOTE for issue in f.issues)
    assert not {"As", "Sb", "Hg"} & set(f.raw_elements)
    assert f.silver > 0.1
    assert "invented" in ore.notes.lower()


def test_the_first_demo_ore_is_clean_and_the_second_is_not() -> None:
    clean, dirty, *_ = demo_ores()
    assert gangue_zinc_iron(feed(clean, "calcine", 100.0)) < 50.0
    assert gangue_zinc_iron(feed(dirty, "calcine", 100.0)) > 80.0
    assert any(m.name == "Acanthite/argentite" for m in feed(clean, "calcine", 100.0).minerals)


@pytest.mark.parametrize("choice", choices(), ids=lambda choice: choice.key)
def test_every_entry_of_the_by_eye_list_adds_up_and_holds_known_minerals(choice: Mostly) -> None:
    assert sum(share.likely for share in choice.minerals) == pytest.approx(100.0)
    for share in choice.minerals:
        assert share.what in minerals()
        assert share.low is not None
        assert share.high is not None
        assert 0.0 <= share.low < share.likely < share.high <= 100.0
        assert "judgement" in share.known_from


def test_not_knowing_gives_the_widest_silica() -> None:
    silica = oxides.INDEX["SiO2"]

    def width(key: str) -> float:
        f = feed(new_ore("x", "X", key), "calcine", 100.0)
        return float(f.high[silica] - f.low[silica])

    assert width(UNKNOWN) == max(width(choice.key) for choice in choices())
    assert choices()[-1].key == UNKNOWN


def test_a_new_ore_type_needs_a_name_what_it_is_and_a_grade() -> None:
    ore = new_ore("u", "Trial", "galena-pyrite", Grade(40.0, "oz/short ton"))
    assert ore.silver == Grade(40.0, "oz/short ton")
    assert feed(ore, "calcine", 100.0).silver_grade is not None
    assert new_ore("u", "Trial", "no such thing").minerals == choices()[-1].minerals


def test_neither_list_needs_the_numbers_library() -> None:
    code = (
        "import sys, fluxlab.ore.demo as d, fluxlab.ore.mostly as m; "
        "d.demo_ores(); m.choices(); print('numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
