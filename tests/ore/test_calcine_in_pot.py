"""A partly roasted charge in the pot: all accounted for, its sulphides and sulphates listed, its slag oxides kept."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.materials import oxides
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import minerals
from fluxlab.ore.feed import feed
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.ore.roast_arrays import METALS
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan
from tests.ore.roasts import MIX, SHARE, assert_all_accounted_for

PLAN = RoastPlan("planned")


def ore_of(**shares: float) -> OreType:
    return OreType("o", "Ore", minerals=tuple(Share(name.replace("_", " "), value) for name, value in shares.items()))


@settings(max_examples=200, deadline=None)
@given(
    MIX,
    st.floats(20.0, 1200.0),
    st.floats(0.0, 300.0),
    st.dictionaries(st.sampled_from(METALS), SHARE),
    SHARE,
    SHARE,
    SHARE,
)
def test_any_planned_roast_is_all_accounted_for(
    shares: dict[str, float],
    finish: float,
    minutes: float,
    psi: dict[str, float],
    arsenate: float,
    fumed: float,
    magnetite: float,
) -> None:
    ore = OreType("o", "Ore", minerals=tuple(Share(n, s) for n, s in shares.items()))
    own = replace(PLAN, sulphate=tuple(psi.items()), arsenate=arsenate, antimony_fumed=fumed, magnetite=magnetite)
    f = feed(ore, "calcine", 100.0, 0.7, replace(own, finish_temperature=finish, minutes=minutes))
    assert_all_accounted_for(f)
    assert f.roast is not None
    left = f.roast.figures.ranges
    assert f.sulphur == pytest.approx(left.sulphur.value * f.dry / 100.0, abs=1e-8)
    assert f.arsenic == pytest.approx(left.arsenic.value * f.dry / 100.0, abs=1e-8)
    assert (f.oxides >= -1e-12).all()
    assert all(g >= 0.0 for part in (f.apart, f.fuel, f.reducible, f.elements) for g in part.values())


@pytest.mark.parametrize("percent", [-4.0, 0.0, 4.0, 40.0])
def test_a_weighed_roast_is_all_accounted_for(percent: float) -> None:
    ore = replace(ore_of(Galena=40.0, Pyrite=20.0, Quartz=40.0), silver=Grade(500.0, "oz/short ton"))
    f = feed(ore, "calcine", 100.0, 0.7, RoastPlan("weighed", before=50.0, after=50.0 * (1.0 + percent / 100.0)))
    assert_all_accounted_for(f)


def test_a_perfect_plan_is_the_feed_of_before() -> None:
    ore = ore_of(Galena=40.0, Pyrite=20.0, Arsenopyrite=10.0, Quartz=30.0)
    plain, told = feed(ore, "calcine", 100.0), feed(ore, "calcine", 100.0, 1.0, PERFECT_PLAN)
    assert (plain.oxides == told.oxides).all()
    assert plain.apart == told.apart == {}
    assert plain.sulphide == plain.sulphur == plain.arsenic == 0.0
    assert dict(plain.fuel) == {}


def test_all_burnt_and_nothing_kept_by_plan_is_the_perfect_feed() -> None:
    ore = ore_of(Galena=40.0, Pyrite=20.0, Arsenopyrite=10.0, Stibnite=5.0, Calcite=5.0, Quartz=20.0)
    through = tuple((name, 1.0) for name in minerals())
    none = tuple((metal, 0.0) for metal in METALS)
    own = replace(PLAN, conversion=through, sulphate=none, arsenate=0.0, antimony_fumed=0.0, magnetite=0.0)
    perfect, partial = feed(ore, "calcine", 100.0), feed(ore, "calcine", 100.0, 1.0, own)
    assert partial.oxides == pytest.approx(perfect.oxides, abs=1e-12)
    assert partial.raw == pytest.approx(perfect.raw, rel=1e-12)
    assert dict(partial.reducible) == pytest.approx(dict(perfect.reducible), abs=1e-12)
    assert dict(partial.elements) == pytest.approx(dict(perfect.elements), abs=1e-12)
    assert partial.low == pytest.approx(perfect.low, abs=1e-9)


def test_slag_oxides_stay_those_of_the_perfect_roast_but_for_arsenate_and_fume() -> None:
    ore = ore_of(Galena=30.0, Pyrite=20.0, Arsenopyrite=10.0, Stibnite=5.0, Calcite=5.0, Quartz=30.0)
    perfect = feed(ore, "calcine", 100.0)
    partial = feed(ore, "calcine", 100.0, 1.0, replace(PLAN, arsenate=0.3, antimony_fumed=0.4))
    one, other = perfect.oxides / perfect.raw, partial.oxides / partial.raw
    changed = {symbol for symbol, a, b in zip(oxides.OXIDES, one, other, strict=True) if abs(a - b) > 1e-12}
    assert changed == {"As2O3", "Sb2O3"}
    assert partial.arsenic > 0.0


def test_sulphates_and_sulphides_of_the_calcine_are_listed() -> None:
    ore = replace(
        ore_of(Galena=40.0, Pyrite=20.0, Calcite=10.0, Quartz=30.0, Arsenopyrite=5.0),
        silver=Grade(500.0, "oz/short ton"),
    )
    f = feed(ore, "calcine", 100.0, 1.0, replace(PLAN, finish_temperature=620.0, minutes=30.0, bed_depth=25.0))
    assert {"PbSO4", "CaSO4", "Ag2SO4", "FeSO4", "As2O5", "Fe2O3", "Fe3O4", "PbO"} <= f.reducible.keys()
    assert f.sulphide_sulphur == f.apart["S"] > 0.5
    assert f.apart["SO3"] > 5.0
    assert f.sulphide == pytest.approx(sum(f.fuel.values()))
    assert f.fuel["PbS"] > 0.0
    held = sum(g * formula(name).mass_fractions.get("S", 0.0) for name, g in f.fuel.items())
    assert held == pytest.approx(f.sulphide_sulphur)
    assert f.sulphur == pytest.approx(f.sulphide_sulphur + f.apart["SO3"] * atomic_mass("S") / formula("SO3").mass)


def test_pyrite_left_behind_counts_as_iron_sulphide() -> None:
    f = feed(ore_of(Pyrite=50.0, Quartz=50.0), "calcine", 100.0, 1.0, replace(PLAN, conversion=(("Pyrite", 0.8),)))
    assert set(f.fuel) == {"FeS"}
    assert f.fuel["FeS"] == pytest.approx(0.2 * f.raw * 0.5 * 2.0 * formula("FeS").mass / formula("FeS2").mass)


def test_unburnt_carbonate_still_makes_gas_in_the_pot() -> None:
    f = feed(ore_of(Calcite=50.0, Quartz=50.0), "calcine", 100.0, 1.0, replace(PLAN, finish_temperature=650.0))
    assert f.carbonate > 30.0
    assert f.gases["CO2"] == pytest.approx(f.carbonate * formula("CO2").mass / formula("CaCO3").mass)


def test_raw_material_lists_its_fuel() -> None:
    f = feed(ore_of(Pyrite=30.0, Marcasite=10.0, Quartz=60.0), "concentrate", 100.0)
    assert dict(f.fuel) == pytest.approx({"FeS2": 40.0})


def test_an_assay_used_as_it_is_says_that_it_cannot_be_roasted_in_part() -> None:
    ore = OreType(
        "o", "Ore", known_by="elements", as_is=True, elements=(Share("Fe", 40.0), Share("S", 45.0), Share("Si", 7.0))
    )
    perfect, planned = feed(ore, "calcine", 100.0), feed(ore, "calcine", 100.0, 1.0, PLAN)
    assert (perfect.oxides == planned.oxides).all()
    said = [issue for issue in planned.issues if "used as it is" in issue.sentence and issue.where == "roast"]
    assert [issue.severity for issue in said] == [Severity.WARNING]
    assert all(issue.where != "roast" for issue in perfect.issues)


GREW = RoastPlan("weighed", before=100.0, after=140.0)
BAD_ORES = [
    {"Pyrite": 100.0},
    {"Galena": 100.0},
    {"Quartz": 100.0},
    {"Arsenopyrite": 100.0},
    {"Cinnabar": 100.0},
    {"Cinnabar": 50.0, "Pyrite": 50.0},
    {"Native arsenic": 100.0},
    {"Realgar": 100.0},
    {"Graphite / carbon": 100.0},
    {},
]


@pytest.mark.parametrize("shares", BAD_ORES, ids=str)
@pytest.mark.parametrize(
    "plan", [PERFECT_PLAN, PLAN, RoastPlan("weighed", before=100.0, after=140.0)], ids=lambda p: p.kind
)
@pytest.mark.parametrize("moisture", [0.0, 100.0])
def test_a_strange_ore_gives_words_and_no_nonsense(shares: dict[str, float], plan: RoastPlan, moisture: float) -> None:
    ore = OreType("o", "Ore", minerals=tuple(Share(n, s) for n, s in shares.items()), moisture=moisture)
    f = feed(ore, "calcine", 100.0, 1.0, plan)
    numbers = [f.dry, f.raw, f.oxygen, f.sulphide, *f.oxides, *f.apart.values(), *f.gases.values()]
    assert f.roast is not None
    ranges = f.roast.figures.ranges
    for estimate in (ranges.change, ranges.sulphur, ranges.sulphide_sulphur, ranges.sulphate_sulphur, ranges.arsenic):
        numbers += [estimate.value, estimate.low, estimate.high]
    assert np.isfinite(numbers).all()
    said = [issue.sentence for issue in (*f.issues, *f.roast.programme.warnings)]
    assert all(sentence.endswith(".") for sentence in said)
    assert not moisture or any("moisture of 100 %" in sentence for sentence in said)
    assert "Cinnabar" not in shares or any("mercury" in sentence for sentence in said)
    if plan.kind == "weighed" and shares:
        grew = [issue for issue in f.issues if "grew by 40.0 %" in issue.sentence]
        assert [issue.severity for issue in grew] == [Severity.ERROR]
