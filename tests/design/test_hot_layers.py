"""The layers under the slag, and the expected button in words."""

from dataclasses import replace

import pytest

from fluxlab.design.button_words import expected_button, mass_words, span_words
from fluxlab.design.evaluate import evaluate
from fluxlab.design.layers import Layer, Standing, layer_line, layers_of, poured, standing
from fluxlab.design.report_types import Amount, Report
from fluxlab.design.ticket_facts import facts_of
from fluxlab.gui.run.facts import run_facts
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.profile import Profile
from tests.works import CLEAN, work_of


@pytest.fixture(scope="module")
def lead() -> Report:
    return evaluate(work_of(CLEAN, "lead collection"))


@pytest.fixture(scope="module")
def inside(lead: Report) -> Profile:
    mould = lead.work.shelf.mould(lead.work.recipe.mould)
    assert mould is not None
    profile, _ = mould_profile(mould)
    assert profile is not None
    return profile


def with_layers(report: Report, matte: float, speiss: float) -> Report:
    sulphur = replace(report.pot.sulphur, matte=Amount(matte), speiss=Amount(speiss))
    return replace(report, pot=replace(report.pot, sulphur=sulphur))


def under_slag(report: Report, inside: Profile, surface: float) -> dict[str, Standing]:
    return {each.layer.kind: each for each in standing(layers_of(replace(report, mould=None)), inside, surface)}


def test_layers_lie_on_each_other_with_their_volumes(lead: Report, inside: Profile) -> None:
    layers = under_slag(with_layers(lead, 23.0, 13.0), inside, inside.depth)
    metal, speiss, matte = layers["metal"], layers["speiss"], layers["matte"]
    assert (metal.low, speiss.low, matte.low) == (0.0, metal.top, speiss.top)
    assert inside.volume(speiss.top) - inside.volume(metal.top) == pytest.approx(2.0, rel=1e-6)
    assert inside.volume(matte.top) - inside.volume(speiss.top) == pytest.approx(5.0, rel=1e-6)
    assert metal.layer.mass == pytest.approx(lead.pot.button.mass.value, rel=1e-6)
    assert 9.0 < metal.layer.mass / inside.volume(metal.top) < 11.0


def test_no_layer_stands_over_the_melt(lead: Report, inside: Profile) -> None:
    layers = under_slag(with_layers(lead, 400.0, 0.0), inside, 30.0)
    assert layers["matte"].top == 30.0
    assert "speiss" not in layers


def test_without_a_report_of_the_pot_only_the_metal_of_the_assay_is_known(lead: Report) -> None:
    metal, slag = layers_of(replace(lead, pot=None, mould=None))
    assert (metal.name, metal.mass, metal.volume) == ("metal", None, lead.fill.metal_volume)
    assert slag.volume == pytest.approx(lead.fill.melt_volume - metal.volume)


def test_with_and_without_a_mould_the_pot_holds_the_same_layers(lead: Report) -> None:
    for told, reckoned in zip(layers_of(lead), layers_of(replace(lead, mould=None)), strict=True):
        assert (told.name, told.mass) == (reckoned.name, reckoned.mass)
        assert told.volume == pytest.approx(reckoned.volume, rel=1e-9)


def test_the_layers_of_the_mould_stand_where_its_profile_puts_them(lead: Report, inside: Profile) -> None:
    said = poured(lead.mould, lead.slag.mass)
    assert [each.layer.name for each in said] == ["lead", "slag"]
    for each, again in zip(said, standing(layers_of(lead), inside, lead.mould.slag_level), strict=True):
        assert (each.low, each.top) == pytest.approx((again.low, again.top))


def test_a_layer_is_told_by_mass_volume_and_thickness() -> None:
    matte = Standing(Layer("matte", "matte", 115.2, 25.04), 10.0, 33.4)
    assert layer_line(matte, ",") == "matte 115 g, 25,0 mL, 23 mm in mould"
    assert layer_line(Standing(Layer("metal", "metal", None, 2.0), 0.0, 9.0)) == "metal 2.00 mL, 9 mm in mould"
    assert layer_line(Standing(Layer("slag", "slag", 358.03, 115.06), 9.0, 84.0)) == "slag 358 g oxides, 115 mL"


def test_ticket_and_run_name_the_lead_that_is_expected(lead: Report) -> None:
    mass = expected_button(lead.pot)
    metal = facts_of(lead, (), 0.0, 1, ",")[-1]
    assert metal.label == "Lead"
    assert metal.value == mass_words(mass.value, ",")
    assert metal.note.startswith(f"likely {span_words(mass, ',')}; silver ")
    facts = run_facts(lead)
    assert facts.metal == mass.value
    assert facts.stops[3].first == f"{mass_words(mass.value)} lead"


def test_where_no_metal_comes_down_ticket_and_run_say_so(lead: Report) -> None:
    bare = replace(lead, pot=replace(lead.pot, button=replace(lead.pot.button, metals=())))
    metal = facts_of(bare, (), 0.0, 1, ".")[-1]
    assert (metal.label, metal.value) == ("Button", "None expected")
    assert run_facts(bare).stops[3].first == "no button"


def test_a_longer_hold_is_advised_at_the_pour(lead: Report) -> None:
    drops = replace(lead.pot.drops, advised=lead.work.recipe.hold + 8.0)
    asked = replace(lead, pot=replace(lead.pot, drops=drops), fluid=None)
    assert facts_of(asked, (), 0.0, 1, ".")[2].note == "hold 10 min, better 18 min"
