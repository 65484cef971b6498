"""The layers under the slag, and the expected button in words."""

from dataclasses import replace

import pytest

from fluxlab.design.button_words import expected_button, mass_words, span_words
from fluxlab.design.evaluate import evaluate
from fluxlab.design.hot_layers import hot_layers
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


def test_layers_lie_on_each_other_with_their_volumes(lead: Report, inside: Profile) -> None:
    layers = hot_layers(with_layers(lead, 23.0, 13.0), inside, inside.depth)
    assert (layers.metal.low, layers.speiss.low, layers.matte.low) == (0.0, layers.metal.top, layers.speiss.top)
    assert inside.volume(layers.speiss.top) - inside.volume(layers.metal.top) == pytest.approx(2.0, rel=1e-6)
    assert inside.volume(layers.matte.top) - inside.volume(layers.speiss.top) == pytest.approx(5.0, rel=1e-6)
    assert layers.metal.mass == pytest.approx(lead.pot.button.mass.value, rel=1e-6)
    assert 9.0 < layers.metal.mass / inside.volume(layers.metal.top) < 11.0


def test_no_layer_stands_over_the_melt(lead: Report, inside: Profile) -> None:
    layers = hot_layers(with_layers(lead, 400.0, 0.0), inside, 30.0)
    assert layers.matte.top == 30.0
    assert layers.speiss.height == 0.0


def test_without_a_report_of_the_pot_no_layer_is_known(lead: Report, inside: Profile) -> None:
    assert hot_layers(replace(lead, pot=None), inside, 30.0) is None


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
