"""Every number in the code of the pot and of the routes is the operator's to replace, or it is told why not."""

import ast
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from fluxlab import fusion, resources
from fluxlab.design.pot_figure_list import static_figures
from fluxlab.fusion.gas_timing import FoamSlag
from fluxlab.fusion.heat import Furnace
from fluxlab.fusion.routes import routes

NATURE = "a natural constant, a definition or a count of atoms"
NUMERIC = "belongs to the arithmetic"
UNIT = "turns one unit into another"
SAID = "only says from where on something is worth a word; no figure of the pot follows from it"
ROUNDED = "says how finely a mass is told"
TABLE = "stands in a table whose figure is replaced; a test here holds both together"
RECIPE = "the recipe's own field counts instead"
BETWEEN = "the middle between two states, whose places are replaced"
SAFETY = "a limit of safety, which no own figure widens"

CODE_NOT_REPLACED: Mapping[str, str] = {
    "aim._WITH_IRON": BETWEEN,
    "aim._MISSED": SAID,
    "aim._TELLING": SAID,
    "aim_words._TELLING": SAID,
    "aim_words.sulphides_reduce": SAID,
    "bullion._LEAST": NUMERIC,
    "burning._SIMPLE": NATURE,
    "burning._own_heat": NUMERIC,
    "cupel.LEAST_LEAD": SAID,
    "currency.METAL_OXYGEN": NATURE,
    "deportment.REDUCING": "far beyond the place of a reducing pot, which is replaced",
    "deportment.TO_METAL": NATURE,
    "deportment._FAR": "far beyond the places of the states, which are replaced: no share moves with it",
    "deportment._SLAG": "an element without a row stays in the slag",
    "deportment.shares": "the row of the iron state",
    "foam.feeds_for_foam": NUMERIC,
    "foam.foam_index": TABLE,
    "gas.GAS_CONSTANT": NATURE,
    "gas.PRESSURE": NATURE,
    "gas.ROOM": NATURE,
    "gas.steam": "free water goes before the charge is liquid: no foam; its heat moves by a tenth of a kJ to the gram",
    "gas_timing.FoamSlag": TABLE,
    "gas_timing._GAS": NATURE,
    "gas_timing._NARROW": "keeps a window open that the pour would close; half or twice of it moves nothing tried",
    "gas_timing._STEPS": NUMERIC,
    "gas_timing._index": NUMERIC,
    "gas_timing._step": "the area of a circle",
    "gas_words.timing_issues": ROUNDED,
    "heat.Furnace": TABLE,
    "heat._BASIS": "only says for which rise the heats of the table are told",
    "heating._ROUNDING": NUMERIC,
    "matte.IRON_PER_ARSENIC": NATURE,
    "matte.SPEISS_PER_ARSENIC": NATURE,
    "nitre.BEARABLE": SAFETY,
    "nitre.CARBON_PER_OXYGEN": NATURE,
    "nitre.ON_SULPHIDE": SAFETY,
    "nitre.nitre_efficiency": NATURE,
    "partition._DUST": NUMERIC,
    "partition._STEPS": NUMERIC,
    "partition._fraction": NUMERIC,
    "pot.NOTHING": NUMERIC,
    "pot_of.NOTHING": NUMERIC,
    "pot_types.FusionCharge": RECIPE,
    "pot_words._HARDLY_ANY": SAID,
    "pot_words._SOLID": SAID,
    "pot_words._TELLING": SAID,
    "pot_words._mostly": SAID,
    "pot_words.grams": ROUNDED,
    "reactions.BURNT_TO": NATURE,
    "reactions.burn": NATURE,
    "redox.OXYGEN_PER_CARBON": NATURE,
    "redox._SPECK": NUMERIC,
    "redox._litharge": NATURE,
    "redox.wall_of": "a wall goes by the two-thirds power of its pot; its carbon is replaced",
    "redox_order._ROUNDING": NUMERIC,
    "redox_order.steps_of": "the place of litharge: computed; whether iron comes before it is replaced",
    "redox_order.sulphate_oxygen": NATURE,
    "redox_order.sulphur_in": NATURE,
    "redox_words._TELLING": SAID,
    "redox_words._TENTH": SAID,
    "redox_words.left_over": NUMERIC,
    "role.BRINGS": NATURE,
    "role.role_of": "how many roles are kept in memory",
    "settling.GRAVITY": NATURE,
    "settling._below": NUMERIC,
    "settling.clean_drop": "the drag on a drop with a clean surface: the published form of the law",
    "settling.settled_size": "the law of Stokes",
    "settling.stokes": "the law of Stokes",
    "sulphate.GAS_CONSTANT": NATURE,
    "sulphate._CLOSE": NUMERIC,
    "sulphate._DUST": NUMERIC,
    "sulphate._ROUNDS": NUMERIC,
    "sulphate._TRACE": NUMERIC,
    "sulphate_left.NOTHING_LEFT": NUMERIC,
    "sulphate_many._CLOSE": NUMERIC,
    "sulphate_many._DUST": NUMERIC,
    "sulphate_many._ROUNDS": NUMERIC,
    "sulphate_many._TRACE": NUMERIC,
    "sulphate_many.nitre_shares": NATURE,
    "sulphur_fate._OXYGEN_PER_SULPHUR": NATURE,
    "sulphur_wanted._HOLDS": NATURE,
    "wanted._CLOSE": NUMERIC,
    "wanted._STEPS": NUMERIC,
}
PLAIN = {0.0, 1.0, -1.0, 2.0, 1e2, 1e3, 1e-3, 1e6, 1e-6, 60.0, 273.15}
"""Counts, halves by a division, percent and other units, seconds of a minute and zero of the Celsius scale."""
HEATS = "only differences of these heats count, and how much of one is replaced"
FORMATION_NOT_REPLACED = dict.fromkeys(("NiO", "Sb2O3", "As2O3", "CuFeS2", "FeAsS", "Fe7S8"), HEATS)
SULPHATES, ARSENATE = "place of sulphates", "place of arsenate"
PLACES: Mapping[str, str] = {
    "KNO3": "nitre gives first: found; what it gives is replaced",
    "Pb3O4": "red lead before litharge: common practice, and it has to be litharge first",
    "Ag2SO4": "sulphates_rank",
    "PbSO4": "sulphates_rank",
    "CaSO4": "sulphates_rank",
    "As2O5": "arsenate_rank",
}
"""Substances whose place in the order of reduction is a judgement, with the own figure or the reason for none."""
FLAGS = ("memory", "judgement", "fitted", "stated", "practice")


