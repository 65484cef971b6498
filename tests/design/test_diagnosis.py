"""From what was seen to probable causes, by what the recipe makes likely, and their mends."""

import math
from dataclasses import replace
from typing import Any

import pytest

from fluxlab import resources
from fluxlab.design import edits
from fluxlab.design.diagnosis import Diagnosis, diagnose, observations
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.mends import CANDIDATES
from fluxlab.design.diagnosis.priors import PRIORS, prior
from fluxlab.design.diagnosis.table import causes
from fluxlab.design.evaluate import evaluate
from fluxlab.design.fluid_types import FluidReport, Likely
from fluxlab.design.recipe import Line, Work
from fluxlab.design.start import demo_work
from tests.design.diagnosis_works import (
    ARSENIC,
    BASIC,
    COPPERY,
    HURRIED,
    HYDRATED,
    IRONY,
    LEAD,
    NITRE,
    RAW,
    SAND,
    SODA,
    SULPHATE,
    TROUBLES,
    WORKS,
    ZINCKY,
)
from tests.works import with_lines

EVERY = tuple(look.key for look in observations())


def order(work: Work, *seen: str) -> list[str]:
    return [cause.key for cause in diagnose(evaluate(work), seen).causes]


def test_every_look_points_to_a_cause_with_words_a_change_and_a_source() -> None:
    table = causes()
    for look in observations():
        assert look.points_to, look.key
        assert look.words
        assert look.group
        assert _stated(look.source), look.key
        for cause, strength in look.points_to:
            row = table[cause]
            assert 0.0 < strength <= 1.0
            assert row["words"]
            assert row["change"]
            assert _stated(row["source"]), cause
    assert {cause for look in observations() for cause, _ in look.points_to} == set(table)


def _stated(source: str) -> bool:
    return any(state in source for state in ("found", "from memory", "computed", "judgement"))


def test_keys_groups_and_words_are_told_apart() -> None:
    assert len({look.words for look in observations()}) == len(observations())
    groups = [look.group for look in observations()]
    assert len(set(groups)) == sum(1 for i, g in enumerate(groups) if i == 0 or g != groups[i - 1])


def test_what_decides_by_the_recipe_is_a_cause_of_the_table() -> None:
    assert set(PRIORS) <= set(causes())
    assert set(CANDIDATES) <= set(causes())


@pytest.mark.parametrize(
    ("look", "here", "there"),
    [
        ("slag-red", COPPERY, IRONY),
        ("slag-liver", COPPERY, IRONY),
        ("slag-black", IRONY, TROUBLES["pyrolusite"]),
        ("button-large", LEAD, COPPERY),
        ("layer-grey", RAW, SULPHATE),
        ("slag-milky", ZINCKY, IRONY),
        ("fume-white", ZINCKY, ARSENIC),
        ("boil-over", HYDRATED, NITRE),
        ("button-small", RAW, IRONY),
        ("slag-prills", edits.set_pour_temperature(demo_work(), 1050.0)[1], HURRIED),
        ("pot-thin", BASIC, NITRE),
        ("layer-watery", NITRE, with_lines(demo_work(), SODA, SAND, Line("salt", 60.0))),
    ],
    ids=lambda v: v if isinstance(v, str) else "",
)
def test_the_same_look_on_two_recipes_has_its_causes_in_two_orders(look: str, here: Work, there: Work) -> None:
    assert sorted(order(here, look)) == sorted(order(there, look))
    assert order(here, look) != order(there, look)


@pytest.mark.parametrize(
    ("look", "work", "first"),
    [
        ("slag-red", COPPERY, "copper-slag"),
        ("slag-red", IRONY, "ferric-iron"),
        ("layer-grey", RAW, "matte"),
        ("layer-grey", SULPHATE, "sulphate-left"),
        ("layer-white", ARSENIC, "speiss"),
        ("boil-over", HYDRATED, "hydrated"),
        ("boil-over", NITRE, "nitre"),
        ("fume-white", ZINCKY, "zinc-fume"),
        ("pot-thin", NITRE, "nitre"),
        ("slag-smells", RAW, "soda-sulphide"),
    ],
)
def test_the_recipe_decides_which_cause_stands_first(look: str, work: Work, first: str) -> None:
    assert order(work, look)[0] == first


