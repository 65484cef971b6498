"""A planned roast: hotter splits more sulphate, longer burns more, and every mineral has its row."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.materials.minerals import minerals
from fluxlab.ore.analysis import mix
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.roast import roasted
from fluxlab.ore.roast_arrays import METALS, arrays
from fluxlab.ore.roast_figures import roast_of
from fluxlab.ore.roast_kinetics import course, persistence, ramps
from fluxlab.ore.roast_state import planned_state, sound_plan
from fluxlab.ore.roast_tables import Sulphate, burning, decompositions, sulphates
from fluxlab.ore.roast_tables import settings as roast_settings
from fluxlab.ore.roast_types import RoastPlan, RoastState
from tests.ore.roasts import MIX

PLAN = RoastPlan("planned")
LEAD_ORE = {"Galena": 40.0, "Pyrite": 25.0, "Quartz": 20.0, "Sphalerite (pure)": 10.0, "Calcite": 5.0}


def state_of(shares: dict[str, float], plan: RoastPlan) -> RoastState:
    kinds = tuple(minerals()[name] for name in shares)
    x = np.array(list(shares.values())) / sum(shares.values())
    a = arrays(kinds)
    return planned_state(a, x, plan, course(a, x, plan))


def ore_of(shares: dict[str, float]) -> OreType:
    return OreType("o", "Ore", minerals=tuple(Share(name, value) for name, value in shares.items()))


def test_every_mineral_that_a_roast_changes_burns_or_falls_apart() -> None:
    for name, mineral in minerals().items():
        changes = mineral.roast == "dries" or dict(roasted(mineral).solids) != {mineral.formula: 1.0}
        oxidised = {"Ag", "O"} & mineral.read.atoms.keys() or not mineral.read.atoms.keys() - {"Ag", "Au"}
        if name in burning() or name in decompositions():
            assert changes, name
        elif changes:
            # What only divides into its own oxides, or is a metal that stays one, needs no row.
            assert oxidised, name
            assert roasted(mineral).mass == pytest.approx(1.0, abs=1e-9), name
    assert not burning().keys() & decompositions().keys()
    assert burning().keys() | decompositions().keys() <= minerals().keys()


def test_every_row_says_where_it_comes_from() -> None:
    flags = ("found", "computed", "from memory", "judgement", "common practice")
    rows = [row.source for row in decompositions().values()]
    rows += [text for row in burning().values() for text in (row.tau_source, row.ignition_source, row.heat_source)]
    rows += [text for row in sulphates() for text in (row.source, row.found_source, row.formed.source)]
    assert all(text == "" or text.startswith(flags) for text in rows)
    assert all(row.source and row.formed.source for row in sulphates())


@pytest.mark.parametrize("metal", [row.element for row in sulphates()])
def test_a_hotter_finish_leaves_less_of_every_sulphate(metal: str) -> None:
    found = [dict(state_of(LEAD_ORE, replace(PLAN, finish_temperature=t)).sulphate)[metal] for t in range(500, 840, 20)]
    assert all(a > b for a, b in pairwise(found))


@pytest.mark.parametrize("row", sulphates(), ids=lambda row: row.sulphate)
def test_half_of_a_sulphate_outlasts_its_temperature_and_nine_tenths_of_the_span_take_the_rest(row: Sulphate) -> None:
    at, half = METALS.index(row.element), 0.5 * (row.t_high - row.t_low)
    for temperature, left in ((row.t_mid - half, 0.9), (row.t_mid, 0.5), (row.t_mid + half, 0.1)):
        assert persistence(np.array([temperature]), 20.0)[0][at] == pytest.approx(left, abs=1e-4)
    assert persistence(np.array([row.t_mid]), 0.0)[0][at] == 1.0


def test_burning_doubles_per_sixty_degrees_and_goes_with_bed_and_grain() -> None:
    kinds = (minerals()["Galena"],)
    a, x = arrays(kinds), np.array([1.0])

    def progress(**changes: object) -> float:
        return float(course(a, x, replace(PLAN, finish_temperature=400.0, **changes)).progress[0])  # type: ignore[arg-type]

    plain = progress()
    assert progress(minutes=180.0) == pytest.approx(2.0 * plain)
    assert progress(bed_depth=20.0) == pytest.approx(plain / 2.0**1.5)
    assert progress(rabbled=False) == pytest.approx(plain / 3.0)
    assert progress(particle_size=0.4) == pytest.approx(plain / 4.0)
    held = [float(course(a, x, replace(PLAN, finish_temperature=t, minutes=60.0)).progress[0]) for t in (280.0, 340.0)]
    assert held[1] == pytest.approx(2.0 * held[0])


def test_galena_at_six_hundred_takes_an_hour() -> None:
    """The table's own time: a tenth of a millimetre in 10 mm, stirred, at 600 degC throughout."""
    kinds = (minerals()["Galena"],)
    a, x = arrays(kinds), np.array([1.0])
    shares = (0.45, 0.25)  # main burn and finish
    hot = course(a, x, replace(PLAN, finish_temperature=600.0, minutes=100.0)).progress[0]
    colder = course(a, x, replace(PLAN, finish_temperature=540.0, minutes=100.0)).progress[0]
    assert 100.0 * sum(shares) / 60.0 * 0.75 < hot < 100.0 / 60.0
    assert hot > colder


