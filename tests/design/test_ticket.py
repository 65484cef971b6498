from dataclasses import replace
from datetime import datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.design.batch import BatchRow
from fluxlab.design.cautions.standing import standing
from fluxlab.design.edits import set_roast
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line
from fluxlab.design.report_types import TargetReport
from fluxlab.design.start import demo_work
from fluxlab.design.ticket import Ticket, build, build_batch, date_words, hidden_by, printable, reissued
from fluxlab.design.ticket_facts import feed_masses
from fluxlab.design.ticket_rows import TicketRow, decimals_of, in_steps
from tests.ticket_samples import DAMP, FLUXES, FOAM, LEAD, NOTE, WHEN, Fitted, fitted, sample_report
from tests.works import CLEAN, with_lines, work_of


def ticket_of(report, **options) -> Ticket:
    options = {"revision": 7, "copy": 2, "when": WHEN, "rounded": fitted(report), **options}
    return build(report, **options)


def facts(ticket: Ticket) -> dict[str, tuple[str, str]]:
    return {fact.label: (fact.value, fact.note) for fact in ticket.facts}


def printed_sum(ticket: Ticket) -> Decimal:
    return sum((Decimal(ticket.weight_text(row.grams)) for row in ticket.rows), Decimal(0))


def test_the_charge_is_weighed_first_then_fluxes_by_falling_weight_fluorspar_reducer_and_nitre():
    names = [row.name for row in ticket_of(sample_report()).rows]
    assert names == [
        "Calcine",
        "Borax glass",
        "Soda ash",
        "Silica sand",
        "Litharge",
        "Fluorspar",
        "Charcoal",
        "Nitre",
    ]


def test_flux_to_ore_is_that_of_the_flux_table_without_reducer_and_nitre():
    ticket = ticket_of(sample_report())
    flux = sum(row.grams for row in ticket.rows[1:] if row.name not in ("Charcoal", "Nitre"))
    assert f"flux to calcine {flux / ticket.rows[0].grams:.2f} : 1" in ticket.subtitle


def test_only_nitre_stands_apart_and_its_hint_says_so():
    rows = ticket_of(sample_report()).rows
    assert [row.name for row in rows if row.apart] == ["Nitre"]
    assert rows[-1].hint == "potassium, apart, last"


def test_a_heavier_fluorspar_still_comes_after_a_lighter_plain_flux():
    report = sample_report(fluxes=(("f", "Fluorspar", "", 50.0, ("fluoride",)), ("s", "Sand", "", 1.0, ())))
    assert [row.name for row in ticket_of(report).rows] == ["Calcine", "Sand", "Fluorspar"]


def test_fluxes_of_one_weight_keep_the_order_of_the_table():
    report = sample_report(fluxes=(("b", "Second letter", "", 5.0, ()), ("a", "First letter", "", 5.0, ())))
    assert [row.name for row in ticket_of(report).rows[1:]] == ["Second letter", "First letter"]


def test_what_weighs_nothing_is_not_on_the_ticket():
    assert "Manganese dioxide" not in [row.name for row in ticket_of(sample_report()).rows]


def test_a_flux_that_left_the_shelf_is_said_to_be_left_out():
    report = sample_report()
    lines = (replace(report.lines[0], name="old borax", grams=0.0, missing=True), *report.lines[1:])
    report = replace(report, lines=lines)
    (caution,) = ticket_of(report).cautions
    assert (caution.level, caution.title) == ("warn", "Shelf")
    assert caution.sentence == "“old borax” is in the recipe but not on the shelf: it is left out."
    assert "old borax" not in [row.name for row in ticket_of(report).rows]


def test_an_entry_that_cannot_be_is_said_on_the_ticket_and_once_only():
    calcine = work_of(pot_feed="calcine")
    for moisture in (99.0, 100.0, 150.0):
        report = evaluate(replace(calcine, recipe=replace(calcine.recipe, ore=replace(CLEAN, moisture=moisture))))
        found = build(report, revision=None, copy=1, when=WHEN).cautions
        levels = [c.level for c in found]
        assert levels == sorted(levels, key=("block", "warn", "caution").index)
        said = [c for c in found if not c.rule]
        assert [(c.level, c.title) for c in said] == [("warn", "Wrong entry")] * (moisture >= 100.0)
        assert all(f"A moisture of {moisture:g} % is not possible" in c.sentence for c in said)
        assert all(c.sentence.endswith("Give 0 % or more, and less than 100 %.") for c in said)


