"""Whatever is edited, in whatever order: a report without a NaN, a ticket, and a document that reads back the same."""

import math
import random
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from fluxlab.design import edits
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Target, Work
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import build
from fluxlab.design.workshop import Workshop
from fluxlab.materials.minerals import minerals
from fluxlab.ore.demo import demo_ores
from fluxlab.ore.mostly import choices, new_ore
from fluxlab.ore.ore_types import Grade, Lot, OreType, Share
from fluxlab.ore.roast_types import RoastPlan
from tests.design.test_evaluate import ROUTES, musts_broken, numbers
from tests.works import CLEAN, DIRTY, work_of

STEPS = 150
WEIGHTS = (0.0, 1e-6, 0.1, 1.0, 5.0, 20.0, 100.0, 1000.0, 4999.0)
TARGETS = (
    *("degree", "borate", "basicity", "optical", "cap:ZnO", "cap:CaO", "cap:PbO", "fluorspar", "cover", "parts"),
    *("flux_to_ore", "loose_fill", "gas_fill", "melt_fill", "mould_fill", "soda_for_sulphur", "lead_button"),
)
CONVENTIONS = (None, "S", "SB", "SBA base", "SBA acid", "all soda")
SYMBOLS = ("SiO2", "Fe2O3", "CaO", "Fe", "S", "Pb", "Zn", "Si", "As", "LOI", "CO2", "F", "P2O5")

Edit = Callable[[random.Random, Work], tuple[str, Work]]


def a_flux(r: random.Random, work: Work) -> str:
    return r.choice(work.shelf.fluxes).uid


def a_target(r: random.Random, work: Work) -> tuple[str, Work]:
    kinds: Any = (r.choice(("must", "wish")), r.choice(("must", "wish")))
    ends = (r.choice((None, 0.0, 0.5, 2.0, 10.0)), r.choice((None, 0.2, 1.0, 3.0, 60.0)))
    convention: Any = r.choice(CONVENTIONS)
    return edits.set_target(work, Target(r.choice(TARGETS), *ends, *kinds, r.random() < 0.9, False, convention))


def another_ore(r: random.Random, work: Work) -> tuple[str, Work]:
    by_eye = new_ore("new", "New", r.choice(choices()).key, Grade(100.0, "g/t"))
    return edits.set_ore(work, r.choice((by_eye, *demo_ores())))


def ore_state(r: random.Random, work: Work) -> tuple[str, Work]:
    stage: Any = r.choice(("ore", "concentrate", "calcine"))
    ore = replace(work.recipe.ore, as_is=r.random() < 0.5, moisture=r.choice((0.0, 3.0, 60.0, 100.0)), stage=stage)
    return edits.set_ore(work, ore)


def a_roast(r: random.Random, work: Work) -> tuple[str, Work]:
    kind: Any = r.choice(("perfect", "planned", "weighed"))
    plan = RoastPlan(
        kind,
        finish_temperature=r.choice((0.0, 20.0, 600.0, 740.0, 1000.0, 9999.0)),
        minutes=r.choice((0.0, 20.0, 90.0, 1e5)),
        bed_depth=r.choice((0.0, 10.0, 60.0)),
        rabbled=r.random() < 0.7,
        particle_size=r.choice((0.0, 0.1, 2.0)),
        before=r.choice((None, 0.0, 100.0, 250.0)),
        after=r.choice((None, 0.0, 80.0, 140.0, 249.0)),
        balance_error=r.choice((0.0, 0.1, 50.0)),
        sulphate=r.choice(((), (("Pb", 1.0), ("Ca", 1.0)), (("Pb", -1.0),))),
    )
    return edits.set_roast(work, plan)


def a_lot(r: random.Random, work: Work) -> tuple[str, Work]:
    grades = (None, Grade(0.0), Grade(40.0, "oz/short ton"), Grade(2000.0), Grade(99.0, "%"))
    masses = (None, 0.0, 600.0, 20_000.0)
    return edits.set_lot(
        work, Lot(r.choice(masses), r.choice(masses), *(r.choice(grades) for _ in range(4)), r.choice(masses), 2.0)
    )


def an_own_figure(r: random.Random, work: Work) -> tuple[str, Work]:
    share = r.choice((None, 0.0, 0.5, 1.0, 7.0, -1.0))
    if r.random() < 0.5:
        kind: Any = r.choice(("arsenate", "antimony_fumed", "magnetite", "silver_loss"))
        return edits.set_roast_figure(work, kind, share)
    name = r.choice((*(s.what for s in work.recipe.ore.minerals), "Pb", "Fe", "Xx"))
    of: Any = r.choice(("conversion", "sulphate"))
    return edits.set_roast_share(work, of, name, share)


def a_card(r: random.Random, work: Work) -> tuple[str, Work]:
    yes: Any = (None, True, False)
    card = Workshop(
        indoors=r.choice(yes),
        fuel=r.choice(("", "propane", "electric")),
        co_alarm=r.choice(yes),
        alone=r.choice(yes),
        ppe=r.choice(yes),
        quench=r.random() < 0.2,
        air_ratio=r.choice((None, 0.0, 0.8, 1.2)),
        mould_opened_after=r.choice((None, 0.0, 30.0)),
        pot_wall_left=r.choice((None, 0.0, 100.0)),
    )
    return edits.set_workshop(work, card)


