"""The material in the pot: all of it is accounted for, and what it is not is said."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.materials import oxides
from fluxlab.materials.minerals import minerals
from fluxlab.ore.feed import feed
from fluxlab.ore.feed_types import Feed
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.ore.roasts import elements_told

ORE = OreType(
    "o", "Ore", minerals=(Share("Pyrite", 40.0, 30.0, 50.0), Share("Galena", 30.0, 25.0, 35.0), Share("Quartz", 30.0))
)


def made(**shares: float) -> OreType:
    return OreType("o", "Ore", minerals=tuple(Share(name.replace("_", " "), value) for name, value in shares.items()))


def grams(f: Feed) -> dict[str, float]:
    return {s: float(m) for s, m in zip(oxides.OXIDES, oxides.grams(f.oxides), strict=True) if m > 1e-12}


def assert_closed(f: Feed) -> None:
    out = sum(grams(f).values()) + sum(f.apart.values()) + sum(f.metal.values()) + sum(f.gases.values()) + f.unnamed
    assert f.dry + f.oxygen == pytest.approx(out, abs=1e-9 * max(1.0, f.dry))
    assert f.charge == pytest.approx(f.dry + f.water, abs=1e-9)
    if f.roast:
        assert f.roast.raw + f.roast.oxygen == pytest.approx(
            sum(f.roast.solids.values()) + sum(f.roast.gases.values()) + f.unnamed, abs=1e-9 * max(1.0, f.dry)
        )
        assert f.roast.calcine == pytest.approx(f.dry)


def assert_elements_kept(f: Feed) -> None:
    """Every element but oxygen is found again where it should be."""
    for element, brought, told in elements_told(f):
        assert brought == pytest.approx(told, abs=1e-9 * max(1.0, f.dry)), element


MIX = st.dictionaries(st.sampled_from(list(minerals())), st.floats(0.1, 60.0), min_size=1, max_size=8)


@given(MIX, st.sampled_from(["calcine", "concentrate"]), st.floats(0.0, 1.0), st.floats(0.0, 12.0))
def test_any_mix_is_all_accounted_for(shares: dict[str, float], pot_feed: str, ferric: float, moisture: float) -> None:
    ore = OreType("o", "Ore", minerals=tuple(Share(n, s) for n, s in shares.items()), moisture=moisture)
    f = feed(ore, pot_feed, 100.0, ferric)  # type: ignore[arg-type]
    assert_closed(f)
    assert_elements_kept(f)


@given(
    st.dictionaries(
        st.sampled_from(["SiO2", "Fe2O3", "CaO", "F", "CO2", "SO3", "S", "Pb", "As", "Cl", "LOI"]),
        st.floats(0.1, 30.0),
        min_size=1,
    )
)
def test_any_assay_used_as_it_is_is_all_accounted_for(shares: dict[str, float]) -> None:
    parts = tuple(Share(n, s) for n, s in shares.items())
    ore = OreType("o", "Ore", known_by="oxides", oxides=parts, as_is=True, silver=Grade(300.0, "g/t"))
    for pot_feed in ("concentrate", "calcine"):
        assert_closed(feed(ore, pot_feed, 100.0))  # type: ignore[arg-type]


def test_a_calcine_charge_says_how_much_raw_material_it_takes() -> None:
    f = feed(ORE, "calcine", 84.61)
    assert f.raw == pytest.approx(100.0, abs=0.005)
    assert f.roast is not None
    assert f.roast.gases["SO2"] == pytest.approx(50.75, abs=0.005)
    assert f.roast.change == pytest.approx(-15.39, abs=0.005)
    assert f.roast.change_low < f.roast.change < f.roast.change_high


def test_moisture_makes_the_raw_material_heavier_and_not_the_calcine() -> None:
    f = feed(replace(ORE, moisture=5.0), "calcine", 100.0)
    assert (f.dry, f.water) == (100.0, 0.0)
    assert f.raw_as_weighed == pytest.approx(f.raw / 0.95)


def test_a_moist_raw_charge_is_lighter_when_dry_and_warns() -> None:
    f = feed(replace(ORE, moisture=5.0), "concentrate", 100.0)
    assert (f.dry, f.water) == (95.0, pytest.approx(5.0))
    assert any("5.0 g of water" in issue.sentence and issue.remedy for issue in f.issues)


def test_a_roast_raises_the_grade_as_the_mass_falls() -> None:
    ore = replace(ORE, silver=Grade(500.0, "oz/short ton"))
    raw, burnt = feed(ore, "concentrate", 100.0), feed(ore, "calcine", 100.0)
    assert raw.silver_grade == pytest.approx(17_142.857, rel=1e-6)
    assert raw.silver == pytest.approx(1.7142857, rel=1e-6)
    assert burnt.silver_grade == pytest.approx(17_142.857 * burnt.raw / 100.0, rel=1e-6)


def test_iron_is_split_by_the_ferric_share_and_none_is_lost() -> None:
    for share in (0.0, 0.35, 1.0):
        f = feed(ORE, "calcine", 100.0, share)
        iron = f.oxides[oxides.INDEX["FeO"]] + 2 * f.oxides[oxides.INDEX["Fe2O3"]]
        assert 2 * f.oxides[oxides.INDEX["Fe2O3"]] / iron == pytest.approx(share)
        assert iron * 55.845 == pytest.approx(f.elements["Fe"], rel=1e-9)


def test_a_raw_charge_has_the_same_oxides_and_lists_its_sulphur() -> None:
    ore = made(Pyrite=50.0, Galena=20.0, Arsenopyrite=10.0, Quartz=20.0)
    raw, burnt = feed(ore, "concentrate", 100.0), feed(ore, "calcine", 100.0)
    assert raw.oxides / raw.raw == pytest.approx(burnt.oxides / burnt.raw)
    assert raw.apart["S"] == pytest.approx(raw.sulphur)
    assert raw.sulphide_sulphur == raw.apart["S"]
    assert raw.apart["As"] == pytest.approx(raw.arsenic)
    assert burnt.arsenic == burnt.sulphur == 0.0
    assert burnt.raw_elements["As"] > 0.0
    assert raw.sulphide == pytest.approx(80.0)
    assert burnt.sulphide == 0.0


APART = [
    ("Barite", "calcine", {"SO3"}, "BaO"),
    ("Anglesite", "calcine", {"SO3"}, "PbO"),
    ("Gypsum", "concentrate", {"SO3"}, "CaO"),
    ("Scheelite", "calcine", {"WO3"}, "CaO"),
    ("Molybdenite", "calcine", {"MoO3"}, None),
    ("Hessite", "calcine", {"TeO2"}, None),
    ("Chlorargyrite (horn silver)", "calcine", {"AgCl"}, None),
    ("Cinnabar", "concentrate", {"Hg", "S"}, None),
    ("Graphite / carbon", "concentrate", {"C"}, None),
    ("Naumannite", "concentrate", {"Se"}, None),
]


@pytest.mark.parametrize(("name", "pot_feed", "apart", "base"), APART)
def test_what_the_slag_model_does_not_hold_stands_apart(
    name: str, pot_feed: str, apart: set[str], base: str | None
) -> None:
    f = feed(OreType("o", "Ore", minerals=(Share(name, 50.0), Share("Quartz", 50.0))), pot_feed, 100.0)  # type: ignore[arg-type]
    assert set(f.apart) == apart
    assert set(grams(f)) == {"SiO2"} | ({base} if base else set())


SLAG = [
    ("Pyrolusite", "MnO"), ("Chalcocite", "Cu2O"), ("Stibnite", "Sb2O3"), ("Cobaltite", "CoO"), ("Barite", "BaO"),
    ("Fluorite", "CaF2"), ("Rutile", "TiO2"), ("Zircon", "ZrO2"), ("Cassiterite", "SnO2"), ("Greenockite", "CdO"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "oxide"), SLAG)
def test_what_a_perfect_roast_leaves_goes_to_the_slag_as_its_oxide(name: str, oxide: str) -> None:
    f = feed(OreType("o", "Ore", minerals=(Share(name, 100.0),)), "calcine", 100.0)
    assert oxide in grams(f)


REDUCIBLE = [
    ("Pyrolusite", "concentrate", {"MnO2": 100.0}),
    ("Hausmannite", "concentrate", {"MnO2": 37.995}),
    ("Hematite", "concentrate", {"Fe2O3": 100.0}),
    ("Magnetite", "concentrate", {"Fe2O3": 68.970}),
    ("Cuprite", "concentrate", {"Cu2O": 100.0}),
    ("Cerussite", "concentrate", {"PbO": 83.530}),
    ("Anglesite", "concentrate", {"PbSO4": 100.0}),
    ("Galena", "concentrate", {}),
    ("Nickeline", "concentrate", {}),
    ("Galena", "calcine", {"PbO": 100.0}),
    ("Chalcocite", "calcine", {"CuO": 100.0}),
    ("Pyrite", "calcine", {"Fe2O3": 100.0}),
    ("Stibnite", "calcine", {"Sb2O4": 100.0}),
]


@pytest.mark.parametrize(("name", "pot_feed", "expected"), REDUCIBLE)
def test_what_a_reducer_can_act_on_is_listed_as_it_goes_in(
    name: str, pot_feed: str, expected: dict[str, float]
) -> None:
    f = feed(OreType("o", "Ore", minerals=(Share(name, 100.0),)), pot_feed, 100.0)  # type: ignore[arg-type]
    assert dict(f.reducible) == pytest.approx(expected, abs=2e-3)


def test_ranges_come_from_one_share_moved_after_the_other() -> None:
    f = feed(ORE, "calcine", 100.0)
    silica = oxides.INDEX["SiO2"]
    moves = []
    for i, share in enumerate(ORE.minerals):
        for end in (share.low, share.high):
            if end is not None:
                moved = list(ORE.minerals)
                moved[i] = Share(share.what, end)
                other = feed(replace(ORE, minerals=tuple(moved)), "calcine", 100.0)
                moves.append(float(other.percent[silica] - f.percent[silica]))
    down = np.sqrt(sum(m**2 for m in moves if m < 0))
    up = np.sqrt(sum(m**2 for m in moves if m > 0))
    assert f.low[silica] == pytest.approx(f.percent[silica] - down)
    assert f.high[silica] == pytest.approx(f.percent[silica] + up)


def test_fluorine_of_an_assay_takes_lime_of_the_assay() -> None:
    shares = (Share("SiO2", 50.0), Share("CaO", 40.0), Share("F", 10.0))
    f = feed(OreType("o", "Ore", known_by="oxides", oxides=shares, as_is=True), "concentrate", 100.0)
    assert "CaF2" in grams(f)
    assert "F" not in grams(f)


@pytest.mark.parametrize(
    ("described", "pot_feed", "words"),
    [
        ("ore", "concentrate", "the pot gets concentrate"),
        ("concentrate", "ore", "the pot gets raw ore"),
        ("calcine", "ore", "its sulphur is not known"),
        ("calcine", "concentrate", "its sulphur is not known"),
    ],
)
def test_a_description_of_another_stage_is_said(described: str, pot_feed: str, words: str) -> None:
    f = feed(replace(ORE, stage=described), pot_feed, 100.0)  # type: ignore[arg-type]
    issue = next(issue for issue in f.issues if words in issue.sentence)
    assert issue.severity is Severity.WARNING
    assert issue.remedy


@pytest.mark.parametrize(
    ("described", "pot_feed"), [("ore", "calcine"), ("concentrate", "calcine"), ("ore", "ore"), ("calcine", "calcine")]
)
def test_a_description_that_fits_is_not_spoken_of(described: str, pot_feed: str) -> None:
    f = feed(replace(ORE, stage=described), pot_feed, 100.0)  # type: ignore[arg-type]
    assert not [issue for issue in f.issues if issue.where == "ore.stage"]


@pytest.mark.parametrize(
    ("ore", "charge", "words"),
    [
        (ORE, -5.0, "charge of -5 g"),
        (ORE, float("nan"), "charge of nan g"),
        (replace(ORE, moisture=120.0), 100.0, "moisture of 120 %"),
        (replace(ORE, moisture=-1.0), 100.0, "moisture of -1 %"),
        (replace(ORE, minerals=()), 100.0, "nothing is known of this ore"),
    ],
)
def test_bad_figures_are_said_and_nothing_crashes(ore: OreType, charge: float, words: str) -> None:
    f = feed(ore, "calcine", charge)
    issue = next(issue for issue in f.issues if words in issue.sentence)
    assert issue.severity is Severity.ERROR
    assert issue.remedy
    assert np.isfinite(f.oxides).all()


def test_bulk_density_is_half_the_grains_until_it_is_measured() -> None:
    f = feed(made(Quartz=100.0), "concentrate", 100.0)
    assert (f.solid_density, f.bulk_density, f.bulk_known) == (pytest.approx(2.65), pytest.approx(1.325), False)
    measured = feed(replace(made(Quartz=100.0), bulk_density=1.5), "concentrate", 100.0)
    assert (measured.bulk_density, measured.bulk_known) == (1.5, True)


def test_roasted_grains_keep_their_outline() -> None:
    f = feed(made(Pyrite=100.0), "calcine", 100.0)
    assert f.solid_density == pytest.approx(5.01 * 0.6656, rel=1e-3)


def test_carbonates_count_until_they_are_burnt() -> None:
    ore = made(Calcite=30.0, Quartz=70.0)
    assert feed(ore, "concentrate", 100.0).carbonate == pytest.approx(30.0)
    assert feed(ore, "calcine", 100.0).carbonate == 0.0


def test_earthy_gangue_leaves_out_fluorspar_and_heavy_oxides() -> None:
    f = feed(made(Quartz=40.0, Calcite=20.0, Fluorite=20.0, Hematite=20.0), "concentrate", 100.0)
    assert f.earthy_gangue == pytest.approx(40.0 + 20.0 * 0.5603, abs=0.01)


def test_everything_scales_with_the_charge() -> None:
    one, many = feed(ORE, "calcine", 1.0), feed(ORE, "calcine", 250.0)
    assert many.oxides == pytest.approx(250.0 * one.oxides)
    assert many.percent == pytest.approx(one.percent)
    assert many.raw == pytest.approx(250.0 * one.raw)


def test_without_a_silver_assay_it_is_said_that_the_minerals_count() -> None:
    f = feed(made(Pyrargyrite=5.0, Quartz=95.0), "calcine", 100.0)
    assert any("No silver assay" in issue.sentence for issue in f.issues)
    assert f.silver > 2.0
