"""Litres, when they come, swelling and foam of three recipes, each worked out by hand from masses, molar masses and the
ideal gas law, and not with the program's own tables."""

from dataclasses import replace
from math import pi

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.gas_text import given_off
from fluxlab.design.pot_types import PotGasReport
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.report_types import FillReport, Report
from fluxlab.design.start import demo_work
from fluxlab.ore.ore_types import Grade, OreType, Share
from tests.works import work_of

PURE = 0.97
LITRE = 24.465
"""Litres of a mole of gas at 25 degC and one atmosphere."""
CARBONATE = OreType(
    "carbonate",
    "Carbonate ore",
    minerals=(
        Share("Quartz", 40, 35, 45),
        Share("Calcite", 25, 20, 30),
        Share("Siderite", 10, 8, 12),
        Share("Pyrolusite", 10, 8, 12),
        Share("Cerussite", 10, 8, 12),
        Share("Kaolinite", 5, 4, 6),
    ),
    silver=Grade(100, "oz/short ton"),
)
RAW = OreType(
    "raw",
    "Raw sulphide",
    minerals=(
        Share("Quartz", 60, 55, 65),
        Share("Galena", 10, 8, 12),
        Share("Pyrite", 8, 6, 10),
        Share("Sphalerite (pure)", 5, 4, 6),
        Share("Orthoclase", 17, 15, 19),
    ),
    silver=Grade(100, "oz/short ton"),
)


def weighed(ore: OreType, route: str, charge: float, fluxes: dict[str, float], **recipe: object) -> Work:
    """Raw concentrate with fluxes fixed by hand [g] and no targets."""
    lines = tuple(Line(flux, grams=grams) for flux, grams in fluxes.items())
    return work_of(ore, route, charge=charge, lines=lines, targets=(), pot_feed="concentrate", **recipe)


BICARBONATE = evaluate(
    weighed(
        CARBONATE,
        "roast and melt",
        60.0,
        {"sodium-bicarbonate": 60.0, "borax-decahydrate": 40.0, "silica-sand": 20.0, "charcoal": 1.0},
        crucible="pot-36-52-125",
    )
)
NITRE_FLUXES = {"soda-ash-dense": 60.0, "borax-glass": 30.0, "silica-sand": 20.0, "nitre": 20.0, "litharge": 40.0}
NITRE = evaluate(weighed(RAW, "nitre", 80.0, NITRE_FLUXES))
DEMO = evaluate(demo_work())


def filled(report: Report) -> FillReport:
    assert report.fill is not None
    return report.fill


def gas_of(report: Report) -> PotGasReport:
    assert report.pot is not None
    return report.pot.gas


def litres(report: Report, name: str, species: str) -> list[float]:
    return [row.litres for row in gas_of(report).sources if (row.name, row.species) == (name, species)]


def minerals(report: Report) -> dict[str, float]:
    return {row.name: row.grams for row in report.ore.minerals}


def test_the_demo_gives_off_the_carbon_dioxide_of_its_soda_and_no_oxygen() -> None:
    """70 g at 97 % over 105.99 g/mol: 0.6406 mol, 15.7 L, from 750 to 1000 degC. What its copper oxide could give off
    (0.3 g of oxygen) the wall of the graphite pot takes."""
    soda = 70.0 * PURE / 105.99
    assert litres(DEMO, "Soda ash, dense", "CO2") == [pytest.approx(soda * LITRE, rel=1e-3)]
    assert gas_of(DEMO).litres == pytest.approx(soda * LITRE, rel=1e-3)


