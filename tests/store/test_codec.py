"""Frozen values to JSON and back, and what is refused on the way."""

import json
from dataclasses import fields, is_dataclass, replace
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fluxlab.design.recipe import Line, Recipe, Target, Work
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component, Part
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.store.codec import CODEC
from fluxlab.store.keys import ENDINGS, FIGURES, Figure
from fluxlab.store.reader import TAGS
from fluxlab.vessel.vessel_types import Crucible, Mould


def like(hint: Any, figure: Figure | None = None) -> st.SearchStrategy[Any]:
    """Any value that a field of this type may hold."""
    if is_dataclass(hint):
        known, meant = get_type_hints(hint), FIGURES.get(hint, {})
        return st.builds(hint, **{f.name: like(known[f.name], meant.get(f.name)) for f in fields(hint)})
    origin, args = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        return st.one_of(*(st.none() if a is NoneType else like(a, figure) for a in args))
    if origin is Literal:
        return st.sampled_from(args)
    if origin is tuple and args[-1] is Ellipsis:
        return st.lists(like(args[0], figure), max_size=2).map(tuple)
    if origin is tuple:
        return st.tuples(*(like(a, figure) for a in args))
    if origin is frozenset:
        return st.frozensets(like(args[0], figure), max_size=2)
    if hint is float:
        assert figure is not None, "a number without a figure in keys.py"
        low = None if figure.low == float("-inf") else figure.low
        high = None if figure.high == float("inf") else figure.high
        return st.floats(low, high, allow_nan=False, allow_infinity=False)
    return {str: st.text(max_size=6), bool: st.booleans(), int: st.integers(1, 99)}[hint]


STORED = (Work, OreType, Component, Crucible, Mould, Target, Line)


