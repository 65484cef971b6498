"""A described ore becomes one mix, and what is wrong with the description is said."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Issue, Severity
from fluxlab.materials.minerals import minerals
from fluxlab.ore.analysis import mix
from fluxlab.ore.mix_types import Mix
from fluxlab.ore.ore_types import OreType, Share


def by_minerals(*shares: tuple[str, float] | tuple[str, float, float | None, float | None]) -> OreType:
    return OreType("o", "Ore", minerals=tuple(Share(*share) for share in shares))


def percent(m: Mix) -> dict[str, float]:
    return {e.mineral.name: 100 * e.likely for e in m.entries}


def said(m: Mix, words: str) -> Issue:
    found = [issue for issue in m.issues if words in issue.sentence]
    assert found, [issue.sentence for issue in m.issues]
    return found[0]


def test_shares_near_a_hundred_are_used_without_a_word() -> None:
    m = mix(by_minerals(("Pyrite", 60.2), ("Quartz", 39.7)))
    assert not m.issues
    assert sum(percent(m).values()) == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("quartz", "severity", "words"),
    [
        (45.0, Severity.NOTE, "scaled to 100 %"),
        (33.0, Severity.NOTE, "add up to 93.0 %"),
        (10.0, Severity.WARNING, "add up to 70 % only"),
        (70.0, Severity.ERROR, "add up to 130 %"),
    ],
)
def test_a_sum_that_is_not_a_hundred_is_scaled_and_said(quartz: float, severity: Severity, words: str) -> None:
    m = mix(by_minerals(("Pyrite", 60.0), ("Quartz", quartz)))
    assert said(m, words).severity is severity
    assert percent(m)["Pyrite"] == pytest.approx(100 * 60.0 / (60.0 + quartz))


def test_what_the_shares_lack_of_a_whole_is_kept_beside_the_scaled_mix() -> None:
    assert mix(by_minerals(("Quartz", 30.0))).missing == pytest.approx(0.7)
    assert mix(by_minerals(("Pyrite", 80.0), ("Quartz", 50.0))).missing == 0.0
    part = OreType("o", "Ore", known_by="oxides", oxides=(Share("SiO2", 70.0),), ticked=("Quartz",))
    assert mix(part).missing == pytest.approx(0.3)
    # what nothing was assayed of takes the rest, and an assay used as it is names it itself
    assert mix(replace(part, ticked=("Quartz", "Hematite"))).missing == 0.0
    as_is = mix(replace(part, as_is=True))
    assert (as_is.missing, as_is.unnamed) == (0.0, pytest.approx(0.3))


def test_a_mix_of_a_hundred_and_thirty_per_cent_says_what_to_do() -> None:
    assert "Lower the shares" in said(mix(by_minerals(("Pyrite", 80.0), ("Quartz", 50.0))), "130 %").remedy


def test_ranges_are_scaled_with_their_share() -> None:
    entry = mix(by_minerals(("Pyrite", 50.0, 40.0, 60.0), ("Quartz", 75.0))).entries[0]
    assert (entry.low, entry.likely, entry.high) == pytest.approx((0.32, 0.40, 0.48))


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (("Fool's gold", 20.0, None, None), "not in the list of minerals"),
        (("Quartz", -3.0, None, None), "-3 % is not possible"),
        (("Quartz", float("nan"), None, None), "not possible"),
        (("Quartz", 20.0, 30.0, 40.0), "does not hold 20 %"),
        (("Quartz", 20.0, -5.0, 40.0), "does not hold 20 %"),
    ],
)
def test_a_bad_share_is_left_out_or_mended_and_said(share: tuple[str, float, None, None], words: str) -> None:
    m = mix(by_minerals(("Pyrite", 80.0), share))
    assert said(m, words).remedy
    assert percent(m)["Pyrite"] >= 80.0 - 1e-9


def test_the_same_mineral_twice_is_added_up() -> None:
    m = mix(by_minerals(("Pyrite", 30.0), ("Quartz", 40.0), ("Pyrite", 30.0)))
    assert percent(m) == pytest.approx({"Pyrite": 60.0, "Quartz": 40.0})


def test_an_ore_of_which_nothing_is_known_says_so() -> None:
    for ore in (OreType("o", "Ore"), by_minerals(("Quartz", 0.0)), OreType("o", "Ore", known_by="oxides", as_is=True)):
        m = mix(ore)
        assert not m.entries
        assert any(issue.severity is Severity.ERROR for issue in m.issues)


def elements(shares: dict[str, float], *ticked: str, **more: object) -> OreType:
    parts = tuple(Share(name, value) for name, value in shares.items())
    return OreType("o", "Ore", known_by="elements", elements=parts, ticked=ticked, **more)  # type: ignore[arg-type]


def assay_of(shares: dict[str, float]) -> dict[str, float]:
    """Element assay of a mineral mix [mass %], oxygen, carbon and hydrogen not assayed."""
    found: dict[str, float] = {}
    for name, value in shares.items():
        for symbol, part in minerals()[name].read.mass_fractions.items():
            if symbol not in "OCH":
                found[symbol] = found.get(symbol, 0.0) + value * part
    return found


CANDIDATES = ["Pyrite", "Galena", "Sphalerite (pure)", "Chalcopyrite", "Quartz", "Calcite", "Barite"]


@given(st.lists(st.floats(1.0, 50.0), min_size=len(CANDIDATES), max_size=len(CANDIDATES)))
def test_the_assay_of_a_mix_is_turned_back_into_the_mix(shares: list[float]) -> None:
    truth = {name: 100 * s / sum(shares) for name, s in zip(CANDIDATES, shares, strict=True)}
    m = mix(elements(assay_of(truth), *CANDIDATES))
    assert percent(m) == pytest.approx(truth, abs=1e-6)
    assert m.residual_percent == pytest.approx(0.0, abs=1e-6)


def test_a_mineral_of_which_nothing_was_assayed_takes_what_is_left() -> None:
    m = mix(elements({"Fe": 27.93, "S": 32.07}, "Pyrite", "Quartz"))
    assert percent(m) == pytest.approx({"Pyrite": 60.0, "Quartz": 40.0}, abs=0.05)
    assert said(m, "nothing of Quartz").severity is Severity.NOTE


def test_what_the_minerals_do_not_explain_is_shown() -> None:
    m = mix(elements({"Fe": 27.93, "S": 32.07, "Zn": 8.0}, "Pyrite", "Quartz"))
    issue = said(m, "0.0 of 8.0 % Zn")
    assert "Sphalerite" in issue.remedy
    assert m.residual_percent == pytest.approx(8.0, abs=0.3)
    zinc = next(e for e in m.explained if e.element == "Zn")
    assert (zinc.assayed, zinc.explained) == (pytest.approx(8.0), 0.0)


@pytest.mark.parametrize(
    ("ore", "words"),
    [
        (elements({"Cu": 20.0}, "Quartz"), "None of the ticked minerals explains"),
        (elements({"Cu": 20.0}), "No minerals are ticked"),
        (elements({}, "Quartz"), "assay is empty"),
        (elements({"Copper": 20.0}, "Quartz"), "cannot be read"),
        (elements({"Cu": 20.0}, "Quartz", "Unobtainium"), "not in the list"),
    ],
)
def test_an_assay_that_cannot_be_explained_says_what_to_do(ore: OreType, words: str) -> None:
    issue = said(mix(ore), words)
    assert issue.severity is Severity.ERROR
    assert issue.remedy


def test_the_range_of_an_assay_gives_the_range_of_the_minerals() -> None:
    ore = OreType(
        "o", "Ore", known_by="elements", ticked=("Galena", "Quartz"), elements=(Share("Pb", 43.3, 40.0, 46.6),)
    )
    galena = next(e for e in mix(ore).entries if e.mineral.name == "Galena")
    assert (galena.low, galena.likely, galena.high) == pytest.approx((0.4619, 0.5, 0.5381), abs=5e-4)


def test_an_oxide_assay_is_turned_into_minerals() -> None:
    shares = (Share("SiO2", 60.0), Share("CaO", 16.81), Share("CO2", 13.19), Share("Fe2O3", 10.0))
    ore = OreType("o", "Ore", known_by="oxides", oxides=shares, ticked=("Quartz", "Calcite", "Hematite"))
    assert percent(mix(ore)) == pytest.approx({"Quartz": 60.0, "Calcite": 30.0, "Hematite": 10.0}, abs=0.02)


def test_an_oxide_assay_can_be_used_as_it_is() -> None:
    shares = (Share("SiO2", 60.0), Share("Fe2O3", 30.0), Share("LOI", 10.0))
    m = mix(OreType("o", "Ore", known_by="oxides", oxides=shares, as_is=True))
    assert percent(m) == pytest.approx({"SiO2": 60.0, "Fe2O3": 30.0, "H2O": 10.0})
    assert said(m, "loss on ignition").severity is Severity.NOTE


def test_an_assay_used_as_it_is_says_what_it_does_not_name() -> None:
    m = mix(elements({"Fe": 28.0, "S": 32.0, "Si": 14.0}, as_is=True))
    assert percent(m) == pytest.approx({"Fe": 28.0, "S": 32.0, "SiO2": 29.95}, abs=0.01)
    assert m.unnamed == pytest.approx(0.1005, abs=1e-4)
    assert said(m, "neither slag nor metal").remedy


def test_elements_of_a_calcine_are_taken_as_its_oxides() -> None:
    m = mix(elements({"Fe": 35.0, "Si": 23.4}, as_is=True, stage="calcine"))
    assert percent(m) == pytest.approx({"Fe2O3": 50.04, "SiO2": 50.06}, abs=0.1)