def test_bicarbonate_crystals_and_carbonate_gangue_by_source() -> None:
    bicarbonate, borax = 60.0 * PURE / 84.007, 40.0 * PURE / 381.37
    rock = minerals(BICARBONATE)
    by_hand = {
        ("Bicarbonate of soda", "CO2"): [bicarbonate / 2.0, bicarbonate / 2.0],
        ("Bicarbonate of soda", "H2O"): [bicarbonate / 2.0],
        ("Borax, crystals", "H2O"): [10.0 * borax],
        ("Charcoal", "CO2"): [PURE / 12.011],
        ("Calcite", "CO2"): [rock["Calcite"] / 100.09],
        ("Siderite", "CO2"): [rock["Siderite"] / 115.85],
        ("Cerussite", "CO2"): [rock["Cerussite"] / 267.21],
        ("Kaolinite", "H2O"): [2.0 * rock["Kaolinite"] / 258.16],
    }
    for (name, species), moles in by_hand.items():
        assert litres(BICARBONATE, name, species) == [pytest.approx(n * LITRE, rel=1e-3) for n in moles], name
    assert gas_of(BICARBONATE).litres == pytest.approx(LITRE * sum(map(sum, by_hand.values())), rel=1e-3)
    cold = next(stage for stage in gas_of(BICARBONATE).stages if stage.name == "drying and first heat")
    assert cold.giver == "Borax, crystals"  # 10 mol of water to each, against 17 L of the bicarbonate
    windows = {(s.name, s.species): (s.low, s.high) for s in gas_of(BICARBONATE).sources}
    assert windows["Borax, crystals", "H2O"] == (60.0, 350.0)
    said = (
        "Borax, crystals 24.9 L from 60 to 350 °C; Bicarbonate of soda 16.9 L from 100 to 200 °C; "
        "Bicarbonate of soda 8.5 L from 750 to 1000 °C; Calcite 3.7 L from 700 to 850 °C"
    )
    assert given_off(gas_of(BICARBONATE)).startswith(said)
    assert said in " ".join(text_of(BICARBONATE).split())
    assert windows["Bicarbonate of soda", "H2O"] == (100.0, 200.0)
    assert windows["Calcite", "CO2"] == (700.0, 850.0)
    assert windows["Charcoal", "CO2"] == (600.0, 1100.0)


def test_oxygen_that_a_reducer_takes_from_pyrolusite_does_not_come_off_as_gas_too() -> None:
    """5.98 g of MnO2 could give 1.1 g of oxygen, which charcoal takes; in a clay pot without charcoal it goes off."""
    assert litres(BICARBONATE, "Pyrolusite", "O2") == []
    fluxes = {"sodium-bicarbonate": 60.0, "silica-sand": 20.0}
    clay = evaluate(weighed(CARBONATE, "roast and melt", 60.0, fluxes, crucible="clay-pot-30-44-105"))
    assert clay.pot is not None
    taken = sum(row.oxygen for row in clay.pot.redox.rows if row.takes)  # by silver sulphide alone
    assert 0.0 < taken < 0.05
    oxygen = minerals(clay)["Pyrolusite"] / 86.94 / 2.0 - taken / 31.998
    assert litres(clay, "Pyrolusite", "O2") == [pytest.approx(oxygen * LITRE, rel=1e-3)]


def test_nitre_gives_its_nitrogen_and_of_its_oxygen_what_nothing_takes() -> None:
    nitre = 20.0 * PURE / 101.10
    assert NITRE.pot is not None
    assert litres(NITRE, "Nitre (potassium nitrate)", "N2") == [pytest.approx(nitre / 2.0 * LITRE, rel=1e-3)]
    oxygen = next(row.grams for row in gas_of(NITRE).sources if row.species == "O2")
    used = next(row.oxygen for row in NITRE.pot.redox.rows if row.name == "nitre")
    assert oxygen + used == pytest.approx(1.25 * nitre * 31.998, rel=1e-3)
    dioxide = next(row for row in gas_of(NITRE).sources if row.species == "SO2")
    gone = next(row.sulphur for row in NITRE.pot.sulphur.rows if row.name == "leaves as sulphur dioxide")
    assert dioxide.litres == pytest.approx(gone / 32.06 * LITRE, rel=1e-3)


@pytest.mark.parametrize(
    ("report", "factors", "ore"),
    [
        (
            DEMO,
            {
                "borax-glass": (90.0, 1.15, 1.1),
                "soda-ash-dense": (70.0, 1.08, 1.3),
                "silica-sand": (40.0, 1.53, 1.1),
            },
            1.1,
        ),
        (
            BICARBONATE,
            {
                "sodium-bicarbonate": (60.0, 0.79, 1.6),
                "borax-decahydrate": (40.0, 0.82, 3.5),
                "silica-sand": (20.0, 1.53, 1.1),
                "charcoal": (1.0, 0.45, 1.1),
            },
            2.0,
        ),
        (
            NITRE,
            {
                "soda-ash-dense": (60.0, 1.08, 1.3),
                "borax-glass": (30.0, 1.15, 1.1),
                "silica-sand": (20.0, 1.53, 1.1),
                "nitre": (20.0, 1.05, 4.0),
                "litharge": (40.0, 3.25, 1.1),
            },
            1.1,
        ),
    ],
    ids=["demo", "bicarbonate", "nitre"],
)  # fmt: skip
def test_the_heap_and_what_it_swells_to(
    report: Report, factors: dict[str, tuple[float, float, float]], ore: float
) -> None:
    fill = filled(report)
    loose = sum(grams / density for grams, density, _ in factors.values())
    swollen = sum(grams / density * factor for grams, density, factor in factors.values())
    rock = fill.loose_volume - loose
    assert 1.0 < report.work.recipe.charge / rock < 2.8
    assert fill.swollen_volume == pytest.approx(swollen + ore * rock, rel=1e-9)
    assert fill.swollen_fraction == pytest.approx((swollen + ore * rock) / fill.brim, rel=1e-9)


