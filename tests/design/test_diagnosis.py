"""From what was seen to probable causes, by what the recipe makes likely, and their mends."""

import math
from dataclasses import replace
from typing import Any

import pytest

from fluxlab import resources
from fluxlab.design import edits
from fluxlab.design.balance import balance
from fluxlab.design.diagnosis import Diagnosis, apply_mend, diagnose, observations
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.mends import MENDERS, mends
from fluxlab.design.diagnosis.priors import PRIORS, prior
from fluxlab.design.diagnosis.table import causes
from fluxlab.design.evaluate import evaluate
from fluxlab.design.fluid_types import FluidReport, Likely
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_types import Mend
from fluxlab.design.start import demo_work
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import CLEAN, DIRTY, empty_recipe, with_lines, work_of

EVERY = tuple(look.key for look in observations())


def ore(*minerals: tuple[str, float]) -> OreType:
    return OreType("o", "Ore", minerals=tuple(Share(*m) for m in minerals), silver=Grade(500.0))


SODA, SAND, BORAX = Line("soda-ash-dense", 60.0), Line("silica-sand", 40.0), Line("borax-glass", 30.0)
RAW = with_lines(
    work_of(ore(("Galena", 40.0), ("Pyrite", 30.0), ("Quartz", 30.0)), pot_feed="concentrate"), SODA, SAND, BORAX
)
SULPHATE = with_lines(work_of(ore(("Anglesite", 30.0), ("Galena", 20.0), ("Quartz", 50.0))), SODA, SAND, BORAX)
COPPERY = with_lines(work_of(ore(("Chalcopyrite", 60.0), ("Quartz", 40.0))), SODA, SAND, BORAX)
IRONY = with_lines(work_of(ore(("Hematite", 80.0), ("Quartz", 20.0))), SODA, SAND, BORAX)
ZINCKY = with_lines(work_of(ore(("Sphalerite (pure)", 60.0), ("Quartz", 40.0))), SODA, SAND, BORAX)
ARSENIC = with_lines(work_of(ore(("Mimetite", 30.0), ("Hematite", 40.0), ("Quartz", 30.0))), SODA, SAND, BORAX)
NITRE = with_lines(work_of(CLEAN, "nitre"), SODA, SAND, BORAX, Line("nitre", 25.0))
HYDRATED = with_lines(demo_work(), Line("borax-decahydrate", 160.0), SODA, SAND)
BASIC = with_lines(
    work_of(ore(("Calcite", 80.0), ("Quartz", 20.0)), pot_feed="concentrate"), Line("soda-ash-dense", 120.0)
)
LEAD = with_lines(
    work_of(CLEAN, "lead collection"), SODA, SAND, BORAX, Line("litharge", 100.0), Line("wheat-flour", 4.0)
)
HURRIED = edits.set_hold(edits.set_pour_temperature(demo_work(), 1250.0)[1], 1.0)[1]
NOTHING = Work(empty_recipe(), demo_work().shelf)
WORKS = {
    "demo": demo_work(),
    "dirty": work_of(DIRTY),
    "raw": RAW,
    "sulphate": SULPHATE,
    "coppery": COPPERY,
    "irony": IRONY,
    "zincky": ZINCKY,
    "arsenic": ARSENIC,
    "nitre": NITRE,
    "hydrated": HYDRATED,
    "basic": BASIC,
    "lead": LEAD,
    "nothing": NOTHING,
}


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
    assert set(MENDERS) <= set(causes())


@pytest.mark.parametrize(
    ("look", "here", "there"),
    [
        ("slag-red", COPPERY, IRONY),
        ("slag-black", IRONY, demo_work()),
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


@pytest.mark.parametrize("name", WORKS)
def test_every_mend_changes_the_recipe_and_leaves_one_that_can_be_weighed(name: str) -> None:
    work = WORKS[name]
    report = evaluate(work)
    for cause in causes():
        for mend in mends(cause, Figures(report)):
            label, mended = apply_mend(work, mend)
            assert label
            assert mended != work, (cause, mend)
            again = balance(mended)
            assert math.isfinite(again.feed.charge), (cause, mend)
            assert all(math.isfinite(grams) and grams >= 0.0 for grams in again.x.tolist()), (cause, mend)


def test_every_mender_is_offered_by_one_of_the_recipes() -> None:
    offered = {cause for work in WORKS.values() for cause in MENDERS if mends(cause, Figures(evaluate(work)))}
    assert offered == set(MENDERS)


def test_iron_for_a_matte_takes_its_sulphur_and_the_rule_goes_quiet() -> None:
    (iron,) = [m for m in mends("matte", Figures(evaluate(RAW))) if m.edit == "fix_weight"]
    _, mended = apply_mend(RAW, iron)
    assert "R23" in {c.rule for c in evaluate(RAW).cautions}
    assert "R23" not in {c.rule for c in evaluate(mended).cautions}


def test_a_roast_first_takes_the_sulphide_out_of_the_pot() -> None:
    (roast,) = [m for m in mends("matte", Figures(evaluate(RAW))) if m.edit == "set_pot_feed"]
    assert Figures(evaluate(apply_mend(RAW, roast)[1])).sulphide_sulphur == 0.0


def test_reducer_for_ferric_iron_brings_it_down() -> None:
    (charcoal,) = mends("ferric-iron", Figures(evaluate(IRONY)))
    before, after = evaluate(IRONY), evaluate(apply_mend(IRONY, charcoal)[1])
    assert Figures(after).oxide("Fe2O3") < 0.2 * Figures(before).oxide("Fe2O3")


def test_no_iron_is_offered_beside_nitre() -> None:
    both = edits.fix_weight(RAW, "nitre", 5.0)[1]
    assert all(m.arguments[:1] != ("iron-filings",) for m in mends("matte", Figures(evaluate(both))))


def test_a_flux_that_the_shelf_has_not_is_not_offered() -> None:
    bare = replace(IRONY, shelf=replace(IRONY.shelf, fluxes=IRONY.shelf.fluxes[:1]))
    assert mends("ferric-iron", Figures(evaluate(bare))) == ()


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


def test_a_mend_that_is_no_edit_is_a_fault_of_ours() -> None:
    with pytest.raises(ValueError):
        apply_mend(demo_work(), Mend("Show", "show_cautions"))


def test_the_numbers_of_the_table_are_plain() -> None:
    table: dict[str, Any] = resources.toml("diagnosis.toml")
    assert set(table) == {"cause", "observation"}
    assert (len(table["cause"]), len(table["observation"])) == (59, 63)


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
