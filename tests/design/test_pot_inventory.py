"""Every number of the pot that rests on memory, judgement or a fit may be replaced, or it is told why not."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from fluxlab import resources
from fluxlab.design.pot_figure_list import figure_of, static_figures
from fluxlab.fusion.ore_gas import gas_window
from fluxlab.fusion.tables import TABLES
from fluxlab.materials.formulas import formula

FLAGS = ("memory", "judgement", "fitted", "stated")
REPLACED = {(figure.at, name) for figure in static_figures().values() for name in figure.names if figure.at}
NOT_REPLACED: Mapping[str, str] = {
    "bullion.density": "densities of elements: natural constants",
    "deportment.dissolves": "the share of iron, tungsten and molybdenum that is metal is replaced instead",
    "deportment.elements": "each share is replaced by element, see the test of the shares",
    "foam.index.viscosity_power": "the form of a published rule; its factor is replaced",
    "foam.index.tension_power": "the form of a published rule; its factor is replaced",
    "foam.index.bubble_power": "the form of a published rule; its factor is replaced",
    "foam.slag.tried_to": "says where the rule was tried, no figure follows from it",
    "heat.sensible.SiO2": "computed",
    "heat.sensible.B2O3": "computed",
    "heat.sensible.Fe2O3": "computed",
    "heat.sensible.CaO": "computed",
    "heat.sensible.CaF2": "computed",
    "heat.sensible.PbO": "computed",
    "heat.sensible_metal.Cu": "computed",
    "heat.sensible_metal.Pb": "computed",
    "heat.sensible_metal.Fe": "computed",
    "heat.sensible_gas.CO2": "computed",
    "heat.sensible_gas.H2O": "computed",
    "heat.reaction.Na2CO3": "computed",
    "heat.reaction.NaHCO3": "computed",
    "heat.reaction.Na2B4O7·10H2O": "computed",
    "heat.reaction.H3BO3": "computed",
    "heat.reaction.CaCO3": "computed",
    "heat.reaction.Ca(OH)2": "computed",
    "heat.burner.heating_value": "computed",
    "litharge.sulphate.reference_heat": "only says where the constant is told",
    "losses.fine_prills": "the size of the drops is replaced as such",
    "redox.wall.per_volume": "the pot for which the carbon of the wall is told",
    "redox.budget": "the band of each route is replaced instead",
    "redox.burns.KNO3": "computed: all of it burns sulphide",
    "redox.burns.NaNO3": "computed: all of it burns sulphide",
    "redox.burns.Pb3O4": "computed: all of it burns sulphide",
    "redox.burns.PbO": "computed: all of it burns sulphide",
    "redox.burns.CuO": "computed: all of it burns sulphide",
    "redox.burns.Cu2O": "computed: all of it burns sulphide",
    "sulphur.silver.slag.oxidising": "the silver dissolved in this slag is replaced as such",
    "sulphur.silver.slag.reducing": "the silver dissolved in this slag is replaced as such",
}


def guessed(table: Mapping[str, Any], path: str, source: str) -> Iterator[tuple[str, str]]:
    """Row and name of every number of a table whose source is memory, judgement or a fit."""
    source = table.get("source", source)
    for name, value in table.items():
        own = str(table.get(f"{name}_source", source))
        if isinstance(value, dict):
            yield from guessed(value, f"{path}.{name}", source)
        elif any(flag in own for flag in FLAGS) and _is_number(value):
            yield path, name


def _is_number(value: Any) -> bool:
    if isinstance(value, list):
        return bool(value) and _is_number(value[0])
    return isinstance(value, int | float) and not isinstance(value, bool)


@pytest.mark.parametrize("name", [*TABLES, "cupel"])
def test_every_number_of_memory_or_judgement_is_the_operators_to_replace(name: str) -> None:
    for row, figure in guessed(resources.toml(f"fusion/{name}.toml"), name, ""):
        told = (row, figure) in REPLACED or row in NOT_REPLACED or f"{row}.{figure}" in NOT_REPLACED
        assert told, f"{row}.{figure}"


def test_no_reason_is_told_for_what_is_replaced_or_is_not_there() -> None:
    there = {each for name in TABLES for each in guessed(resources.toml(f"fusion/{name}.toml"), name, "")}
    paths = {row for row, _ in there} | {f"{row}.{figure}" for row, figure in there}
    assert NOT_REPLACED.keys() <= paths
    assert not {f"{row}.{figure}" for row, figure in REPLACED} & NOT_REPLACED.keys()


SHARES_NOT_REPLACED: Mapping[str, str] = {
    "metal:Ag": "follows from the balance of metal, matte, speiss and slag, whose ratios are replaced",
    "metal:Au": "follows from the balance of metal, matte and slag, whose ratios are replaced",
    "layers:Ag": "follows from the balance of metal, matte, speiss and slag, whose ratios are replaced",
    "layers:Au": "follows from the balance of metal, matte and slag, whose ratios are replaced",
    "layers:Fe": "computed: the iron that sulphur and arsenic bind",
}


def test_every_share_of_every_element_is_the_operators_to_replace() -> None:
    for symbol in resources.toml("fusion/deportment.toml")["elements"]:
        for start in ("metal:", "fume:", "layers:"):
            key = start + symbol
            assert (figure_of(key) is not None) != (key in SHARES_NOT_REPLACED), key


def test_the_window_of_every_gas_of_a_mineral_is_the_operators_to_replace() -> None:
    for row in resources.table("fusion/ore_gas.csv"):
        if row["species"] == "*" or row["source"].startswith("computed"):
            continue  # what counts where nothing else does, the mineral's own window being replaced; what is no guess
        text = row["formula"]
        for end in ("gas_from", "gas_to"):
            figure = figure_of(f"{end}:{text}:{row['species']}")
            assert figure is not None, text
            assert text == "*" or formula(text).atoms


def test_the_window_of_every_gas_of_a_flux_is_the_operators_to_replace() -> None:
    for row in resources.table("gas_windows.csv"):
        own = gas_window(row["whose"], row["species"])
        assert (own.low, own.high, own.words) == (float(row["low_degc"]), float(row["high_degc"]), row["words"])
        for end in ("gas_from", "gas_to"):
            assert figure_of(f"{end}:{row['whose']}:{row['species']}") is not None
