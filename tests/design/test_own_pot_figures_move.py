"""Every own figure of the pot moves what it should, in the right direction, and nothing that it should not."""

from collections.abc import Mapping

import pytest

from fluxlab.design.pot_figure_list import static_figures
from fluxlab.design.pot_figure_rows import figure_rows
from fluxlab.design.pot_figures import sensible, with_figures
from fluxlab.fusion.pot import in_the_pot
from tests.design.pot_moves import charges, seen

CHARGES = charges()
BEFORE = {name: seen(charge) for name, charge in CHARGES.items()}
IN_THE_REPORT = {
    "swell_quiet", "swell_carbonate", "swell_ferric", "swell_rich", "comes_yes", "comes_low", "comes_close",
    "nitre_trace", "slag_pick_up", "slag_unexplained",
}  # fmt: skip
"""Figures that count in report or melt record and not in the pot; see test_own_pot_figures and test_beforehand."""
ALL = "oxygen metal drops gas heat heating words"
"""Oxygen comes first in the pot: what moves it may move everything."""
METAL, DROPS = "metal heat heating", "drops metal heat heating"
"""Metal carries heat, and how much there is to heat sets how fast it is heated."""

SLOWER = ", -rate, +time given to gas"
"""More heat takes longer."""

# key: charge, own figure, what moves up (+) or down (-), and what else may follow
MOVES: Mapping[str, tuple[str, float, str, str]] = {
    "metal:Pb": ("raw", 20.0, "-Pb in metal", METAL),
    "metal:Cu": ("copper", 40.0, "-Cu in metal, +Cu in slag", METAL),
    "metal:Zn": ("raw", 30.0, "+Zn in metal, -Zn in slag", METAL),
    "metal:As": ("speiss", 80.0, "+As in metal, -speiss", METAL),
    "fume:Pb": ("raw", 20.0, "+Pb as fume, -Pb in metal, -Pb in slag", METAL),
    "fume:Cu": ("raw", 50.0, "+Cu as fume", METAL),
    "fume:Zn": ("raw", 5.0, "-Zn as fume, +Zn in slag", METAL),
    "fume:As": ("speiss", 90.0, "+As as fume, -speiss", "metal heat heating words"),
    "fume:Ag": ("raw", 5.0, "+Ag as fume, -Ag in metal", METAL),
    "fume:Au": ("raw", 5.0, "+Au as fume, -Au in metal", METAL),
    "layers:As": ("speiss", 20.0, "-speiss, -As in speiss, -Ag in speiss, +As in metal, +As as fume", METAL),
    "layers:Cu": ("layers", 60.0, "+Cu in speiss, -Cu in metal", METAL),
    "layers:Pb": ("layers", 0.0, "-Pb in speiss, +Pb in slag", METAL),
    "layers:Zn": ("layers", 60.0, "+Zn in matte, +Zn in speiss, -Zn in slag, -Zn as fume", METAL),
    "handling": ("raw", 5.0, "+Ag on tools, +Au on tools, -Ag as drops", METAL),
    "guests": ("raw", 0.0, "-As in metal, +As in slag", METAL),
    "concentration": ("speiss", 100.0, "-button; range, -speiss; range, -density; range", ""),
    "oxidising_at": ("oxidising", 2.0, "+Zn as fume", METAL),
    "neutral_at": ("calcine", 0.5, "-Zn as fume, +Zn in slag", METAL),
    "reducing_at": ("calcine", 3.0, "-Zn as fume, +Zn in slag", METAL),
    "state_trace": ("oxidising", 0.05, "-state, -Zn as fume", METAL),
    "layers_half": ("layers", 5.0, "-Zn in matte, -Cu in speiss, -Pb in speiss, +Zn in slag", METAL),
    "matte_metals": ("soda", 30.0, "+matte; range", ""),
    "pores": ("raw", 0.5, "+density; range", ""),
    "matte_ratio": ("raw", 0.8, "+Ag in matte, -Ag in metal", METAL),
    "dissolved_ratio": ("raw", 0.4, "+Ag in slag, -Ag in metal", METAL),
    "speiss_ratio": ("speiss", 0.9, "+Ag in speiss, -Ag in metal", METAL),
    "gold_matte": ("raw", 0.1, "+Au in matte, -Au in metal", METAL),
    "dissolves_acid": ("raw", 3.0, "+dissolved", METAL),
    "dissolves_alkaline": ("raw", 12.0, "+dissolved, -Ag in matte", METAL),
    "acid_at": ("raw", 0.3, "-dissolved, +Ag in matte", METAL),
    "alkaline_at": ("raw", 0.8, "-dissolved, +Ag in matte", METAL),
    "dissolves_least": ("raw", 95.0, "-dissolved; range", METAL),
    "dissolves_most": ("raw", 200.0, "+dissolved; range", METAL),
    "matte_sulphur_least": ("raw", 40.0, "+matte; range", METAL),
    "matte_sulphur_most": ("half burnt", 180.0, "+matte; range", METAL),
    "speiss_least": ("speiss", 50.0, "-speiss warned of", ""),
    "soda_slag": ("raw", 50.0, "-soda slag warned of", ""),
    "sulphates_back": ("calcine", 30.0, "-brought back, -oxygen wanted, -sulphide, -iron wanted", ALL),
    "sulphate_left": ("calcine", 0.0, "-sulphate, -Ag in metal, +Ag in slag", ALL),
    "sulphates_rank": ("calcine", 3.0, "+brought back, +sulphide", "oxygen metal gas heat heating words"),
    "arsenate_rank": ("arsenate", 5.0, "+lead of litharge, +Pb in metal, -Pb in slag", ALL),
    "burns_ferric": ("raw", 90.0, "+sulphide burnt, -sulphide, -iron wanted", ALL),
    "burns_manganese": ("raw", 90.0, "+sulphide burnt, -sulphide, -iron wanted", ALL),
    "iron_excess": ("raw", 2.0, "+iron wanted", ""),
    "iron_trace": ("trace", 5.0, "-iron wanted", ""),
    "slag_ratio": ("raw", 0.01, "+Ag in slag, -Ag in metal", METAL),
    "gold_slag": ("raw", 400.0, "+Au in slag, -Au in metal", METAL),
    "trapped": ("still", 10.0, "+Ag as drops, +Pb as drops", METAL),
    "prill": ("raw", 150.0, "+trapped, +Ag as drops", DROPS),
    "prill_spread": ("raw", 5.0, "+trapped, +Ag as drops", DROPS),
    "shower": ("raw", 5.0, "-trapped, -Ag as drops", DROPS),
    "shower_lead": ("raw", 100.0, "+trapped, +Ag as drops", DROPS),
    "drop_viscosity": ("stiff", 5.0, "+trapped; low end", "metal"),
    "hold_size": ("raw", 150.0, "-hold wanted, -hold advised", ""),
    "hold_least": ("raw", 18.0, "+hold advised", ""),
    "hold_most": ("raw", 12.0, "-hold advised", "words"),
    "retreat": ("nitre", 0.1, "+slag worth a melt", ""),
    "gas_from:PbCO3:CO2": ("raw", 100.0, "-heat of the gas", "heat heating"),
    "gas_to:PbCO3:CO2": ("raw", 1100.0, "+foam, +time for gas, +heat of the gas", "gas heat heating"),
    "gas_from:*:SO2": ("raw", 950.0, "+foam, +time for gas, +heat of the gas", "gas heat heating"),
    "gas_to:*:SO2": ("raw", 850.0, "-time for gas, -heat of the gas", "gas heat heating"),
    "gas_from:Na2CO3:CO2": ("flux", 400.0, "-foam, -time for gas, -heat of the gas", "gas heat heating"),
    "gas_to:Na2CO3:CO2": ("flux", 1150.0, "+time for gas, +heat of the gas", "gas heat heating"),
    "gas_to:*:H2O": ("flux", 1150.0, "+heat of the gas", "gas heat heating"),
    "heating_rate": ("raw", 200.0, "+rate, -time given to gas, -minutes, -minutes; range", ""),
    "liquid_from": ("raw", 1100.0, "-foam, -time for gas, -time given to gas", ""),
    "foam_factor": ("raw", 200.0, "+foam, +time for gas", ""),
    "foam_tension": ("raw", 0.5, "-foam, -time for gas", ""),
    "foam_bubble": ("raw", 10.0, "-foam, -time for gas", ""),
    "foam_activation": ("raw", 150.0, "+foam, +time for gas", ""),
    "foam_viscosity": ("raw", 0.5, "-foam, -time for gas", ""),
    "wall_carbon": ("raw", 0.8, "+oxygen taken, +state", ALL),
    "budget_low": ("calcine", 0.5, "-too little reducer", ""),
    "budget_high": ("raw", 5.0, "-too much reducer", ""),
    "ferrous_first": ("arsenate", 1.0, "-lead of litharge, -Pb in metal, +Pb in slag", f"{METAL} words"),
    "sulphate_constant": ("nitre", 6.0, "+sulphate, +oxygen taken, +lead of litharge", ALL),
    "heat_share": ("nitre", 0.0, "+sulphate, +oxygen taken", ALL),
    "fusion_temperature": ("nitre", 1400.0, "+sulphate, +oxygen taken", ALL),
    "nitre_power": ("nitre", 4.5, "+oxygen of nitre, -lead of litharge, -state", ALL),
    "nitre_rise": ("nitre", 40.0, "+oxygen of nitre, -lead of litharge, -state", ALL),
    "nitre_spread": (
        "nitre",
        20.0,
        "+oxygen of nitre; range, +oxygen taken; range, +button; range, +density; range",
        "",
    ),
    "burner_power": ("raw", 20.0, "-minutes, -minutes; range, +rate, -time given to gas", ""),
    "burner_share": ("raw", 30.0, "-minutes, -minutes; range, +rate, -time given to gas", ""),
    "pot_heat": ("raw", 2.0, f"+heat of the pot, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "pot_density": ("raw", 2.6, f"+heat of the pot, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "lining_heat": ("raw", 2.0, f"+heat of the lining, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "lining_mass": ("raw", 2.0, f"+heat of the lining, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "lining_rise": (
        "raw",
        80.0,
        f"+heat of the lining, +heat, +minutes, +minutes; range{SLOWER}",
        "",
    ),
    "heat_ferrous": ("raw", 2.0, f"+heat of the slag, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_soda": ("raw", 2.0, f"+heat of the slag, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_potash": ("nitre", 2.0, f"+heat of the slag, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_oxides": ("raw", 2.0, f"+heat of the slag, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_silver": ("raw", 1.0, f"+heat of the metal, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_metals": ("raw", 1.0, f"+heat of the metal, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_matte": ("raw", 2.0, f"+heat of the metal, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_nitrogen": ("gas", 5.0, f"+heat of the gas, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_oxygen": ("unreduced", 5.0, f"+heat of the gas, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_dioxide": ("raw", 5.0, f"+heat of the gas, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_gases": ("gas", 5.0, f"+heat of the gas, +heat, +minutes, +minutes; range{SLOWER}", ""),
    "heat_pentahydrate": (
        "potash",
        2.0,
        f"+heat of reactions, +heat, +minutes, +minutes; range{SLOWER}",
        "",
    ),
    "heat_pearl_ash": (
        "potash",
        2.0,
        f"+heat of reactions, +heat, +minutes, +minutes; range{SLOWER}",
        "",
    ),
}


def flat(told: Mapping[str, Mapping[str, float]]) -> dict[str, float]:
    return {name: value for part in told.values() for name, value in part.items()}


def test_no_figure_of_the_tables_is_left_untried() -> None:
    assert set(static_figures()) <= set(MOVES) | IN_THE_REPORT


@pytest.mark.parametrize("key", MOVES)
def test_an_own_figure_moves_what_it_should_and_nothing_else(key: str) -> None:
    name, own, expected, follows = MOVES[key]
    kept, refused = sensible({key: own}, CHARGES[name].route)
    assert not refused
    after = seen(with_figures(CHARGES[name], kept))
    then, now = flat(BEFORE[name]), flat(after)
    named = [word.strip().replace(";", ",") for word in expected.split(",")]
    for word in filter(None, named):
        sign = 1.0 if word[0] == "+" else -1.0
        assert sign * (now[word[1:]] - then[word[1:]]) > 1e-9, word
    free = {word[1:] for word in named}
    for part, figures in after.items():
        if part not in follows.split():
            stayed = {what: value for what, value in figures.items() if what not in free}
            assert stayed == pytest.approx({what: BEFORE[name][part][what] for what in stayed}, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("key", MOVES)
def test_the_row_of_an_own_figure_is_the_operators_and_still_tells_the_shipped_one(key: str) -> None:
    name, own, _, _ = MOVES[key]
    charge = CHARGES[name]
    moved = with_figures(charge, {key: own})
    shipped = {row.key: row for row in figure_rows(charge, in_the_pot(charge), {})}
    rows = {row.key: row for row in figure_rows(moved, in_the_pot(moved), {key: own})}
    assert list(rows) == list(shipped)
    assert (rows[key].own, rows[key].source, rows[key].value.value) == (True, "the operator's own", own)
    assert rows[key].shipped_source == shipped[key].source != "the operator's own"
    assert rows[key].shipped == shipped[key].value
    assert [row.key for row in rows.values() if row.own] == [key]


def test_every_shipped_figure_lies_in_its_range_and_may_be_given_as_own() -> None:
    for name, charge in CHARGES.items():
        for row in figure_rows(charge, in_the_pot(charge), {}):
            assert row.value.low is not None
            assert row.value.high is not None
            assert row.value.low <= row.value.value <= row.value.high
            assert sensible({row.key: row.value.value}, charge.route)[1] == (), (name, row.key)
            assert row.source
            assert row.group
