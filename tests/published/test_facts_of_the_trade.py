"""Facts that every workshop repeats: common practice, no source. They are shown as what they are, a wish.

The unit facts follow from exact definitions (the troy ounce is 31.1034768 g, the short ton 2000 lb of 453.59237 g).
"""

from dataclasses import replace

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from fluxlab.design.start import new_recipe, new_shelf
from fluxlab.fusion.routes import flux_to_ore_wish, routes
from fluxlab.ore.demo import demo_ores
from fluxlab.ore.grade import converted, fraction
from fluxlab.ore.ore_types import Grade, OreType

CLEAN, DIRTY = demo_ores()[0], demo_ores()[1]


def report_of(ore: OreType):  # type: ignore[no-untyped-def]
    shelf = new_shelf()
    return evaluate(Work(replace(new_recipe(ore, shelf), dry=True, mould_preheat=200.0), shelf))


def test_one_part_of_flux_to_a_clean_concentrate_and_two_to_a_dirty_one() -> None:
    assert flux_to_ore_wish(0.0) == flux_to_ore_wish(0.5) == 1.0
    assert flux_to_ore_wish(0.8) == flux_to_ore_wish(1.0) == 2.0
    assert flux_to_ore_wish(0.65) == pytest.approx(1.5)


@pytest.mark.parametrize(("ore", "wish"), [(CLEAN, 1.0), (DIRTY, 2.0)], ids=["clean", "dirty"])
def test_the_demo_ores_get_the_wish_and_the_recipe_without_it(ore: OreType, wish: float) -> None:
    report = report_of(ore)
    target = next(t for t in report.targets if t.key == "flux_to_ore")
    print(
        f"{ore.name}: {report.flux_mass:.1f} g of flux with the wish for {wish:g} to 1, "
        f"{report.flux_mass_without_wish:.1f} g without it, then held up by: {report.without_wish}"
    )
    assert target.lo == pytest.approx(wish, abs=1e-9)
    assert target.lo_kind == "wish"
    assert target.source.startswith("common practice, no source")
    assert report.flux_mass == pytest.approx(wish * report.ore.charge, rel=1e-6)
    assert report.flux_mass_without_wish is not None
    assert report.flux_mass_without_wish < report.flux_mass
    assert report.without_wish != ""


def test_the_pot_is_filled_with_powder_to_half_or_two_thirds() -> None:
    limits = {t.key: t for t in routes()["roast and melt"].targets}
    assert limits["loose_fill"].hi == pytest.approx(200 / 3, abs=0.01)
    assert limits["loose_fill"].hi_kind == "must"
    assert limits["gas_fill"].hi == 50.0


def test_an_ounce_to_the_short_ton_is_34_2857_grams_to_the_tonne() -> None:
    assert converted(Grade(1.0, "oz/short ton"), "g/t").value == pytest.approx(34.2857, abs=5e-5)


def test_a_thousand_ounces_to_the_short_ton_are_3_43_percent() -> None:
    assert 100 * fraction(Grade(1000.0, "oz/short ton")) == pytest.approx(3.43, abs=0.005)