def test_what_the_ticket_says_in_its_own_words_is_not_said_again():
    weighed = replace(demo_work().recipe.roast, kind="weighed", before=100.0, after=140.0)
    work = with_lines(set_roast(demo_work(), weighed)[1], Line("no-such-flux"), Line("borax-glass"))
    said = [c.title for c in build(evaluate(work), revision=None, copy=1, when=WHEN).cautions if not c.rule]
    assert [title for title in said if title != "Targets"] == ["Shelf", "Roast weight"]


def test_a_form_that_the_name_already_says_is_not_repeated():
    report = sample_report(fluxes=(("s", "Soda ash, dense", "dense", 5.0, ()),))
    assert ticket_of(report).rows[1].hint == ""


def test_the_total_is_the_sum_of_the_printed_weights():
    ticket = ticket_of(sample_report())
    assert ticket.weight_text(ticket.total) == "501.8"
    assert printed_sum(ticket) == Decimal("501.8")


@given(
    step=st.sampled_from([0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0]),
    counts=st.lists(st.integers(1, 200_000), min_size=1, max_size=16),
    charge=st.floats(1.0, 20_000.0),
)
def test_printed_weights_are_whole_steps_and_add_up_for_every_balance(step, counts, charge):
    unit = Decimal(str(step))
    fluxes = tuple((f"f{at}", f"Flux {at}", "", float(count * unit), ()) for at, count in enumerate(counts))
    ticket = ticket_of(sample_report(fluxes=fluxes, charge=charge, step=step))
    assert printed_sum(ticket) == Decimal(ticket.weight_text(ticket.total))
    for row in ticket.rows:
        assert Decimal(ticket.weight_text(row.grams)) % unit == 0
    assert [Decimal(ticket.weight_text(row.grams)) for row in ticket.rows[1:]] == sorted(
        (count * unit for count in counts), reverse=True
    )


def test_a_weight_between_two_steps_of_the_balance_is_a_fault_not_a_silent_change():
    report = sample_report()
    with pytest.raises(ValueError, match="whole steps"):
        ticket_of(report, rounded=Fitted({"borax": 92.53}))


@pytest.mark.parametrize(("step", "places"), [(0.01, 2), (0.05, 2), (0.1, 1), (0.5, 1), (1.0, 0), (2.0, 0), (10.0, 0)])
def test_the_balance_step_sets_the_decimal_places(step, places):
    assert decimals_of(step) == places


def test_steps_are_taken_as_decimal_fractions():
    assert in_steps(0.3, 0.1) == 0.3
    assert in_steps(1.149999, 0.05) == 1.15


def test_a_block_stops_the_ticket_until_the_operator_confirms_it():
    report = sample_report(cautions=(DAMP, LEAD))
    assert [block.rule for block in printable(ticket_of(report))] == ["R01"]
    assert printable(ticket_of(report, confirmed=("R01",))) == ()


def test_a_block_the_operator_may_lift_leaves_the_preview():
    assert hidden_by(ticket_of(sample_report(cautions=(DAMP,)))) == ()


def test_a_block_that_nobody_may_lift_stands_whatever_is_confirmed_and_hides_the_preview():
    ticket = ticket_of(sample_report(cautions=(FOAM,)), confirmed=("R07", "R01"))
    assert [block.rule for block in printable(ticket)] == ["R07"]
    assert [block.rule for block in hidden_by(ticket)] == ["R07"]


def test_warnings_never_stop_a_ticket():
    assert printable(ticket_of(sample_report(cautions=(LEAD, NOTE)))) == ()


def test_blocks_come_before_warnings_and_these_before_cautions():
    ticket = ticket_of(sample_report(cautions=(NOTE, LEAD, DAMP)))
    assert [caution.level for caution in ticket.cautions] == ["block", "warn", "caution"]