def test_two_looks_together_favour_the_cause_that_both_point_to() -> None:
    alone = diagnose(evaluate(IRONY), ("slag-pasty",)).causes
    both = diagnose(evaluate(IRONY), ("slag-pasty", "slag-magnetic")).causes
    share = {cause.key: cause.share for cause in alone}
    (ferric,) = (cause for cause in both if cause.key == "ferric-iron")
    assert ferric.share > share["ferric-iron"]
    assert ferric.seen == ("slag-pasty", "slag-magnetic")


@pytest.mark.parametrize("name", WORKS)
def test_shares_add_up_and_fall_and_every_cause_says_why_with_a_figure(name: str) -> None:
    report = evaluate(WORKS[name])
    for key in EVERY:
        found = diagnose(report, (key,))
        assert found.issues == ()
        assert found.causes
        shares = [cause.share for cause in found.causes]
        assert sum(shares) == pytest.approx(100.0)
        assert shares == sorted(shares, reverse=True)
        for cause in found.causes:
            assert all(math.isfinite(s) and s > 0.0 for s in shares)
            assert cause.why
            assert "nan" not in cause.why
            assert cause.change
            assert cause.source
            assert cause.seen == (key,)


def test_an_unknown_look_gives_words_and_the_known_ones_count() -> None:
    found: Diagnosis = diagnose(evaluate(demo_work()), ("purple haze", "slag-black"))
    assert found.causes
    (issue,) = found.issues
    assert "purple haze" in issue.sentence
    assert issue.remedy


def test_nothing_seen_gives_words() -> None:
    found = diagnose(evaluate(demo_work()), ())
    assert found.causes == ()
    assert "Nothing was noted" in found.issues[0].sentence


def test_the_numbers_of_the_table_are_plain() -> None:
    table: dict[str, Any] = resources.toml("diagnosis.toml")
    assert set(table) == {"cause", "observation"}
    assert (len(table["cause"]), len(table["observation"])) == (59, 64)


def test_the_pot_s_own_figures_stand_in_the_reasons() -> None:
    raw = {c.key: c.why for c in diagnose(evaluate(RAW), ("layer-grey", "button-small")).causes}
    assert "g of matte is to be expected" in raw["matte"]
    assert "of what is to be reduced" in raw["under-reduced"] or "nothing in the pot" in raw["under-reduced"]
    arsenic = {c.key: c.why for c in diagnose(evaluate(ARSENIC), ("layer-white",)).causes}
    assert "g of speiss is to be expected" in arsenic["speiss"]


def test_the_same_matte_layer_is_likelier_matte_where_the_pot_expects_it() -> None:
    def share(work: Work) -> float:
        return next(c.share for c in diagnose(evaluate(work), ("layer-grey",)).causes if c.key == "matte")

    assert share(RAW) > 3.0 * share(SULPHATE) > 0.0


def test_a_viscosity_that_is_known_decides_whether_the_slag_was_stiff() -> None:
    report = evaluate(demo_work())

    def odds(viscosity: float) -> float:
        likely = Likely(viscosity, viscosity, viscosity, viscosity, viscosity)
        return prior("stiff-slag", Figures(replace(report, fluid=liquid(likely)))).odds

    assert odds(0.3) < 0.2 < 1.0 < odds(9.0)


def liquid(at_pour: Likely) -> FluidReport:
    return FluidReport(
        pour=1150.0, limit=None, floor=0.01, curve=None, at_pour=at_pour, below_floor=False, chance=None,
        confidence="low", pour_wanted=None, leaves_pot=None, liquidus=None, melt_free=None, density=None,
        surface_tension=None, heat=None, crystals=(), moves=(), issues=(), sources=(),
    )  # fmt: skip
