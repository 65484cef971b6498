"""With any own figures of the pot nothing is made, nothing is lost, and every figure is a number."""

from math import isfinite, isnan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fluxlab.design.pot_figure_list import Figure, figure_of, static_figures
from fluxlab.design.pot_figure_rows import figure_rows
from fluxlab.design.pot_figures import own_tables, sensible, with_figures
from fluxlab.fusion.deportment import PotState, priors, shares
from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.tables import OwnShare, shipped_tables
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import formula
from tests.fusion.pots import fusion_charge
from tests.fusion.test_in_the_pot import DOSES, ORES, figures

OF_METALS = ("metal:", "fume:", "layers:")
SHARES = [start + s for s in priors() for start in OF_METALS if figure_of(start + s) is not None]
GASES = [f"{end}{gas}" for gas in ("CaCO3:CO2", "PbCO3:CO2", "*:SO2") for end in ("gas_from:", "gas_to:")]
KEYS = [*static_figures(), *SHARES, *GASES]


def value_of(figure: Figure) -> st.SearchStrategy[float]:
    """Any value of a figure that makes sense, its ends and small ones among them."""
    inside = st.floats(figure.least, figure.most)
    small = st.floats(figure.least, min(figure.least + 1.0, figure.most))
    any_of = st.one_of(st.sampled_from([figure.least, figure.most]), small, inside)
    return any_of.map(round).map(float) if figure.whole else any_of


@st.composite
def own_figures(draw: st.DrawFn) -> dict[str, float]:
    """Some own figures, each of which makes sense by itself."""
    keys = draw(st.lists(st.sampled_from(KEYS), unique=True, max_size=12))
    found = {key: figure_of(key) for key in keys}
    return {key: draw(value_of(figure)) for key, figure in found.items() if figure is not None}


@given(raw=ORES, doses=DOSES, own=own_figures(), full=st.booleans())
@settings(deadline=None, max_examples=200)
def test_with_any_own_figures_every_element_is_somewhere_and_only_once(
    raw: dict[str, float], doses: dict[str, Any], own: dict[str, float], full: bool
) -> None:
    charge = fusion_charge({**raw, "Ag": 1.0}, **doses, full=full)
    kept, _ = sensible(own, charge.route)
    found = in_the_pot(with_figures(charge, kept))
    for symbol, where in found.bullion.ends.elements.items():
        assert where.total == pytest.approx(charge.elements[symbol], rel=1e-9, abs=1e-9), symbol
        assert min(figures(where)) >= -1e-12, symbol
    s = found.sulphur
    assert s.dioxide + s.sulphate + s.matte + s.stays + s.free == pytest.approx(s.total, rel=1e-9, abs=1e-9)
    assert min(s.dioxide, s.sulphate, s.matte, s.stays, s.free) >= -1e-9
    numbers = figures(found)
    assert not any(isnan(x) for x in numbers)
    without_hold = figures([found.redox, found.bullion, found.sulphur, found.gases, found.heat or ()])
    assert all(isfinite(x) for x in without_hold)


@given(raw=ORES, doses=DOSES, own=own_figures())
@settings(deadline=None)
def test_with_any_own_figures_the_ranges_hold_their_values(
    raw: dict[str, float], doses: dict[str, Any], own: dict[str, float]
) -> None:
    charge = fusion_charge({**raw, "Ag": 1.0}, **doses, full=True)
    kept, _ = sensible(own, charge.route)
    button = in_the_pot(with_figures(charge, kept)).bullion
    for each in (button.mass, button.silver_fineness, button.silver_recovery, *(p.grams for p in button.parts)):
        if isinstance(each, Estimate):
            assert -1e-9 <= each.low - 1e-9 <= each.value <= each.high + 1e-9
    assert 0.0 <= button.silver_fineness.value <= 1000.0
    assert button.silver_recovery is None or button.silver_recovery.high <= 100.0 + 1e-9


@given(
    symbol=st.sampled_from(sorted(priors())),
    position=st.floats(-2.0, 3.0),
    metal=st.none() | st.floats(0.0, 1.0),
    fume=st.none() | st.floats(0.0, 1.0),
    matte=st.none() | st.floats(0.0, 1.0),
)
def test_own_shares_count_and_the_rest_is_shared_as_before(
    symbol: str, position: float, metal: float | None, fume: float | None, matte: float | None
) -> None:
    fume = None if fume is None else fume * (1.0 - (metal or 0.0))
    matte = None if matte is None else matte * max(1.0 - (metal or 0.0) - (fume or 0.0), 0.0)
    usual = shares(symbol, PotState(position))
    found = usual.with_own(OwnShare(metal, fume, matte))
    assert found.metal + found.slag + found.matte + found.fume == pytest.approx(1.0)
    assert min(found.metal, found.slag, found.matte, found.fume) >= 0.0
    assert metal is None or found.metal == metal
    assert fume is None or found.fume == fume
    assert matte is None or found.matte == matte
    for name in ("metal", "fume", "matte"):
        if {"metal": metal, "fume": fume, "matte": matte}[name] is None:
            assert found.slag * getattr(usual, name) == pytest.approx(getattr(found, name) * usual.slag, abs=1e-12)


