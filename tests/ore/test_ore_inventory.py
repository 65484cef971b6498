"""Every number of lot and roast that rests on memory or judgement may be replaced, or it is told why not."""

import ast
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from fluxlab import ore, resources
from fluxlab.ore.lot_figures import lot_figures
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.roast_figure_list import IGNITION, LIQUID, MINUTES, roast_figures, spots

FLAGS = ("memory", "judgement", "fitted", "stated")
OUTCOME = "the outcome is replaced instead: "
SAID = "only says from where on something is worth a word; no figure of lot, ore or roast follows from it"
DRAWN = "a way of reckoning with doubt, no property of an ore, a furnace or a balance"
NATURE = "a natural constant, a definition or a count of atoms"
NUMERIC = "belongs to the arithmetic"

PROGRAMME_NOT_REPLACED: Mapping[str, str] = {
    "defaults": "what a new plan begins with; the plan's own fields are the operator's",
    "kinetics.reference_temperature": "only says for which heat the minutes are told",
    "kinetics.reference_size": "only says for which grain the minutes are told",
    "kinetics.reference_bed": "only says for which bed the minutes are told",
    "arsenate": OUTCOME + "arsenic kept as arsenate",
    "antimony": OUTCOME + "antimony that fumes",
    "magnetite": OUTCOME + "iron left magnetic",
    "silver": OUTCOME + "silver lost",
}
COLUMNS_NOT_REPLACED: Mapping[str, str] = {
    "sulphates.t_": OUTCOME + "each metal left as sulphate",
    "sulphates.formed": OUTCOME + "each metal left as sulphate",
    "sulphates.found_": "stands beside the computed one, no figure follows from it",
    "decompositions.low": OUTCOME + "each mineral burnt or split",
    "decompositions.high": OUTCOME + "each mineral burnt or split",
    "first_liquids.high": "goes with the lower end when that is replaced",
    "burning.ignition_coarse": "goes with that of fine powder when that is replaced",
}
CODE_NOT_REPLACED: Mapping[str, str] = {
    "as_is._NEARLY_WHOLE": SAID,
    "as_weighed._LEAST": "what is put down to the shares has an end; the weights are the operator's",
    "as_weighed._MOST": "what is put down to the shares has an end; the weights are the operator's",
    "assay._RELATIVE": "the range that the operator gives an element counts instead",
    "assay._FLOOR": "the range that the operator gives an element counts instead",
    "assay._RANGE": NUMERIC,
    "assay._SHORTFALL": SAID,
    "feed._MUCH_RAW": SAID,
    "feed._SLURRY": SAID,
    "feed.LOOSE": "the operator's bulk density counts instead",
    "grade.TROY_OUNCE": NATURE,
    "grade.POUND": NATURE,
    "grade.SHORT_TON": NATURE,
    "grade.LONG_TON": NATURE,
    "grade._FRACTION": NATURE,
    "lattice.GENERATORS": NUMERIC,
    "lattice._GOLDEN": NUMERIC,
    "lattice._REACH": NUMERIC,
    "lattice._UNDER": NUMERIC,
    "partial_pot._HALF": NATURE,
    "partial_roast._TRACE": NUMERIC,
    "roast_programme._TRACE": SAID,
    "pot.UNKNOWN_DENSITY": "the operator's bulk density, or that of the carrier, counts instead",
    "pot._STEPS": NATURE,
    "reconcile._NEAR": NUMERIC,
    "reconcile._NOISE": NUMERIC,
    "roast._LEAVES": NATURE,
    "roast._FLUES": NATURE,
    "roast_arrays._SULPHUR": NATURE,
    "roast_arrays._PER_ARSENIC_PENTOXIDE": NATURE,
    "roast_arrays._NONE": NUMERIC,
    "roast_figures.POINTS": NUMERIC,
    "roast_figures._EVEN": NUMERIC,
    "roast_figures._FAR": SAID,
    "roast_kinetics._NODES": NUMERIC,
    "roast_kinetics._WEIGHTS": NUMERIC,
    "roast_kinetics._FASTEST": "bounds what splits in a finish of seconds; in one of a minute it moves less than 1 %",
    "roast_programme._FINE": "only says for which grain the first ignition is told",
    "roast_programme._COARSE": "only says for which grain the second ignition is told",
    "roast_programme._LITTLE": SAID,
    "roast_reading.POINTS": NUMERIC,
    "roast_reading._FREEDOM": DRAWN,
    "roast_reading._WORTH_A_WORD": SAID,
    "roast_reading._NINE_IN_TEN": NUMERIC,
    "roast_reading._FEW": SAID,
    "roast_stages._SULPHIDES": NATURE,
    "roast_state._TAIL": NUMERIC,
    "roast_state._COMMON": DRAWN,
    "roast_state._GOOD_ROAST": DRAWN,
    "roast_state._POOR_ROAST": DRAWN,
    "roast_state._OWN": NUMERIC,
    "roast_state._HOTTEST": "the most that a plan may ask of a furnace; nothing is reckoned with it",
    "roast_tables.NINE_IN_TEN": NUMERIC,
    "samples.COUNT": NUMERIC,
    "samples.TRAIN": NUMERIC,
    "samples.CHECK": NUMERIC,
    "sampling._UNKNOWN": NUMERIC,
    "shares.SILENT": SAID,
    "shares.MOST": SAID,
    "shares.LEAST": SAID,
    "silver_in_roast._STEEP": OUTCOME + "silver lost",
    "silver_in_roast._AROUND_HOT": OUTCOME + "silver lost",
    "silver_in_roast._LITTLE_SALT": OUTCOME + "silver lost",
    "unit_feed._CALCITE_PER_CO2": NATURE,
}
PLACED = {".".join((*way, name)) for way, name, _ in spots().values()}