EDITS: tuple[Edit, ...] = (
    a_roast,
    a_roast,
    an_own_figure,
    a_card,
    lambda r, w: edits.set_roast_kind(w, r.choice(("perfect", "planned", "weighed"))),
    lambda r, w: edits.plan_roast(w, r.choice((300.0, 740.0, 900.0)), r.choice((0.0, 90.0))),
    lambda r, w: edits.lay_bed(w, r.choice((1.0, 40.0)), r.random() < 0.5, r.choice((0.05, 1.0))),
    lambda r, w: edits.weigh_roast(w, r.choice((None, 100.0)), r.choice((None, 60.0, 99.0, 140.0))),
    a_lot,
    lambda r, w: edits.set_charge(w, r.choice(WEIGHTS)),
    lambda r, w: edits.fix_weight(w, a_flux(r, w), r.choice((*WEIGHTS, None))),
    lambda r, w: edits.set_limits(w, a_flux(r, w), r.choice((*WEIGHTS, None)), r.choice((*WEIGHTS, None))),
    lambda r, w: edits.add_flux(w, a_flux(r, w)),
    lambda r, w: edits.remove_flux(w, r.choice(w.recipe.lines).flux if w.recipe.lines else ""),
    lambda r, w: edits.set_route(w, r.choice(ROUTES)),  # type: ignore[arg-type]
    lambda r, w: edits.set_goal(w, r.choice(("least flux", "least cost", "closest to house recipe"))),  # type: ignore[arg-type]
    lambda r, w: edits.set_pot_feed(w, r.choice(("ore", "concentrate", "calcine"))),  # type: ignore[arg-type]
    lambda r, w: edits.set_ferric_share(w, r.choice((None, 0.0, 0.3, 1.0))),
    lambda r, w: edits.set_feeds(w, r.randint(1, 6)),
    lambda r, w: edits.set_crystal_figure(
        w,
        r.choice(("Willemite (zinc silicate)|ZnO|starts", "Undissolved quartz||low", "no such crystal")),
        r.choice((None, 0.0, 12.5, 1100.0, 1e9, float("nan"))),
    ),
    lambda r, w: edits.set_lot_figure(
        w, r.choice(("head", "tail", "shape", "liberation")), r.choice((None, 0.0, 0.5, 60.0))
    ),
    lambda r, w: edits.set_programme_figure(
        w, r.choice(("doubling", "air_least", "minutes:Galena", "liquid:PbO SiO2")), r.choice((None, 0.0, 3.0, 60.0))
    ),
    lambda r, w: edits.set_pot_figure(
        w, r.choice(("matte_ratio", "handling", "prill", "burner_share")), r.choice((None, 0.0, 0.5, 60.0))
    ),
    lambda r, w: edits.set_crucible(w, r.choice(("", *(c.uid for c in w.shelf.crucibles)))),
    lambda r, w: edits.set_mould(w, r.choice(("", *(m.uid for m in w.shelf.moulds)))),
    lambda r, w: edits.add_share(
        w, "minerals", Share(r.choice(tuple(minerals())), r.choice((0.0, 5.0, 90.0)), 0.0, 95.0)
    ),
    lambda r, w: edits.add_share(w, "oxides", Share(r.choice(SYMBOLS), r.choice((0.0, 5.0, 90.0)))),
    lambda r, w: edits.add_share(w, "elements", Share(r.choice(SYMBOLS), r.choice((0.0, 5.0, 90.0)))),
    lambda r, w: edits.set_known_by(w, r.choice(("minerals", "oxides", "elements"))),  # type: ignore[arg-type]
    lambda r, w: edits.tick_mineral(w, r.choice(tuple(minerals())), True),
    lambda r, w: edits.set_grade(
        w, "silver", r.choice((None, Grade(0.0), Grade(500.0, "oz/short ton"), Grade(99.0, "%")))
    ),
    a_target,
    a_target,
    another_ore,
    ore_state,
)


@pytest.mark.parametrize("seed", range(4))
def test_any_row_of_edits_leaves_a_sound_report(seed: int) -> None:
    r = random.Random(seed)
    work = demo_work()
    for step in range(STEPS):
        label, work = r.choice(EDITS)(r, work)
        report = evaluate(work)
        assert [path for path, number in numbers(report) if not math.isfinite(number)] == [], (step, label)
        assert all(line.grams >= 0.0 for line in report.lines), (step, label)
        if step % 10 == 0:
            ticket = build(report, revision=1, copy=1, when=datetime(2026, 1, 1), confirmed=("R01", "R02"))
            assert ticket.total == pytest.approx(sum(row.grams for row in ticket.rows), abs=1e-6)


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
@pytest.mark.parametrize("route", ROUTES)
def test_every_route_has_a_ticket_that_keeps_the_musts_it_kept(ore: OreType, route: str) -> None:
    work = work_of(ore, route, pot_feed="calcine")
    report = evaluate(work)
    ticket = build(report, revision=1, copy=1, when=datetime(2026, 1, 1))
    weighed = tuple((row.what, row.grams) for row in ticket.rows[1:])
    _, fixed = edits.paste_weights(work, weighed)
    assert not ticket.kept or musts_broken(evaluate(fixed)) == []
    assert ticket.kept == (musts_broken(report) == [])