def constants() -> Iterator[str]:
    """Module and name of every constant, and of every function or type with a number in it that is not plain."""
    for path in sorted(Path(fusion.__file__).parent.glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None and _numbers_in(node.value):
                for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
                    yield from (f"{path.stem}.{each.id}" for each in ast.walk(target) if isinstance(each, ast.Name))
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and any(n not in PLAIN for n in _numbers_in(node)):
                yield f"{path.stem}.{node.name}"


def _numbers_in(node: ast.AST) -> list[float]:
    found = (each.value for each in ast.walk(node) if isinstance(each, ast.Constant))
    return [float(value) for value in found if isinstance(value, int | float) and not isinstance(value, bool)]


def _is_number(value: Any) -> bool:
    if isinstance(value, list):
        return bool(value) and _is_number(value[0])
    return isinstance(value, int | float) and not isinstance(value, bool)


def test_every_number_in_the_code_of_the_pot_tells_why_it_is_not_the_operators() -> None:
    assert set(constants()) == set(CODE_NOT_REPLACED)


def test_what_stands_in_code_and_table_is_one_figure() -> None:
    foam, heat = resources.toml("fusion/foam.toml"), resources.toml("fusion/heat.toml")
    slag, furnace = FoamSlag(1.0, 2.5, 50.0, 40.0), Furnace(0.5)
    assert (slag.tension, slag.bubble, slag.activation) == tuple(
        foam["slag"][name] for name in ("tension", "bubble", "activation")
    )
    burner = heat["burner"]
    assert (furnace.lining, furnace.power) == (heat["body"]["lining_mass"], burner["power"])
    assert (furnace.efficiency, furnace.efficiency_low, furnace.efficiency_high) == tuple(
        burner[end] for end in ("likely", "low", "high")
    )


def test_the_place_of_a_judgement_in_the_order_of_reduction_is_replaced_or_told_why_not() -> None:
    rows = resources.table("reductions.csv")
    guessed = {row["substance"] for row in rows if any(flag in row["source"] for flag in FLAGS)}
    assert guessed == PLACES.keys()
    ranks = {row["substance"]: float(row["rank"]) for row in rows}
    for substance, key in PLACES.items():
        figure = static_figures().get(key)
        if figure is not None and substance != "Ag2SO4":
            assert figure.shipped()[0] == ranks[substance], substance


def test_a_heat_of_formation_from_memory_is_named_as_not_replaced() -> None:
    rows = resources.table("fusion/formation.csv")
    guessed = {row["substance"] for row in rows if row["source"].startswith("from memory")}
    assert guessed == FORMATION_NOT_REPLACED.keys()
    assert static_figures()["heat_share"].at == "litharge.sulphate"


TARGETS = "the operator's own target counts instead"
ROUTE_NOT_REPLACED: Mapping[str, str] = {
    "automatic.flux_to_ore": TARGETS,
    "automatic.soda_for_sulphur": TARGETS,
    "automatic.iron_for_sulphur": TARGETS,
    "automatic.nitre_for_sulphur": TARGETS,
    "automatic.litharge_left": TARGETS,
    "automatic.lead_button": TARGETS,
    "route.target.lo": TARGETS,
    "route.target.hi": TARGETS,
}
ROUTE_TITLES: Mapping[str, str] = {
    "name": "is what the route is called",
    "words": "a sentence",
    "source": "a source",
    "pot_source": "a source",
    "driver": "fluxes are the operator's rows, any of which he may take instead",
    "driver_is": "fluxes are the operator's rows, any of which he may take instead",
    "free": "fluxes are the operator's rows, any of which he may take instead",
    "pots": "the crucible is the operator's; what does not stand in it is warned of",
    "iron": "the recipe's own ferric share counts instead",
    "states": "an own band of the budget counts instead; with iron, the iron that the sulphur asks for",
    "collects": "is what tells the route from the others: who wants no lead button takes another, or no lead target",
    "cautions": "who may lift which caution stands with each",
}


def route_numbers() -> Iterator[str]:
    """Where the numbers of the routes stand, the band of the budget aside."""
    table = resources.toml("routes.toml")
    for key, row in table["automatic"].items():
        yield from (f"automatic.{key}" for value in row.values() if _is_number(value))
    for route in table["route"]:
        yield from (f"route.{title}" for title, value in route.items() if title != "budget" and _is_number(value))
        for target in route["target"]:
            yield from (f"route.target.{title}" for title, value in target.items() if _is_number(value))


def test_every_number_of_a_route_is_replaced_or_it_is_told_why_not() -> None:
    assert set(route_numbers()) == set(ROUTE_NOT_REPLACED)


def test_every_target_that_a_route_reckons_for_itself_is_a_target_of_the_operators() -> None:
    reckoned = {target.key for route in routes().values() for target in route.targets if target.auto}
    assert {f"automatic.{key}" for key in reckoned} == {key for key in ROUTE_NOT_REPLACED if "automatic" in key}


@pytest.mark.parametrize("name", [row["name"] for row in resources.toml("routes.toml")["route"]])
def test_every_title_of_a_route_that_is_no_number_tells_why_it_is_not_replaced(name: str) -> None:
    route = next(row for row in resources.toml("routes.toml")["route"] if row["name"] == name)
    assert route.keys() - {"budget", "ferrous_first", "target"} == ROUTE_TITLES.keys()
    for key in ("budget_low", "budget_high", "ferrous_first"):
        assert static_figures()[key].at == ""