def flagged(table: Mapping[str, Any], path: str, source: str) -> Iterator[str]:
    """Row and name of every number of a table whose source is memory, judgement or a fit."""
    source = table.get("source", source)
    for name, value in table.items():
        if isinstance(value, dict):
            yield from flagged(value, f"{path}.{name}" if path else name, source)
        elif any(flag in str(table.get(f"{name}_source", source)) for flag in FLAGS) and _is_number(value):
            yield f"{path}.{name}"


def _is_number(value: Any) -> bool:
    if isinstance(value, list):
        return bool(value) and _is_number(value[0])
    return isinstance(value, int | float) and not isinstance(value, bool)


def exempted(path: str, reasons: Mapping[str, str]) -> str:
    """The reason that stands for a number or for the row that it belongs to; empty if there is none."""
    return next((why for key, why in reasons.items() if path == key or path.startswith(f"{key}.")), "")


def test_every_number_of_the_programme_has_a_source() -> None:
    told = set(flagged(resources.toml("roast/programme.toml"), "", ""))
    found = {"floor.sulphide_sulphur", "limits.hard"}
    assert set(_numbers(resources.toml("roast/programme.toml"), "")) - told == found


def _numbers(table: Mapping[str, Any], path: str) -> Iterator[str]:
    for name, value in table.items():
        if isinstance(value, dict):
            yield from _numbers(value, f"{path}.{name}" if path else name)
        elif _is_number(value):
            yield f"{path}.{name}"


def test_every_guess_of_the_programme_is_the_operators_to_replace() -> None:
    for path in flagged(resources.toml("roast/programme.toml"), "", ""):
        assert (path in PLACED) != bool(exempted(path, PROGRAMME_NOT_REPLACED)), path


def test_no_reason_is_told_for_what_is_not_there() -> None:
    there = list(flagged(resources.toml("roast/programme.toml"), "", ""))
    for key in PROGRAMME_NOT_REPLACED:
        assert any(exempted(path, {key: "told"}) for path in there), key
    assert {*PLACED} <= {*there}


def test_every_guess_of_a_mineral_or_a_first_melt_is_the_operators_to_replace() -> None:
    known = roast_figures()
    for row in resources.table("roast/burning.csv"):
        assert MINUTES + row["mineral"] in known
        assert (IGNITION + row["mineral"] in known) == ("memory" in row["ignition_source"])
        assert not any(flag in row["heat_source"] for flag in FLAGS)
    for row in resources.table("roast/first_liquids.csv"):
        assert (LIQUID + row["phases"] in known) == any(flag in row["source"] for flag in FLAGS)


@pytest.mark.parametrize("name", ["sulphates", "burning", "first_liquids", "decompositions"])
def test_every_column_of_numbers_is_replaced_or_it_is_told_why_not(name: str) -> None:
    replaced = {"burning.tau_600", "burning.ignition_fine", "first_liquids.low"}
    computed = {"burning.heat"}
    for column in resources.table(f"roast/{name}.csv")[0]:
        path = f"{name}.{column}"
        if column.endswith("source") or column in ("element", "oxide", "sulphate", "mineral", "phases", "words"):
            continue
        if column == "burns_off":
            continue
        told = any(path.startswith(key) for key in COLUMNS_NOT_REPLACED)
        assert path in replaced | computed or told, path


def test_every_guess_of_the_lot_is_the_operators_to_replace() -> None:
    assert lot_figures(OreType("o", "Ore")).keys() == resources.toml("lot.toml").keys()
    for key, row in resources.toml("lot.toml").items():
        assert "metal" in row or any(flag in row["source"] for flag in FLAGS), key


def constants() -> Iterator[str]:
    """Module and name of every constant of the room that holds a number."""
    for path in sorted(Path(ore.__file__).parent.glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None and _holds_number(node.value):
                for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
                    yield from (f"{path.stem}.{name.id}" for name in ast.walk(target) if isinstance(name, ast.Name))


def _holds_number(value: ast.expr) -> bool:
    return any(isinstance(each, ast.Constant) and _is_number(each.value) for each in ast.walk(value))


def test_every_constant_of_the_room_tells_why_it_is_not_the_operators() -> None:
    assert set(constants()) == set(CODE_NOT_REPLACED)