def test_a_commercially_dead_roast_keeps_fifteen_hundredths_of_sulphide_sulphur() -> None:
    left = roast_of(mix(ore_of({"Pyrite": 60.0, "Quartz": 40.0})), replace(PLAN, minutes=500.0)).left
    assert left is not None
    assert 100.0 * left.sulphide_sulphur / left.roasted.mass == pytest.approx(0.15, abs=0.01)


def test_fusible_sulphides_keep_the_low_roast_low_without_a_jump() -> None:
    tops = [ramps(PLAN, share)[0].end for share in np.linspace(0.0, 0.5, 501)]
    assert tops[0] == 550.0
    assert 450.0 < tops[-1] < 460.0
    assert max(abs(np.diff(tops))) < 5.0


def test_the_low_roast_begins_where_the_plan_says_and_never_falls_below_it() -> None:
    assert ramps(PLAN, 0.0)[0].start == 350.0
    warm = ramps(replace(PLAN, start_temperature=500.0), 0.3)
    assert (warm[0].start, warm[0].end) == (500.0, 500.0)
    hot = ramps(replace(PLAN, start_temperature=700.0), 0.0)
    assert [(r.start, r.end) for r in hot] == [(700.0, 700.0), (700.0, 700.0), (740.0, 740.0)]
    over = ramps(replace(PLAN, start_temperature=900.0), 0.0)
    assert {end for r in over for end in (r.start, r.end)} == {740.0}


def test_the_usual_plan_is_that_of_the_table() -> None:
    usual = roast_settings()["defaults"]
    for field in ("start_temperature", "finish_temperature", "minutes"):
        assert getattr(RoastPlan(), field) == usual[field]


def test_a_roast_that_begins_above_its_finish_says_so() -> None:
    _, issues = sound_plan(replace(PLAN, start_temperature=500.0, finish_temperature=450.0))
    assert ["450 °C is used throughout" in issue.sentence for issue in issues] == [True]
    assert sound_plan(replace(PLAN, start_temperature=450.0, finish_temperature=450.0))[1] == ()


def test_lime_lead_and_manganese_keep_arsenic() -> None:
    plain = state_of({"Arsenopyrite": 20.0, "Quartz": 80.0}, PLAN).arsenate
    limed = state_of({"Arsenopyrite": 20.0, "Calcite": 80.0}, PLAN).arsenate
    assert plain == pytest.approx(0.05)
    assert 0.3 < limed < 0.4


def test_own_figures_overrule_the_program_s() -> None:
    plan = replace(
        PLAN, conversion=(("Galena", 0.4),), sulphate=(("Pb", 0.1),), arsenate=0.9, antimony_fumed=0.0, magnetite=0.3
    )
    state = state_of(LEAD_ORE, plan)
    assert dict(state.conversion)["Galena"] == 0.4
    assert dict(state.sulphate)["Pb"] == 0.1
    assert (state.arsenate, state.antimony_fumed, state.magnetite) == (0.9, 0.0, 0.3)
    found = roast_of(mix(ore_of(LEAD_ORE)), replace(plan, silver_loss=0.07)).figures.silver_loss
    assert (found.low, found.value, found.high) == pytest.approx((7.0, 7.0, 7.0))
    assert found.source == "your own figure"


@settings(max_examples=60, deadline=None)
@given(
    MIX,
    st.floats(20.0, 1300.0),
    st.floats(0.0, 600.0),
    st.floats(1.0, 80.0),
    st.floats(0.03, 3.0),
    st.booleans(),
)
def test_a_little_more_heat_or_time_changes_little(
    shares: dict[str, float], finish: float, minutes: float, bed: float, grain: float, rabbled: bool
) -> None:
    m = mix(ore_of(shares))
    plan = RoastPlan("planned", finish, minutes, bed, rabbled, grain)
    here = roast_of(m, plan).left
    for other in (
        replace(plan, finish_temperature=finish - 1e-6 if finish > 100.0 else finish + 1e-6),
        replace(plan, start_temperature=plan.start_temperature + 1e-6),
        replace(plan, minutes=minutes + 1e-7),
        replace(plan, bed_depth=bed * (1.0 + 1e-8)),
        replace(plan, particle_size=grain * (1.0 + 1e-8)),
    ):
        there = roast_of(m, other).left
        assert here is not None
        assert there is not None
        assert abs(here.roasted.mass - there.roasted.mass) < 1e-4
        assert abs(here.sulphide_sulphur - there.sulphide_sulphur) < 1e-4
        assert abs(here.sulphate_sulphur - there.sulphate_sulphur) < 1e-4


BAD = [
    {"start_temperature": float("nan")},
    {"start_temperature": 5000.0},
    {"finish_temperature": float("nan")},
    {"finish_temperature": 5000.0},
    {"finish_temperature": -300.0},
    {"minutes": -1.0},
    {"minutes": float("inf")},
    {"bed_depth": 0.0},
    {"particle_size": 0.0},
    {"balance_error": -1.0},
    {"arsenate": 1.5},
    {"sulphate": (("Pb", float("nan")),)},
    {"conversion": (("Pyrite", -0.1),)},
]


@pytest.mark.parametrize("bad", BAD, ids=str)
def test_a_number_that_makes_no_sense_is_said_and_not_used(bad: dict[str, object]) -> None:
    plan, issues = sound_plan(replace(PLAN, **bad))  # type: ignore[arg-type]
    assert plan == PLAN
    assert [issue.severity for issue in issues] == [Severity.ERROR]
    assert issues[0].sentence.endswith(".")
    assert issues[0].remedy


def test_a_sound_plan_is_left_alone() -> None:
    assert sound_plan(PLAN) == (PLAN, ())
