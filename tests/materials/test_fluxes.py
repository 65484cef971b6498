"""A gram of flux is all accounted for, and what cannot be read says why."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.issue import Severity
from fluxlab.materials import fluxes, oxides
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component, Part
from fluxlab.materials.yield_types import Yield

SHELF = {component.uid: component for component in fluxes.shipped()}


def pure(formula: str, **more: object) -> Component:
    return replace(Component("x", "X", ByFormula(formula), purity=1.0, purity_range=0.0), **more)  # type: ignore[arg-type]


def grams(y: Yield) -> dict[str, float]:
    masses = oxides.grams(y.oxides)
    return {s: float(m) for s, m in zip(oxides.OXIDES, masses, strict=True) if abs(m) > 1e-12}


def assert_closed(y: Yield) -> None:
    kept = sum(grams(y).values()) + sum(y.apart.values()) + y.unaccounted
    assert kept + y.loss == pytest.approx(1.0, abs=1e-9)
    assert sum(gas.grams for gas in y.gases) - y.oxygen == pytest.approx(y.loss, abs=1e-9)
    assert y.unaccounted >= -1e-9


WANTED = """borax-glass borax-decahydrate borax-pentahydrate boric-acid soda-ash-light soda-ash-dense sodium-bicarbonate
potash silica-sand silica-flour bottle-glass nitre soda-nitre litharge red-lead fluorspar cryolite quicklime limestone
manganese-dioxide iron-filings iron-nails wheat-flour charcoal cream-of-tartar salt"""


def test_every_flux_of_the_trade_is_on_the_first_shelf() -> None:
    assert set(WANTED.split()) <= set(SHELF)
    assert len(SHELF) >= 24


@pytest.mark.parametrize("uid", list(SHELF))
def test_a_gram_of_every_flux_is_all_accounted_for(uid: str) -> None:
    assert_closed(fluxes.yields(SHELF[uid], SHELF.get))


@pytest.mark.parametrize("uid", list(SHELF))
def test_every_flux_has_densities_in_order_and_a_source_for_each_figure(uid: str) -> None:
    component = SHELF[uid]
    assert 0.0 < component.loose_density < component.tapped_density
    for word in ("purity", "densit", "swell"):
        assert word in component.source
    assert ("power" in component.source) == (component.lead_power != 0.0)
    if component.lead_power_range:
        assert component.lead_power_range[0] <= component.lead_power <= component.lead_power_range[1]


def test_nitrates_leave_alkali_and_give_nitrogen_and_oxygen() -> None:
    y = fluxes.yields(pure("KNO3"), SHELF.get)
    assert grams(y) == pytest.approx({"K2O": 0.4658}, abs=1e-4)
    assert {gas.species for gas in y.gases} == {"N2", "O2"}
    assert y.loss == pytest.approx(0.534, abs=5e-4)


def test_reducers_burn_away_and_tartar_leaves_its_potash() -> None:
    assert grams(fluxes.yields(SHELF["wheat-flour"], SHELF.get)) == {}
    assert list(grams(fluxes.yields(SHELF["cream-of-tartar"], SHELF.get))) == ["K2O"]
    assert fluxes.yields(pure("C"), SHELF.get).oxygen == pytest.approx(2.664, abs=1e-3)


def test_iron_counts_as_oxide_and_says_if() -> None:
    y = fluxes.yields(pure("Fe"), SHELF.get)
    assert grams(y) == pytest.approx({"FeO": 1.286}, abs=1e-3)
    assert y.metal == {"Fe": pytest.approx(1.0)}
    assert "if it is oxidised" in y.issues[0].sentence


def test_salt_gives_the_slag_nothing() -> None:
    y = fluxes.yields(SHELF["salt"], SHELF.get)
    assert grams(y) == {}
    assert y.apart == {"NaCl": pytest.approx(0.97)}


def test_higher_oxides_give_off_their_spare_oxygen() -> None:
    assert list(grams(fluxes.yields(pure("Pb3O4"), SHELF.get))) == ["PbO"]
    assert list(grams(fluxes.yields(pure("MnO2"), SHELF.get))) == ["MnO"]
    assert grams(fluxes.yields(pure("Fe3O4"), SHELF.get)) == pytest.approx({"FeO": 0.3103, "Fe2O3": 0.6897}, abs=1e-4)


def test_sulphate_leaves_its_base_and_its_so3_apart() -> None:
    y = fluxes.yields(pure("CaSO4·2H2O"), SHELF.get)
    assert grams(y) == pytest.approx({"CaO": 0.3257}, abs=1e-4)
    assert y.apart == {"SO3": pytest.approx(0.4650, abs=1e-4)}


def test_silver_halide_and_tungstate_stand_apart() -> None:
    assert list(fluxes.yields(pure("AgCl"), SHELF.get).apart) == ["AgCl"]
    y = fluxes.yields(pure("CaWO4"), SHELF.get)
    assert list(y.apart) == ["WO3"]
    assert list(grams(y)) == ["CaO"]


def test_only_borax_brings_borax_soda() -> None:
    assert fluxes.yields(pure("H3BO3"), SHELF.get).borax_soda == 0.0
    glass = fluxes.yields(pure("Na2B4O7"), SHELF.get)
    assert glass.borax_soda == pytest.approx(glass.oxides[oxides.INDEX["Na2O"]])
    jar = Component("jar", "Jar", ByParts((Part("boric-acid", 1.0), Part("soda-ash-dense", 1.0))))
    assert fluxes.yields(jar, SHELF.get).borax_soda == 0.0


@pytest.mark.parametrize(("purity", "unaccounted"), [(1.0, 0.0), (0.9, 0.1)])
def test_what_is_not_pure_is_neither_slag_nor_gas(purity: float, unaccounted: float) -> None:
    y = fluxes.yields(replace(pure("Na2CO3"), purity=purity), SHELF.get)
    assert y.unaccounted == pytest.approx(unaccounted)


def test_purity_range_bounds_the_oxides() -> None:
    y = fluxes.yields(replace(pure("SiO2"), purity=0.98, purity_range=0.05), SHELF.get)
    assert (y.low * oxides.MASS)[0] == pytest.approx(0.93)
    assert (y.high * oxides.MASS)[0] == pytest.approx(1.0)


def analysed(*shares: tuple[str, float], loss: str = "") -> Component:
    return Component("x", "X", ByAnalysis(shares, loss), purity=1.0, purity_range=0.0)  # type: ignore[arg-type]


def test_an_analysis_gives_its_oxides_and_loses_the_rest_as_the_gas_named() -> None:
    y = fluxes.yields(analysed(("SiO2", 60.0), ("CaO", 30.0), loss="CO2"), SHELF.get)
    assert grams(y) == pytest.approx({"SiO2": 0.6, "CaO": 0.3})
    assert [(gas.species, pytest.approx(gas.grams)) for gas in y.gases] == [("CO2", 0.1)]
    assert_closed(y)


def test_fluorine_of_an_analysis_takes_lime_of_the_same_substance() -> None:
    y = fluxes.yields(analysed(("SiO2", 50.0), ("CaO", 40.0), ("F", 10.0)), SHELF.get)
    fluorspar = 0.1 / 18.998 / 2 * 78.075
    assert grams(y)["CaF2"] == pytest.approx(fluorspar, rel=1e-4)
    assert "F" not in grams(y)
    assert y.unaccounted == pytest.approx(0.1 * 0.42106, abs=1e-5)
    assert_closed(y)


def test_a_small_overshoot_of_an_analysis_is_scaled_and_said() -> None:
    y = fluxes.yields(analysed(("SiO2", 61.0), ("CaO", 40.0)), SHELF.get)
    assert y.issues[0].severity is Severity.WARNING
    assert "101.0 %" in y.issues[0].sentence
    assert sum(grams(y).values()) == pytest.approx(1.0)


BAD = [
    (analysed(("SiO2", 90.0), ("CaO", 40.0)), "130.0 %"),
    (analysed(("SiO2", -5.0), ("CaO", 40.0)), "below nothing"),
    (analysed(), "empty"),
    (analysed(("Quartz", 90.0)), "cannot be read"),
    (pure("borax"), "cannot be read"),
    (replace(pure("SiO2"), purity=1.2), "purity of 120 %"),
    (replace(pure("SiO2"), purity=0.0), "purity of 0 %"),
    (Component("j", "Jar", ByParts((Part("j", 1.0),))), "part of itself"),
    (Component("j", "Jar", ByParts((Part("gone", 1.0),))), "not on the shelf"),
    (Component("j", "Jar", ByParts(())), "add up"),
    (Component("j", "Jar", ByParts((Part("nitre", 0.0),))), "add up"),
    (Component("j", "Jar", ByParts((Part("nitre", 2.0, 3.0, 4.0),))), "likely share"),
]


@pytest.mark.parametrize(("component", "words"), BAD)
def test_a_flux_that_cannot_be_read_delivers_nothing_and_says_why(component: Component, words: str) -> None:
    y = fluxes.yields(component, SHELF.get)
    assert any(issue.severity is Severity.ERROR and words in issue.sentence for issue in y.issues)
    assert all(issue.remedy for issue in y.issues if issue.severity is Severity.ERROR)
    assert not y.oxides.any()
    assert_closed(y)


def test_jars_in_each_other_are_found_out() -> None:
    shelf = {"a": Component("a", "A", ByParts((Part("b", 1.0),))), "b": Component("b", "B", ByParts((Part("a", 1.0),)))}
    y = fluxes.yields(shelf["a"], shelf.get)
    assert any("part of itself" in issue.sentence for issue in y.issues)


def test_a_jar_is_the_sum_of_its_parts() -> None:
    jar = Component("jar", "Jar", ByParts((Part("borax-glass", 2.0), Part("soda-ash-dense", 1.0), Part("nitre", 1.0))))
    y = fluxes.yields(jar, SHELF.get)
    glass, soda, nitre = (fluxes.yields(SHELF[u], SHELF.get) for u in ("borax-glass", "soda-ash-dense", "nitre"))
    assert y.oxides == pytest.approx(0.5 * glass.oxides + 0.25 * soda.oxides + 0.25 * nitre.oxides)
    assert y.amounts == {"borax-glass": 0.5, "soda-ash-dense": 0.25, "nitre": 0.25}
    assert y.lead_power == pytest.approx(-1.0)
    assert "nitrate" in y.tags
    assert 1.1 < y.swell < 4.0
    assert_closed(y)


def test_a_jar_of_jars_lists_the_plain_fluxes() -> None:
    inner = Component("inner", "Inner", ByParts((Part("litharge", 1.0), Part("wheat-flour", 1.0))))
    outer = Component("outer", "Outer", ByParts((Part("inner", 1.0), Part("litharge", 1.0))))
    shelf = SHELF | {"inner": inner}
    y = fluxes.yields(outer, shelf.get)
    assert y.amounts == pytest.approx({"litharge": 0.75, "wheat-flour": 0.25})
    assert_closed(y)


def test_the_range_of_a_share_widens_what_the_jar_delivers() -> None:
    known = ByParts((Part("silica-sand", 50.0), Part("soda-ash-dense", 50.0)))
    ranged = ByParts((Part("silica-sand", 50.0, 30.0, 70.0), Part("soda-ash-dense", 50.0)))
    tight, wide = (fluxes.yields(Component("j", "J", parts), SHELF.get) for parts in (known, ranged))
    silica = oxides.INDEX["SiO2"]
    assert wide.oxides == pytest.approx(tight.oxides)
    assert wide.low[silica] < tight.low[silica] < tight.oxides[silica] < tight.high[silica] < wide.high[silica]
    moved = 0.97 * 30.0 / 80.0
    purity = 0.03 * 0.5
    expected = 0.97 * 0.5 - ((0.97 * 0.5 - moved) ** 2 + purity**2) ** 0.5
    assert wide.low[silica] * oxides.MASS[silica] == pytest.approx(expected)


def test_a_jar_of_one_part_has_no_range_of_shares() -> None:
    jar = Component("j", "J", ByParts((Part("silica-sand", 1.0, 0.0, 2.0),)))
    alone, single = fluxes.yields(SHELF["silica-sand"], SHELF.get), fluxes.yields(jar, SHELF.get)
    assert single.low == pytest.approx(alone.low)
    assert single.high == pytest.approx(alone.high)


NAMES = [
    *("SiO2", "B2O3", "CaCO3", "Fe2O3", "FeO", "NaNO3", "CaF2", "F"),
    *("NaCl", "CaSO4", "H2O", "C", "KHC4H4O6", "MnO2", "FeS2"),
]
JARS = st.dictionaries(st.sampled_from(sorted(SHELF)), st.floats(0.01, 100.0), min_size=1, max_size=6)


@given(
    st.dictionaries(st.sampled_from(NAMES), st.floats(0.01, 30.0), min_size=1, max_size=5),
    st.floats(0.5, 1.0),
    st.sampled_from(["", "H2O", "CO2"]),
)
def test_any_analysis_closes(shares: dict[str, float], purity: float, loss: str) -> None:
    component = Component("x", "X", ByAnalysis(tuple(shares.items()), loss), purity=purity)  # type: ignore[arg-type]
    assert_closed(fluxes.yields(component, SHELF.get))


@given(JARS)
def test_any_jar_closes(shares: dict[str, float]) -> None:
    parts = tuple(Part(uid, share, share / 2, share * 2) for uid, share in shares.items())
    y = fluxes.yields(Component("jar", "Jar", ByParts(parts)), SHELF.get)
    assert_closed(y)
    assert (y.low <= y.oxides + 1e-15).all()
    assert (y.oxides <= y.high + 1e-15).all()
