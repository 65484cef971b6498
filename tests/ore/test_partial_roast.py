"""The partial roast: nothing is created or lost, the labile part goes first, and nothing jumps."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from fluxlab.materials.formulas import formula
from fluxlab.materials.minerals import Mineral, minerals
from fluxlab.ore.partial_roast import partial_roast
from fluxlab.ore.roast import roasted, total
from fluxlab.ore.roast_arrays import METALS
from fluxlab.ore.roast_stages import stages
from fluxlab.ore.roast_types import PERFECT, RoastState
from tests.ore.roasts import elements, mixes_with_states, named

Case = tuple[list[Mineral], list[float], RoastState]
ALL = tuple((metal, 1.0) for metal in METALS)


@settings(max_examples=400)
@given(mixes_with_states())
def test_every_element_and_the_mass_are_kept(case: Case) -> None:
    kinds, grams, state = case
    left = partial_roast(kinds, grams, state)
    limit = 1e-9 * max(1.0, sum(grams))
    before = elements({"O": left.roasted.oxygen}, *({m.formula: g} for m, g in zip(kinds, grams, strict=True)))
    after = elements(left.roasted.solids, left.roasted.gases)
    for symbol in before.keys() | after.keys():
        assert after.get(symbol, 0.0) == pytest.approx(before.get(symbol, 0.0), abs=limit), symbol
    out = left.roasted.mass + sum(left.roasted.gases.values())
    assert left.mass + left.roasted.oxygen == pytest.approx(out, abs=limit)
    assert left.roasted.mass == pytest.approx(float(np.array(grams) @ left.ratio), abs=limit)


@settings(max_examples=400)
@given(mixes_with_states())
def test_nothing_is_less_than_nothing(case: Case) -> None:
    left = partial_roast(*case)
    assert min([0.0, left.roasted.oxygen, *left.roasted.solids.values(), *left.roasted.gases.values()]) >= -1e-12
    assert all(share >= -1e-12 for share in left.ratio)


@settings(max_examples=300)
@given(mixes_with_states())
def test_sulphur_and_arsenic_are_counted_as_the_solids_hold_them(case: Case) -> None:
    left = partial_roast(*case)
    limit = 1e-9 * max(1.0, left.mass)
    held = elements(left.roasted.solids)
    assert held.get("S", 0.0) == pytest.approx(left.sulphide_sulphur + left.sulphate_sulphur, abs=limit)
    assert held.get("As", 0.0) == pytest.approx(left.arsenic, abs=limit)


@settings(max_examples=200)
@given(mixes_with_states())
def test_all_burnt_and_no_side_reaction_is_the_perfect_roast(case: Case) -> None:
    kinds, grams, _ = case
    through = RoastState(tuple((m.name, 1.0) for m in kinds))
    ideal = total((g, roasted(m)) for m, g in zip(kinds, grams, strict=True))
    for state in (PERFECT, through):
        left = partial_roast(kinds, grams, state).roasted
        assert dict(left.solids) == pytest.approx(dict(ideal.solids), rel=1e-13, abs=1e-13)
        assert dict(left.gases) == pytest.approx(dict(ideal.gases), rel=1e-13, abs=1e-13)
        assert left.oxygen == pytest.approx(ideal.oxygen, rel=1e-13, abs=1e-13)


@pytest.mark.parametrize("name", list(minerals()))
def test_nothing_burnt_is_the_raw_mineral(name: str) -> None:
    mineral = minerals()[name]
    left = partial_roast([mineral], [7.0], RoastState(((name, 0.0),)))
    if {"C", "O"} <= mineral.read.atoms.keys() or mineral.roast != "unchanged":
        assert dict(left.unburnt) == pytest.approx({name: 7.0})
    assert left.roasted.mass == pytest.approx(7.0)
    assert dict(left.roasted.gases) == {}


def nudged(state: RoastState, by: float) -> list[RoastState]:
    """The state with each of its numbers moved a little, one at a time."""

    def moved(share: float) -> float:
        return share + by if share < 0.5 else share - by

    found = [
        replace(state, conversion=tuple((n, moved(v) if n == name else v) for n, v in state.conversion))
        for name, _ in state.conversion
    ]
    found += [
        replace(state, sulphate=tuple((n, moved(v) if n == metal else v) for n, v in state.sulphate))
        for metal, _ in state.sulphate
    ]
    return [
        *found,
        replace(state, arsenate=moved(state.arsenate)),
        replace(state, antimony_fumed=moved(state.antimony_fumed)),
        replace(state, magnetite=moved(state.magnetite)),
    ]


@settings(max_examples=120, deadline=None)
@given(mixes_with_states())
def test_a_little_more_of_anything_changes_little(case: Case) -> None:
    kinds, grams, state = case
    here = partial_roast(kinds, grams, state)
    mass = sum(grams)
    for other in nudged(state, 1e-6):
        there = partial_roast(kinds, grams, other)
        for one, two in (
            (here.roasted.mass, there.roasted.mass),
            (here.sulphide_sulphur, there.sulphide_sulphur),
            (here.sulphate_sulphur, there.sulphate_sulphur),
            (here.arsenic, there.arsenic),
            (here.roasted.oxygen, there.roasted.oxygen),
        ):
            assert abs(one - two) <= 2e-5 * mass


# Labile atoms of sulphur and arsenic, and what then stays: worked out by hand from the formulas.
LABILE = [
    ("Pyrite", 1 / 2, {"FeS": 1.0}),
    ("Covellite", 1 / 2, {"Cu2S": 0.5}),
    ("Chalcopyrite", 1 / 4, {"Cu2S": 0.5, "FeS": 1.0}),
    ("Pyrrhotite Fe7S8", 1 / 8, {"FeS": 7.0}),
    ("Arsenopyrite", 1 / 2, {"FeS": 1.0}),
    ("Enargite", 3.5 / 5, {"Cu2S": 1.5}),
    ("Proustite", 2.5 / 4, {"Ag2S": 1.5}),
    ("Tetrahedrite (Cu12)", 1 / 13, {"Cu2S": 6.0, "Sb2S3": 2.0}),
]
FIRM = [
    "Galena",
    "Sphalerite (pure)",
    "Stibnite",
    "Acanthite/argentite",
    "Pyrargyrite",
    "Cinnabar",
    "Realgar",
    "Quartz",
]


@pytest.mark.parametrize(("name", "turn", "stays"), LABILE)
def test_labile_sulphur_and_arsenic_leave_plain_sulphides(name: str, turn: float, stays: dict[str, float]) -> None:
    mineral = minerals()[name]
    assert stages(mineral).turn == pytest.approx(turn)
    left = partial_roast([mineral], [mineral.read.mass], RoastState(((name, turn),)))
    moles = {species: g / formula(species).mass for species, g in left.roasted.solids.items()}
    assert moles == pytest.approx(stays)
    assert left.arsenic == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("name", FIRM)
def test_what_holds_its_sulphur_fast_has_one_stage(name: str) -> None:
    assert stages(minerals()[name]).turn == 0.0
    assert stages(minerals()[name]).labile_gone is None


@pytest.mark.parametrize("through", [0.0, 0.2, 0.5, 0.7, 1.0])
@pytest.mark.parametrize("name", ["Pyrite", "Galena", "Chalcopyrite", "Stibnite"])
def test_conversion_is_the_share_of_the_sulphide_sulphur_that_is_gone(name: str, through: float) -> None:
    sulphur = minerals()[name].read.mass_fractions["S"]
    left = partial_roast(named(name), [100.0], RoastState(((name, through),)))
    assert left.sulphide_sulphur == pytest.approx((1.0 - through) * 100.0 * sulphur)


# Change of mass in % of the raw mineral: worked out apart from the program, from IUPAC weights.
MASS = [
    ("Galena", RoastState(sulphate=ALL), 26.75),
    ("Galena", RoastState(sulphate=(("Pb", 0.5),)), 10.02),
    ("Sphalerite (pure)", RoastState(sulphate=ALL), 65.68),
    ("Acanthite/argentite", RoastState(sulphate=ALL), 25.83),
    ("Covellite", RoastState(sulphate=ALL), 66.94),
    ("Chalcocite", RoastState(sulphate=(("Cu", 0.5),)), 50.26),
    ("Pyrite", RoastState(sulphate=ALL), 26.62),
    ("Alabandite", RoastState(sulphate=ALL), 73.56),
    ("Pyrite", RoastState((("Pyrite", 0.5),)), -26.72),
    ("Arsenopyrite", RoastState((("Arsenopyrite", 0.5),)), -46.01),
    ("Arsenopyrite", RoastState(arsenate=1.0), 19.61),
    ("Pyrite", RoastState(magnetite=1.0), -35.67),
]


@pytest.mark.parametrize(("name", "state", "change"), MASS)
def test_mass_effects_are_those_worked_out_apart(name: str, state: RoastState, change: float) -> None:
    assert 100.0 * partial_roast(named(name), [1.0], state).change == pytest.approx(change, abs=0.012)


@pytest.mark.parametrize(
    ("name", "metal", "change"),
    [("Calcite", "Ca", 36.02), ("Magnesite", "Mg", 42.75), ("Rhodochrosite", "Mn", 31.36)],
)
def test_a_carbonate_beside_enough_pyrite_gains_as_sulphate(name: str, metal: str, change: float) -> None:
    both = partial_roast(named(name, "Pyrite"), [1.0, 20.0], RoastState(sulphate=((metal, 1.0),)))
    assert 100.0 * (both.ratio[0] - 1.0) == pytest.approx(change, abs=0.012)
    assert both.roasted.solids.get("CaCO3", 0.0) == 0.0


def test_a_carbonate_takes_up_no_more_than_burns() -> None:
    state = RoastState((("Calcite", 0.0),), ALL)
    left = partial_roast(named("Calcite", "Pyrite"), [99.0, 1.0], state)
    assert left.roasted.gases.get("SO2", 0.0) == pytest.approx(0.0, abs=1e-12)
    assert left.sulphate_sulphur == pytest.approx(minerals()["Pyrite"].read.mass_fractions["S"])
    assert left.roasted.solids["CaCO3"] > 90.0
    alone = partial_roast(named("Calcite"), [1.0], state)
    assert dict(alone.roasted.solids) == pytest.approx({"CaCO3": 1.0})


def test_arsenic_stays_only_beside_a_base() -> None:
    kept = RoastState(arsenate=0.4)
    assert partial_roast(named("Realgar", "Quartz"), [50.0, 50.0], kept).arsenic == 0.0
    limed = partial_roast(named("Realgar", "Calcite"), [20.0, 80.0], kept)
    assert limed.arsenic == pytest.approx(0.4 * 20.0 * minerals()["Realgar"].read.mass_fractions["As"])
    alone = partial_roast(named("Arsenopyrite"), [100.0], RoastState(arsenate=1.0))
    assert alone.arsenic == pytest.approx(100.0 * minerals()["Arsenopyrite"].read.mass_fractions["As"])


def test_antimony_fumes_by_its_share() -> None:
    for share in (0.0, 0.25, 0.6):
        left = partial_roast(named("Stibnite"), [100.0], RoastState(antimony_fumed=share))
        gone = elements(left.roasted.gases).get("Sb", 0.0)
        assert gone == pytest.approx(share * 100.0 * minerals()["Stibnite"].read.mass_fractions["Sb"])


def test_native_sulphates_and_silicates_are_left_alone() -> None:
    kinds = named("Barite", "Gypsum", "Anorthite", "Diopside", "Hematite", "Pyrite")
    plain = partial_roast(kinds, [10.0] * 6, PERFECT)
    sulphated = partial_roast(kinds, [10.0] * 6, RoastState(sulphate=(("Ca", 1.0), ("Mg", 1.0))))
    assert dict(plain.roasted.solids) == pytest.approx(dict(sulphated.roasted.solids))


def test_a_batch_of_pyrite_galena_and_quartz_comes_out_as_worked_out_apart() -> None:
    """40 g pyrite, 30 g galena, 30 g quartz: 84.61 g and 50.75 g SO2, all lead as sulphate 94.64 g."""
    kinds, grams = named("Pyrite", "Galena", "Quartz"), [40.0, 30.0, 30.0]
    dead = partial_roast(kinds, grams, PERFECT)
    assert dead.roasted.mass == pytest.approx(84.61, abs=0.005)
    assert dead.roasted.gases["SO2"] == pytest.approx(50.75, abs=0.005)
    leaded = partial_roast(kinds, grams, RoastState(sulphate=(("Pb", 1.0),)))
    assert leaded.roasted.mass == pytest.approx(84.61 + 30.0 * (0.2675 + 0.0671), abs=0.01)
