"""Iron, nitre and reducers that the solver weighs for what the pot asks of them."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.design.balance import Balance, balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.no_flux import salt_density
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.report_types import Report, TargetReport
from fluxlab.fusion.melt import melt_of
from fluxlab.fusion.sulphate import sulphate
from fluxlab.materials.oxides import INDEX, MASS
from fluxlab.ore.ore_types import Share
from tests.works import CLEAN, grams, with_lines, with_target, work_of

BASES = (
    *((oxide, 1.0) for oxide in ("Na2O", "K2O", "CaO", "MgO", "FeO", "MnO", "ZnO", "PbO", "Cu2O")),
    *((oxide, 3.0) for oxide in ("Al2O3", "Fe2O3")),
)
SODA, POTASH = INDEX["Na2O"], INDEX["K2O"]
BUDGET = Target("reducer_budget", lo=0.9, hi=1.5, lo_kind="wish", hi_kind="wish")


def of(*minerals: tuple[str, float], route: str = "roast and melt", feed: str = "concentrate") -> Work:
    ore = replace(CLEAN, silver=None, minerals=tuple(Share(name, share) for name, share in minerals))
    return work_of(ore, route, pot_feed=feed)


def target(report: Report, key: str) -> TargetReport:
    return next(t for t in report.targets if t.key == key)


GALENA = (("Galena", 10.0), ("Quartz", 90.0))


def test_iron_for_galena_is_a_quarter_over_the_equation() -> None:
    # PbS + Fe = Pb + FeS: 55.845 g to 239.3 g; nothing else of the charge takes iron
    work = of(*GALENA, route="iron")
    report = evaluate(work)
    assert target(report, "iron_for_sulphur").lo == pytest.approx(1.25 * 10.0 * 55.845 / 239.27, rel=1e-3)
    iron = next(c for c in work.shelf.fluxes if c.uid == "iron-filings")
    assert grams(work, report)["iron-filings"] * iron.purity == pytest.approx(target(report, "iron_for_sulphur").lo)
    assert next(line.why for line in report.lines if line.flux == "iron-filings").startswith("Binds the sulphur")


def test_ferric_oxide_eats_iron_first() -> None:
    # In 30 g galena each PbS asks two oxygens of others, a third where sulphate holds it. Half of the oxygen in 10 g
    # hematite, 1.00 g, reaches it; the other half takes iron, Fe2O3 + Fe = 3 FeO. No pot: its wall takes oxygen.
    work = of(("Galena", 30.0), ("Hematite", 10.0), ("Quartz", 60.0), route="iron")
    work = replace(work, recipe=replace(work.recipe, crucible=""))
    ferric = 10.0 * 15.999 / 159.69
    held = sulphate({"PbS": 30.0}, melt_of(balance(work).whole)).shares["PbS"]
    burnt = 0.5 * ferric / (30.0 / 239.27 * (2.0 + held) * 15.999)
    expected = 1.25 * (1.0 - burnt) * 30.0 * 55.845 / 239.27 + 0.5 * ferric * 55.845 / 15.999
    assert target(evaluate(work), "iron_for_sulphur").lo == pytest.approx(expected, rel=0.002)


def test_without_sulphur_no_iron_is_asked_for_though_oxides_would_take_it() -> None:
    work = of(("Hematite", 60.0), ("Quartz", 40.0), route="iron")
    assert grams(work, evaluate(work))["iron-filings"] == 0.0


def test_copper_keeps_its_sulphur_from_the_iron() -> None:
    assert target(evaluate(of(("Chalcocite", 10.0), ("Quartz", 90.0), route="iron")), "iron_for_sulphur").lo == 0.0


def test_the_nitre_of_the_target_leaves_no_matte_and_a_little_less_does() -> None:
    work = of(("Pyrite", 8.0), ("Galena", 10.0), ("Quartz", 82.0), route="nitre")
    report = evaluate(work)
    assert report.pot is not None
    assert report.pot.sulphur.matte.value == pytest.approx(0.0, abs=1e-3)
    weights = grams(work, report)
    assert weights["nitre"] > 10.0
    less = {**weights, "nitre": 0.7 * weights["nitre"]}
    fixed = with_lines(work, *(Line(flux, g) for flux, g in less.items()))
    short = evaluate(fixed)
    assert short.pot is not None
    # what burnt already has its lead as litharge, which helps to burn the rest
    assert 0.2 * weights["nitre"] < short.pot.sulphur.nitre_wanted < 0.3 * weights["nitre"]
    assert any(row.name == "iron sulphide in the slag" for row in short.pot.sulphur.rows)
    assert target(short, "nitre_for_sulphur").state == "below"


def test_the_nitre_that_is_wanting_is_what_was_taken_away_where_no_oxide_helps() -> None:
    work = of(("Pyrite", 12.0), ("Quartz", 88.0), route="nitre")
    weights = grams(work, evaluate(work))
    short = evaluate(with_lines(work, *(Line(f, 0.7 * g if f == "nitre" else g) for f, g in weights.items())))
    assert short.pot is not None
    assert short.pot.sulphur.nitre_wanted == pytest.approx(0.3 * weights["nitre"], rel=0.05)


def test_a_fresh_nitre_recipe_burns_all_its_galena_and_keeps_the_lead_in_the_slag() -> None:
    report = evaluate(of(("Galena", 30.0), ("Cerussite", 10.0), ("Quartz", 60.0), route="nitre"))
    assert report.pot is not None
    assert report.pot.redox.lead.value == pytest.approx(0.0, abs=0.05)
    assert report.pot.redox.verdict == "meets"
    assert report.pot.state == "neutral"


def test_a_dead_roast_asks_for_no_nitre() -> None:
    work = work_of(CLEAN, "nitre", pot_feed="calcine")
    assert grams(work, evaluate(work))["nitre"] == 0.0


def test_the_budget_weighs_the_charcoal_that_the_pot_then_reckons_with() -> None:
    work = with_target(work_of(CLEAN), BUDGET)
    report = evaluate(work)
    assert grams(work, report)["charcoal"] > 0.5
    assert report.pot is not None
    assert report.pot.redox.budget == pytest.approx(0.9, abs=1e-6)
    assert target(report, "reducer_budget").value == pytest.approx(report.pot.redox.budget, abs=1e-6)


def test_without_a_target_for_it_charcoal_waits_for_the_hand() -> None:
    report = evaluate(work_of(CLEAN))
    charcoal = next(line for line in report.lines if line.flux == "charcoal")
    assert (charcoal.grams, charcoal.why) == (0.0, "Waits for your weight")


def test_iron_weighed_by_hand_is_left_alone_and_the_target_says_what_it_wants() -> None:
    work = of(*GALENA, route="iron")
    work = with_lines(
        work, *(Line(line.flux, 1.0 if line.flux == "iron-filings" else None) for line in work.recipe.lines)
    )
    report = evaluate(work)
    assert grams(work, report)["iron-filings"] == 1.0
    assert target(report, "iron_for_sulphur").state == "below"


def sulphated() -> Balance:
    return balance(of(("Pyrite", 20.0), ("Quartz", 80.0), route="nitre"))


def test_soda_that_sulphur_takes_up_is_no_flux() -> None:
    found = sulphated()
    held = found.whole - found.n
    told = sulphate(found.none.fuel, melt_of(found.whole)).alkali
    assert held[[SODA, POTASH]].sum() == pytest.approx(told, rel=0.02)
    assert told > 0.05
    others = np.delete(held - (1.0 - found.none.kept) * found.whole, [SODA, POTASH])
    assert np.abs(others).max() == pytest.approx(0.0, abs=1e-12)


def test_the_degree_is_that_of_the_slag_without_the_sulphate() -> None:
    work = of(("Pyrite", 20.0), ("Quartz", 80.0), route="nitre")
    report, found = evaluate(work), balance(work)
    percent = {row.name: row.grams for row in report.slag.oxides}
    assert percent["Na2O"] + percent["K2O"] == pytest.approx(
        float(found.n[SODA] * 61.979 + found.n[POTASH] * 94.196), rel=1e-4
    )
    assert report.slag.mass == pytest.approx(float((found.whole - found.none.held) @ MASS), rel=1e-4)
    degree = target(report, "degree")
    assert degree.value is not None
    left = 1.0 - found.none.share
    acid, base = 2.0 * found.n[INDEX["SiO2"]], sum(found.n[INDEX[o]] * k for o, k in BASES)
    assert degree.value == pytest.approx(acid / (base - left * float(found.fluxes.borax_soda @ found.x)), rel=1e-3)


def test_the_answer_settles_within_the_rounds() -> None:
    # what the last round assumed of the sulphate is what its answer gives
    found = sulphated()
    assert found.assumed.share == pytest.approx(found.none.share, abs=1e-4)


def test_molten_sulphate_weighs_what_the_handbook_says() -> None:
    """CRC Handbook of Chemistry and Physics, density of molten salts (after G. J. Janz 1988), as chemicals has it."""
    from chemicals.volume import rho_data_CRC_inorg_l

    row = rho_data_CRC_inorg_l.loc["7757-82-6"]
    for celsius in (884.0, 950.0, 1077.0):
        handbook = (row["rho"] - row["k"] * (celsius + 273.15 - row["Tm"])) / 1000.0
        assert salt_density(celsius) == pytest.approx(handbook, rel=1e-4)
    assert salt_density(float("nan")) == salt_density(20.0) == pytest.approx(2.069)


@pytest.mark.parametrize(("route", "flux"), [("iron", "iron-filings"), ("nitre", "nitre")])
def test_a_calcine_without_sulphur_says_that_only_the_sulphur_asks_for_none(route: str, flux: str) -> None:
    line = next(x for x in evaluate(work_of(CLEAN, route, pot_feed="calcine")).lines if x.flux == flux)
    assert (line.grams, line.why) == (0.0, "The sulphur asks for none")
