"""Soda and iron for sulphur, gas volumes and the room that swelling needs."""

import pytest

from fluxlab import resources
from fluxlab.fusion.foam import Swelling, ore_swell, swollen_volume
from fluxlab.fusion.gas import gas_rows, gas_volume, steam
from fluxlab.fusion.ore_gas import gas_window
from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.sulphur_wanted import iron_wanted
from fluxlab.materials.yield_types import Gas
from tests.fusion.pots import fusion_charge

NITRE = (
    Gas("N2", 0.14, 0.005, "fast", 550.0, 1000.0),
    Gas("O2", 0.40, 0.0125, "only what the charge does not use", 550.0, 1000.0),
)
SODA = (Gas("CO2", 0.415, 0.00944, "as it meets silica", 750.0, 1000.0),)
UNKNOWN = (Gas("CO2", 0.1, 0.002, "on heating"),)


def test_copper_keeps_its_share_of_the_sulphur_from_the_iron() -> None:
    assert iron_wanted({}, 1.0, copper=3.964) == pytest.approx(0.0, abs=1e-3)
    assert iron_wanted({}, 2.0, copper=3.964) == pytest.approx(iron_wanted({}, 1.0, 0.0), rel=1e-3)
    assert iron_wanted({}, 0.1, copper=50.0) == 0.0


def test_a_breath_of_litharge_asks_for_no_iron() -> None:
    ore = {"Ag15CuSb2S11": 7.0, "Ag2S": 1.0, "Ag": 1.0}
    with_it, without = (in_the_pot(fusion_charge(ore, "iron", litharge=g)) for g in (2.225073858507203e-309, 0.0))
    assert with_it.sulphur.iron_wanted.value == pytest.approx(without.sulphur.iron_wanted.value)


def test_a_gas_without_a_window_of_its_own_has_that_of_any_gas_of_the_table() -> None:
    last = resources.table("fusion/ore_gas.csv")[-1]
    found = gas_window("Ca(NO3)2", "N2")
    assert (last["formula"], last["species"]) == ("*", "*")
    assert (found.low, found.high) == (float(last["low_degc"]), float(last["high_degc"]))
    assert (found.words, found.source) == (last["words"], last["source"])
    assert gas_window("Ca(NO3)2", "O2") != found
    assert gas_window("KNO3", "N2").low == 550.0


def test_gas_grows_with_the_absolute_temperature() -> None:
    assert gas_volume(1.0, 0.0) == pytest.approx(22.414, abs=0.001)
    assert gas_volume(1.0, 273.15) == pytest.approx(2.0 * gas_volume(1.0, 0.0))


def test_rows_come_in_the_order_of_release_and_the_unknown_last() -> None:
    rows = gas_rows([("ore", 10.0, UNKNOWN), ("soda ash", 20.0, SODA), ("nitre", 5.0, NITRE)], 1000.0)
    assert [row.source for row in rows] == ["nitre", "nitre", "soda ash", "ore"]
    soda = rows[2]
    assert soda.grams == pytest.approx(8.3)
    assert soda.cold == pytest.approx(gas_volume(0.1888, 25.0))
    assert soda.hot == pytest.approx(gas_volume(0.1888, 1000.0))
    assert (soda.low, soda.high, soda.window) == (750.0, 1000.0, "as it meets silica")


def test_oxygen_that_the_charge_uses_does_not_come_off() -> None:
    sources = [("nitre", 10.0, NITRE)]
    half = {row.species: row.moles for row in gas_rows(sources, 1000.0, oxygen_used=2.0)}
    assert half == {"N2": pytest.approx(0.05), "O2": pytest.approx(0.0625)}
    assert [row.species for row in gas_rows(sources, 1000.0, oxygen_used=99.0)] == ["N2"]


def test_no_mass_gives_no_gas() -> None:
    assert gas_rows([("soda ash", 0.0, SODA)], 1000.0) == ()


def test_water_left_in_the_charge_is_steam_early_on() -> None:
    row = steam("damp", 1.0, 1150.0)
    assert row.high is not None
    assert row.high < 200.0
    assert row.hot == pytest.approx(6.48, abs=0.01)


def test_the_swollen_heap_is_the_loose_volume_swollen_part_by_part() -> None:
    assert swollen_volume([Swelling(50.0, 3.5), Swelling(50.0, 1.1)]) == pytest.approx(230.0)
    assert swollen_volume([Swelling(50.0, 3.5), Swelling(50.0, 1.1)], packing=0.9) == pytest.approx(207.0)


def test_an_ore_swells_by_its_carbonates_or_by_its_ferric_oxide_with_carbon() -> None:
    assert ore_swell(0.0, 0.0, 0.0, with_carbon=True) == pytest.approx(1.1)
    assert ore_swell(0.7, 0.0, 0.0, with_carbon=False) == pytest.approx(2.0)
    assert ore_swell(0.15, 0.10, 0.0, with_carbon=False) == pytest.approx(1.55)
    assert ore_swell(0.0, 0.0, 0.6, with_carbon=True) == pytest.approx(1.5)
    assert ore_swell(0.0, 0.0, 0.6, with_carbon=False) == pytest.approx(1.1)