@pytest.mark.parametrize("percent", [0.0, 30.0, 65.0, 100.0])
def test_an_own_share_of_the_arsenic_sets_the_mass_of_the_speiss(percent: float) -> None:
    charge = fusion_charge({"SiO2": 30.0, "FeAsS": 12.0, "PbS": 3.0, "Ag": 1.5}, "iron", iron=20.0, full=True)
    found = in_the_pot(with_figures(charge, {"layers:As": percent})).bullion
    speiss = charge.elements["As"] * percent / 100.0 * formula("Fe5As2").mass / (2.0 * formula("As").mass)
    told = found.layers.speiss
    assert found.ends.speiss.mass == pytest.approx(speiss)
    in_it = sum(where.speiss for where in found.ends.elements.values())
    off = charge.tables.sulphur["matte_metals"]["off"]
    assert in_it >= speiss - 1e-9
    assert (told.value, told.low, told.high) == pytest.approx((in_it, (1.0 - off) * in_it, (1.0 + off) * in_it))
    for symbol, where in found.ends.elements.items():
        assert where.total == pytest.approx(charge.elements[symbol], rel=1e-9), symbol
    assert (found.ends.elements["Ag"].speiss > 0.0) == (percent > 0.0)


def test_a_share_to_speiss_that_is_given_as_the_program_has_it_moves_nothing() -> None:
    charge = fusion_charge({"SiO2": 30.0, "FeAsS": 12.0, "Cu2S": 4.0, "ZnS": 3.0, "Ag": 1.5}, "iron", iron=10.0)
    before = in_the_pot(charge)
    for row in figure_rows(charge, before, {}):
        if row.key.startswith("layers:"):
            after = in_the_pot(with_figures(charge, {row.key: row.value.value}))
            for symbol, where in after.bullion.ends.elements.items():
                assert figures(where) == pytest.approx(figures(before.bullion.ends.elements[symbol]), abs=1e-9), symbol


def test_a_share_to_matte_and_speiss_is_asked_for_where_they_form() -> None:
    def asked(raw: dict[str, float], iron: float = 0.0) -> set[str]:
        charge = fusion_charge({"SiO2": 30.0, "Ag": 1.0, **raw}, iron=iron)
        rows = figure_rows(charge, in_the_pot(charge), {})
        return {row.key for row in rows if row.key.startswith("layers:")}

    assert asked({"ZnCO3": 5.0, "PbCO3": 5.0}) == set()
    assert asked({"ZnS": 5.0, "FeS": 9.0, "PbCO3": 5.0}) == {"layers:Zn"}
    assert asked({"ZnS": 5.0, "FeAsS": 9.0, "PbCO3": 5.0}, iron=5.0) == {"layers:Zn", "layers:As", "layers:Pb"}


def test_of_copper_just_the_own_share_is_metal_however_little_reduces() -> None:
    charge = fusion_charge({"SiO2": 30.0, "Cu2CO3(OH)2": 8.0, "Ag": 1.0}, "nitre", nitre=2.0)
    for percent in (0.0, 25.0, 60.0):
        where = in_the_pot(with_figures(charge, {"metal:Cu": percent})).bullion.ends.elements["Cu"]
        assert where.button + where.drops == pytest.approx(percent / 100.0 * where.total, abs=1e-12)


def test_the_shipped_tables_are_left_as_they_are() -> None:
    before = shipped_tables().redox["iron"]["excess"]
    assert own_tables((("iron_excess", 5.0),)).redox["iron"]["excess"] == 5.0
    assert shipped_tables().redox["iron"]["excess"] == before
    assert own_tables(()) is shipped_tables()
    assert own_tables((("iron_excess", -5.0),)).redox["iron"]["excess"] == before


def test_the_constants_of_sulphate_and_nitre_come_from_the_own_figures() -> None:
    found = own_tables((("nitre_power", 4.0), ("nitre_rise", 10.0), ("sulphate_constant", 5.0)))
    assert (found.nitre.least_power, found.sulphate.constant) == (4.0, 5.0)
    assert found.nitre.rise == pytest.approx(0.1)
    assert found.nitre.spread == shipped_tables().nitre.spread


def test_an_element_that_is_not_in_the_charge_asks_for_no_share() -> None:
    charge = fusion_charge({"SiO2": 30.0, "PbCO3": 8.0, "Ag": 1.0})
    asked = {row.key for row in figure_rows(charge, in_the_pot(charge), {}) if row.key.startswith(OF_METALS)}
    assert asked == {"metal:Pb", "fume:Pb", "fume:Ag"}


def test_an_own_share_stays_in_sight_when_its_element_leaves_the_charge() -> None:
    own = {"metal:Cu": 40.0}
    charge = with_figures(fusion_charge({"SiO2": 30.0, "PbCO3": 8.0, "Ag": 1.0}), own)
    rows = {row.key: row for row in figure_rows(charge, in_the_pot(charge), own)}
    assert rows["metal:Cu"].own
    assert "metal:Zn" not in rows


def test_an_own_share_of_lead_does_not_touch_the_lead_of_litharge() -> None:
    def lead(raw: dict[str, float], own: dict[str, float]) -> float:
        charge = fusion_charge(raw, "lead collection", charcoal=1.0, litharge=60.0)
        where = in_the_pot(with_figures(charge, own)).bullion.ends.elements["Pb"]
        return where.button + where.drops

    barren, rich = {"SiO2": 30.0, "Ag": 1.0}, {"SiO2": 30.0, "Ag": 1.0, "PbCO3": 20.0}
    assert lead(barren, {"metal:Pb": 0.0}) == pytest.approx(lead(barren, {}), rel=1e-9)
    none, all_of_it = lead(rich, {"metal:Pb": 0.0}), lead(rich, {"metal:Pb": 100.0})
    assert none > 10.0
    assert all_of_it - none == pytest.approx(20.0 * formula("PbCO3").mass_fractions["Pb"], rel=0.01)
