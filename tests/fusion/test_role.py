"""What the fluxes of the shelf do in the pot beside making slag."""

from dataclasses import replace

import pytest

from fluxlab.fusion.currency import LEAD_PER_OXYGEN
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.fusion.role import Role, metals_of, role_of
from fluxlab.materials.flux_types import ByFormula, ByParts, Component, Part
from fluxlab.materials.fluxes import shipped
from fluxlab.materials.oxides import from_masses

SHELF = {flux.uid: flux for flux in shipped()}


def of(uid: str) -> Role:
    return role_of(SHELF[uid])


def test_reducers_work_by_their_tried_power() -> None:
    assert of("wheat-flour").reducer == (11.2, 10.0, 12.0)
    assert of("charcoal").reducer == (22.6, 20.0, 30.0)
    assert of("charcoal").reducible == {}


def test_iron_is_metal_and_no_reducer_of_a_power() -> None:
    assert of("iron-filings").iron == pytest.approx(SHELF["iron-filings"].purity)
    assert of("iron-filings").reducer is None


def test_nitrates_count_by_their_pure_salt() -> None:
    assert of("nitre").nitrates == {"KNO3": pytest.approx(0.97)}
    assert of("soda-nitre").nitrates == {"NaNO3": pytest.approx(0.97)}


@pytest.mark.parametrize("uid", ["red-lead", "manganese-dioxide"])
def test_other_oxidisers_keep_up_the_lead_that_the_shelf_says(uid: str) -> None:
    given = sum(g * oxygen_demand(s) for s, g in of(uid).reducible.items() if s != "PbO")
    assert given * LEAD_PER_OXYGEN == pytest.approx(-SHELF[uid].lead_power)


def test_red_lead_keeps_its_lead_whatever_its_power() -> None:
    lead = 0.97 * (0.66 * 0.9067 + 0.34 * 0.9283)
    for power in (-0.1, -0.2, -0.3):
        role = role_of(replace(SHELF["red-lead"], lead_power=power))
        assert role.lead == pytest.approx(lead, rel=1e-3)
        held = role.reducible["Pb3O4"] * 0.9067 + role.reducible.get("PbO", 0.0) * 0.9283
        assert held == pytest.approx(lead, rel=1e-3)


def test_litharge_is_lead_and_soda_only_takes_heat() -> None:
    assert of("litharge").lead == pytest.approx(0.97 * 0.92833, rel=1e-4)
    soda = of("soda-ash-dense")
    assert soda.heated == ("Na2CO3", pytest.approx(0.97))
    assert (soda.reducible, soda.nitrates, soda.iron, soda.lead) == ({}, {}, 0.0, 0.0)


def test_a_sulphide_among_the_fluxes_burns_like_one_of_the_ore() -> None:
    pyrite = Component("pyrite", "Pyrite", ByFormula("FeS2"), lead_power=11.0)
    assert role_of(pyrite).sulphides == {"FeS2": pytest.approx(0.97)}


@pytest.mark.parametrize("made_of", [ByFormula("no such thing"), ByFormula(""), ByParts((Part("a", 1.0),))])
def test_what_cannot_be_read_does_nothing(made_of: ByFormula | ByParts) -> None:
    assert role_of(Component("odd", "Odd", made_of)) == Role()


def test_metals_of_oxides() -> None:
    found = metals_of(from_masses({"PbO": 10.0, "Fe2O3": 10.0, "SiO2": 50.0}))
    assert found == {"Pb": pytest.approx(9.283, abs=0.001), "Fe": pytest.approx(6.994, abs=0.001)}