def test_the_next_copy_asks_for_its_confirmations_again():
    first = ticket_of(sample_report(cautions=(DAMP,)), confirmed=("R01",))
    second = reissued(first, copy=3, when=datetime(2026, 11, 15, 8, 5))
    assert second.number == "7-3"
    assert [block.rule for block in printable(second)] == ["R01"]


def target(sentence: str, state: str, lo_kind: str = "must", hi_kind: str = "must") -> TargetReport:
    return TargetReport("k", "k", "", 1.0, 0.0, 2.0, lo_kind, hi_kind, True, state, 0.0, 1, sentence, "")


def test_musts_that_are_not_met_are_said_in_one_line_and_wishes_are_not():
    targets = (
        target("Borate share 0.12, at least 0.20 asked", "below"),
        target("Zinc oxide 13.1 %, at most 12.0 asked", "above", lo_kind="wish"),
        target("Flux to ore 0.43, at least 1.00 asked", "below", lo_kind="wish"),
        target("Alumina 3.0 %", "inside"),
    )
    (caution,) = ticket_of(replace(sample_report(), targets=targets)).cautions
    assert (caution.level, caution.title) == ("warn", "Targets")
    assert caution.sentence == (
        "Not met: Borate share 0.12, at least 0.20 asked; Zinc oxide 13.1 %, at most 12.0 asked."
    )


@pytest.mark.parametrize("report", [sample_report(fluxes=FLUXES[-1:]), sample_report(charge=0.0, fluxes=FLUXES[-1:])])
def test_a_recipe_without_weights_makes_no_ticket(report):
    (block,) = printable(ticket_of(report))
    assert block.title == "No recipe"
    assert hidden_by(ticket_of(report)) == (block,)


def test_the_foot_repeats_the_sentence_about_rounding_when_a_must_was_missed_too():
    report = sample_report()
    ticket = ticket_of(report, rounded=fitted(report, kept=False, sentence="Borate share ends 0.002 too low."))
    assert (ticket.kept, ticket.footer) == (False, "Borate share ends 0.002 too low.")


def test_the_head_names_ore_recipe_route_charge_and_ratio():
    ticket = ticket_of(sample_report())
    assert ticket.title == "Alder Gulch, table concentrate"
    assert ticket.recipe == "House flux for the tables"
    assert ticket.subtitle == "Roast and melt, 250.0 g of calcine, flux to calcine 0.91 : 1"
    assert ticket.issued == "copy 2 of revision 7, 14 November 2026, 15:32"
    assert ticket.number == "7-2"


def test_a_recipe_that_was_never_kept_is_a_draft():
    ticket = ticket_of(sample_report(), revision=None)
    assert ticket.number == "draft-2"
    assert "copy 2, not kept in a library, 14" in ticket.issued


def test_months_do_not_follow_the_locale():
    assert date_words(datetime(2027, 3, 2, 7, 4)) == "2 March 2027, 07:04"


def test_facts_say_fill_height_feed_pour_mould_and_the_metal_by_the_assay():
    said = facts(ticket_of(sample_report()))
    assert said["Crucible"] == ("Pot 3", "charge 32 mm below the rim")
    assert said["Feed"] == ("493.8 g at once", "mixed, nitre last, by the spoon; swells to 70 %")
    assert said["Pour"] == ("1150 °C", "hold 15 min")
    assert said["Mould"] == ("Cone mould 2", "at 200 °C, 21 mm stay free")
    assert said["Metal"] == ("At most 0.900 g", "silver + gold by the assay")


def test_facts_say_what_is_not_known():
    report = replace(sample_report(pot=None, mould=None, mould_preheat=None), precious_metal_limit=None)
    said = facts(ticket_of(report))
    assert said["Crucible"] == ("Not chosen", "fill height not known")
    assert said["Feed"] == ("Not known", "no pot, or no bulk densities")
    assert said["Mould"] == ("Not chosen", "preheat not given")
    assert said["Metal"] == ("Not known", "no silver or gold grade given")