def test_an_ore_rich_in_carbonate_may_fill_half_the_pot_and_no_more() -> None:
    fluxes = {"soda-ash-dense": 60.0, "silica-sand": 20.0}
    report = evaluate(weighed(CARBONATE, "roast and melt", 60.0, fluxes, crucible="pot-22-32-75"))
    fill = filled(report)
    plain = filled(evaluate(weighed(RAW, "roast and melt", 60.0, fluxes, crucible="pot-22-32-75")))
    assert all(0.5 < each.loose_fraction < 2.0 / 3.0 for each in (fill, plain))
    assert (fill.gas_formers, plain.gas_formers) == (True, False)
    assert fill.feeds_needed > plain.feeds_needed == 1
    assert {"R06"} <= {caution.rule for caution in report.cautions}


def test_manganese_dioxide_of_the_ore_counts_like_carbonate_and_rises_without_a_jump() -> None:
    def manganese(percent: float) -> Report:
        ore = replace(RAW, minerals=(Share("Quartz", 100.0 - percent), Share("Pyrolusite", percent)))
        return evaluate(weighed(ore, "roast and melt", 60.0, {"soda-ash-dense": 60.0}))

    assert [filled(manganese(percent)).gas_formers for percent in (0.0, 9.0, 11.0)] == [False, False, True]


@pytest.mark.parametrize("report", [DEMO, BICARBONATE, NITRE], ids=["demo", "bicarbonate", "nitre"])
def test_the_foam_by_speed_of_the_gas_and_index_of_the_slag(report: Report) -> None:
    """In the step that foams highest: 1/30 of the heat, its hot litres over its seconds and the bore, times
    115 mu^1.2 / (0.28^0.2 rho 0.005^0.9)."""
    gas, fill, fluid = gas_of(report), filled(report), report.fluid
    assert fluid is not None
    assert fluid.at_pour is not None
    pot = report.work.shelf.crucible(report.work.recipe.crucible)
    assert pot is not None
    peak = max(gas.stages, key=lambda stage: stage.foam)
    assert peak.name == "as the liquid charge boils"
    wide = (1150.0 - 25.0) / 30.0
    moles_a_degree = {
        "demo": 70.0 * PURE / 105.99 / 250.0,
        "nitre": 60.0 * PURE / 105.99 / 250.0
        + sum(row.litres / LITRE / 450.0 for row in gas.sources if row.species in ("N2", "O2"))
        + sum(row.litres / LITRE / 400.0 for row in gas.sources if row.species == "SO2"),
        "bicarbonate": 60.0 * PURE / 84.007 / 2.0 / 250.0 + PURE / 12.011 / 500.0,
    }[next(name for name, each in (("demo", DEMO), ("nitre", NITRE), ("bicarbonate", BICARBONATE)) if each is report)]
    middle = 25.0 + 25.5 * wide  # the last whole step under 1000 degC
    hot = moles_a_degree * wide * 8.314463 * (middle + 273.15) / 101325.0
    seconds = wide / gas.degrees_a_minute.value * 60.0
    bottom, top, depth = (30.0, 44.0, 105.0) if "30" in pot.name else (36.0, 52.0, 125.0)
    radius = 1e-3 * (bottom + (top - bottom) * fill.melt_level / depth)
    density = report.slag.density.value * 1e3
    index = 115.0 * min(fluid.at_pour.value, 3.0) ** 1.2 / (0.28**0.2 * density * 0.005**0.9)
    foam = hot / seconds / (pi * radius**2) * index * 1e3
    assert gas.foam is not None
    assert gas.free is not None
    assert gas.foam == pytest.approx(foam, rel=0.02)
    assert gas.too_fast is (gas.foam > gas.free)
    if gas.too_fast and gas.feeds_needed:
        fed = replace(report.work, recipe=replace(report.work.recipe, feeds=gas.feeds_needed))
        assert not gas_of(evaluate(fed)).too_fast
