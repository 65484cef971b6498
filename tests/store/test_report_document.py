"""Reports and tickets as documents."""

import json
from dataclasses import replace
from datetime import datetime

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.report_types import Report
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import build, reissued
from fluxlab.design.ticket_text import text_of
from fluxlab.store import report_document, report_keys
from tests.gui.fluids import doubted_fluid, sample_fluid

WHEN = datetime(2026, 3, 1, 14, 30)


@pytest.fixture(scope="module")
def report() -> Report:
    return evaluate(demo_work())


def test_a_ticket_is_read_back_equal_and_can_be_printed_once_more(report: Report) -> None:
    ticket = build(report, revision=3, copy=2, when=WHEN, confirmed=("R01",), mark=",")
    read = report_document.read_ticket(report_document.ticket_text(ticket))
    assert read.issues == ()
    assert read.value == ticket
    assert text_of(reissued(read.value, copy=3, when=WHEN)) == text_of(reissued(ticket, copy=3, when=WHEN))


def test_another_document_is_no_ticket(report: Report) -> None:
    read = report_document.read_ticket(report_document.report_text(report))
    assert "wanted is “ticket”" in read.issues[0].sentence


def test_a_spoilt_ticket_is_refused_with_its_place(report: Report) -> None:
    plain = json.loads(report_document.ticket_text(build(report, revision=None, copy=1, when=WHEN)))
    plain["ticket"]["when"] = "yesterday"
    plain["ticket"]["rows"][0]["grams"] = "100"
    read = report_document.read_ticket(json.dumps(plain))
    assert {issue.where for issue in read.issues} == {"ticket.when", "ticket.rows[0].grams"}


def test_costs_name_their_money(report: Report) -> None:
    shelf = report.work.shelf
    priced = replace(shelf, fluxes=tuple(replace(c, price=2.5) for c in shelf.fluxes), currency="£")
    costly = evaluate(replace(report.work, shelf=priced))
    plain = report_document.report_plain(costly)
    assert plain["currency"] == "£"
    assert plain["flux_cost"] == pytest.approx(2.5 * costly.flux_mass / 1000, rel=1e-9)
    assert sum(row["cost"] for row in plain["lines"]) == pytest.approx(plain["flux_cost"], rel=1e-9)


def test_an_unknown_figure_is_null(report: Report) -> None:
    bare = replace(report.work, recipe=replace(report.work.recipe, crucible="", mould=""))
    plain = report_document.report_plain(evaluate(bare))
    assert plain["fill"] is None
    assert plain["mould"] is None
    assert "NaN" not in json.dumps(plain)


@pytest.mark.parametrize("part", ["pot", "chance", "fluid"])
def test_what_is_told_of_pot_melt_and_chance_is_read_back_equal(report: Report, part: str) -> None:
    told = getattr(replace(report, fluid=report.fluid or doubted_fluid()), part)
    told = replace(told, issues=()) if hasattr(told, "issues") else told
    plain = json.loads(json.dumps(report_keys.REPORT_CODEC.plain(told)))
    read = report_keys.REPORT_CODEC.value(type(told), plain, part, ranges=False)
    assert read.issues == ()
    assert read.value == told


def test_figures_of_the_pot_and_of_the_melt_stand_under_keys_with_their_units(report: Report) -> None:
    melt = sample_fluid()
    plain = report_document.report_plain(replace(report, fluid=melt))
    assert plain["fluid"]["at_pour_pa_s"]["high90"] == melt.at_pour.high90
    assert plain["fluid"]["surface_tension_mn_per_m"]["value"] == melt.surface_tension.value
    button = report.pot.button
    assert plain["pot"]["button"]["mass_g"]["value"] == button.mass.value
    assert plain["pot"]["button"]["silver_fineness_per_mille"]["low"] == button.silver_fineness.low
    assert plain["pot"]["heat"]["total_kj"] == report.pot.heat.total
    assert plain["chance"]["musts"] == report.chance.musts