def test_an_over_full_pot_and_mould_are_said_in_words():
    said = facts(ticket_of(sample_report(loose=560.0, melt=200.0, metal=12.0)))
    assert said["Crucible"][1] == "charge 17 mm over the rim"
    assert said["Mould"][1].endswith("mm too shallow")


def test_the_decimal_mark_of_the_country_is_used_in_weights_but_not_in_names():
    report = sample_report(ore=replace(sample_report().work.recipe.ore, name="lot 3.2"), hold=12.5)
    ticket = ticket_of(report, mark=",")
    assert ticket.weight_text(ticket.rows[1].grams) == "92,5"
    assert ticket.title == "Alder Gulch, lot 3.2"
    assert ticket.subtitle == "Roast and melt, 250,0 g of calcine, flux to calcine 0,91 : 1"
    assert facts(ticket)["Pour"][1] == "hold 12,5 min"


@given(total_steps=st.integers(10, 500_000), nitre_steps=st.integers(0, 9), feeds=st.integers(1, 8))
def test_the_feeds_of_one_melt_add_up_to_the_charge_without_the_nitre(total_steps, nitre_steps, feeds):
    total, nitre = in_steps(total_steps * 0.1, 0.1), in_steps(nitre_steps * 0.1, 0.1)
    rows = (TicketRow("nitre", "Nitre", "", nitre, apart=True),)
    masses = feed_masses(feeds, rows, total, 0.1)
    assert len(masses) == feeds
    assert sum(Decimal(f"{mass:.1f}") for mass in masses) == Decimal(f"{total:.1f}") - Decimal(f"{nitre:.1f}")
    assert max(masses) - min(masses) < 0.1 + 1e-9


def test_a_charge_fed_in_parts_says_each_part_and_how_high_the_first_and_the_last_stand():
    said = facts(ticket_of(sample_report(feeds=2)))
    assert said["Feed"] == (
        "246.9, then 246.9 g",
        "each when the last lies quiet, nitre last, by the spoon; swells to 46 %",
    )
    assert said["Crucible"][1] == "first part 64, last 52 mm below the rim"


def test_many_equal_feeds_are_counted():
    assert facts(ticket_of(sample_report(fluxes=FLUXES[:3], charge=106.5, feeds=4)))["Feed"][0] == "4 times 75.0 g"


def test_a_charge_too_large_for_one_melt_says_how_many_melts_it_takes():
    report = sample_report(fluxes=FLUXES[:3], charge=106.5)
    report = replace(report, fill=replace(report.fill, melts_needed=3))
    assert facts(ticket_of(report))["Feed"][1] == "mixed; too much for one melt, make 3 of 100.0 g"


def test_a_batch_ticket_lists_the_jar_with_nitre_apart_and_no_furnace_facts():
    batch = (
        BatchRow("nitre", "Nitre", "", 20.0, 20.0, 10.0),
        BatchRow("borax", "Borax glass", "crushed", 120.5, 120.5, 60.0),
        BatchRow("soda", "Soda ash", "dense", 60.2, 60.2, 30.0),
    )
    ticket = build_batch("House mix", batch, step=0.1, copy=1, when=WHEN, apart={"nitre"}, cautions=(DAMP,))
    assert [row.name for row in ticket.rows] == ["Borax glass", "Soda ash", "Nitre"]
    assert ticket.weight_text(ticket.total) == "200.7"
    assert ticket.rows[-1].hint == "apart, last"
    assert (ticket.number, ticket.issued) == ("batch-1", "copy 1, 14 November 2026, 15:32")
    assert (ticket.facts, ticket.stub, ticket.pot) == ((), (), None)
    assert [block.rule for block in printable(ticket)] == ["R01"]


def test_every_ticket_says_who_decides_and_one_with_nitre_that_it_may_be_regulated() -> None:
    plain, nitre = ticket_of(sample_report(fluxes=FLUXES[:3])), ticket_of(sample_report())
    assert plain.standing == standing(nitrate=False, short=True)
    assert nitre.standing == standing(nitrate=True, short=True)
    assert any("Nitrates" in sentence for sentence in set(nitre.standing) - set(plain.standing))