@pytest.mark.parametrize("kind", STORED, ids=lambda kind: kind.__name__)
def test_what_is_written_is_read_back_equal(kind: type) -> None:
    @settings(max_examples=10 if kind is Work else 40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(like(kind))
    def check(value: object) -> None:
        text = json.dumps(CODEC.plain(value), allow_nan=False)
        read = CODEC.value(kind, json.loads(text), "x")
        assert read.issues == ()
        assert read.value == value
        assert [x.hex() for x in _floats(read.value)] == [x.hex() for x in _floats(value)]

    check()


def _floats(value: object) -> list[float]:
    if isinstance(value, float):
        return [value]
    if is_dataclass(value):
        return [x for f in fields(value) for x in _floats(getattr(value, f.name))]
    if isinstance(value, tuple):
        return [x for item in value for x in _floats(item)]
    return []


@given(value=st.floats(allow_nan=False, allow_infinity=False, min_value=0.0))
def test_a_weight_keeps_every_digit(value: float) -> None:
    text = json.dumps(CODEC.plain(Line("soda", value)))
    assert CODEC.value(Line, json.loads(text), "line").value == Line("soda", value)


PLAIN = CODEC.plain(
    Recipe("r1", "First", OreType("o1", "Black ore", minerals=(Share("Galena", 30.0, 20.0, 40.0),)), lines=(Line("a"),))
)


def test_keys_carry_their_units() -> None:
    assert {"charge_g", "pour_temperature_c", "hold_min", "mould_preheat_c", "house_g"} <= PLAIN.keys()
    assert PLAIN["ore"]["minerals"][0] == {
        "what": "Galena",
        "likely_percent": 30.0,
        "low_percent": 20.0,
        "high_percent": 40.0,
        "known_from": "",
    }


def test_a_missing_key_takes_the_default() -> None:
    short = {"uid": "r1", "name": "First", "ore": {"uid": "o1", "name": "Black ore"}}
    assert CODEC.value(Recipe, short, "recipe").value == Recipe("r1", "First", OreType("o1", "Black ore"))


def test_a_missing_key_without_default_is_named() -> None:
    read = CODEC.value(Recipe, {"uid": "r1", "ore": {"uid": "o1"}}, "recipe")
    assert {i.where for i in read.issues} == {"recipe.name", "recipe.ore.name"}
    assert read.value is None


@pytest.mark.parametrize(
    ("change", "where", "words"),
    [
        ({"charge_g": "100"}, "recipe.charge_g", "must be a number, but is “100”"),
        ({"charge_g": True}, "recipe.charge_g", "must be a number"),
        ({"charge_g": None}, "recipe.charge_g", "must be a number, but is empty (null)"),
        ({"charge_g": -3}, "recipe.charge_g", "must be at least 0, but is -3"),
        ({"charge_g": float("nan")}, "recipe.charge_g", "but is nan"),
        ({"charge_g": float("inf")}, "recipe.charge_g", "but is inf"),
        ({"charge_g": 10**400}, "recipe.charge_g", "but is inf"),
        ({"charge": 100}, "recipe.charge", "is not known"),
        ({"ferric_share": 1.2}, "recipe.ferric_share", "must be at most 1"),
        ({"pour_temperature_c": -300}, "recipe.pour_temperature_c", "must be at least -273.15"),
        ({"route": "smelt"}, "recipe.route", "must be one of “roast and melt”"),
        ({"route": ["nitre"]}, "recipe.route", "must be one of"),
        ({"dry": 1}, "recipe.dry", "must be true or false"),
        ({"feeds": 1.5}, "recipe.feeds", "must be a whole number"),
        ({"feeds": 0}, "recipe.feeds", "must be at least 1"),
        ({"name": 7}, "recipe.name", "must be text"),
        ({"name": "\ud800"}, "recipe.name", "half a character"),
        ({"lines": {}}, "recipe.lines", "must be a list"),
        ({"lines": [{"flux": "a"}, {"flux": "b", "least_g": -1}]}, "recipe.lines[1].least_g", "at least 0"),
        ({"lines": ["borax"]}, "recipe.lines[0]", "must be a group of keys"),
        ({"house_g": [["a", 1.0, 2.0]]}, "recipe.house_g[0]", "must be a list of 2"),
        ({"house_g": [["a", -1.0]]}, "recipe.house_g[0][1]", "at least 0"),
        ({"ore": None}, "recipe.ore", "must be a group of keys"),
    ],
)
def test_a_wrong_value_is_refused_with_its_path(change: dict[str, Any], where: str, words: str) -> None:
    read = CODEC.value(Recipe, PLAIN | change, "recipe")
    assert read.value is None
    (issue,) = read.issues
    assert issue.where == where
    assert words in issue.sentence
    assert issue.sentence.startswith(where)
    assert issue.remedy


def test_all_problems_come_together() -> None:
    read = CODEC.value(Recipe, PLAIN | {"charge_g": -1, "hold_min": "ten", "name": None}, "recipe")
    assert [i.where for i in read.issues] == ["recipe.name", "recipe.charge_g", "recipe.hold_min"]


def test_own_documents_are_read_without_looking_at_ranges() -> None:
    read = CODEC.value(Recipe, PLAIN | {"charge_g": -1}, "recipe", ranges=False)
    assert read.value is not None
    assert read.value.charge == -1.0


@pytest.mark.parametrize("made_of", [{}, {"by": "guess"}, {"by": ["formula"]}, "SiO2", None])
def test_what_a_flux_is_made_of_must_say_by_what(made_of: object) -> None:
    read = CODEC.value(Component, {"uid": "s", "name": "Sand", "made_of": made_of}, "flux")
    (issue,) = read.issues
    assert "one of “formula”, “analysis”, “parts”" in issue.sentence


@pytest.mark.parametrize(
    "made_of",
    [ByFormula("SiO2"), ByAnalysis((("SiO2", 72.5), ("Na2O", 14.0)), "H2O"), ByParts((Part("soda", 2.0, 1.5, 2.5),))],
)
def test_each_kind_of_flux_keeps_its_kind(made_of: ByFormula | ByAnalysis | ByParts) -> None:
    flux = Component("x", "X", made_of, tags=frozenset({"reducer", "gas-former"}))
    plain = CODEC.plain(flux)
    assert plain["made_of"]["by"] in TAGS.values()
    assert plain["tags"] == ["gas-former", "reducer"]
    assert CODEC.value(Component, plain, "flux").value == flux


def test_a_number_that_is_none_is_our_own_fault() -> None:
    with pytest.raises(ValueError):
        CODEC.plain(Line("a", float("nan")))


def test_half_a_character_is_written_as_a_question_mark() -> None:
    plain = CODEC.plain(replace(Recipe("r", "n", OreType("o", "o")), notes="a\ud800b"))
    assert plain["notes"] == "a?b"


def _number_fields(kind: type) -> set[str]:
    return {name for name, hint in get_type_hints(kind).items() if _holds_number(hint)}


def _holds_number(hint: Any) -> bool:
    return hint in (int, float) or any(_holds_number(a) for a in get_args(hint) if get_origin(hint) is not Literal)


def _all_kinds(hint: Any, seen: set[type]) -> set[type]:
    if is_dataclass(hint) and isinstance(hint, type):
        if hint not in seen:
            seen.add(hint)
            for inner in get_type_hints(hint).values():
                _all_kinds(inner, seen)
    else:
        for inner in get_args(hint):
            _all_kinds(inner, seen)
    return seen


def test_every_number_that_is_stored_has_a_unit() -> None:
    for kind in _all_kinds(Work, set()):
        assert _number_fields(kind) == FIGURES.get(kind, {}).keys(), kind.__name__
        for name, figure in FIGURES.get(kind, {}).items():
            assert figure.unit in ENDINGS, (kind.__name__, name)


def test_no_two_fields_share_a_key() -> None:
    for kind, plain in ((Recipe, PLAIN), (OreType, PLAIN["ore"])):
        assert len(plain) == len(fields(kind))
