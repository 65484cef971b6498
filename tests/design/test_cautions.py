"""Each rule fires on a plan that meets it, and stays silent on the plan that just does not."""

from dataclasses import replace
from typing import Any

import pytest

from fluxlab import resources
from fluxlab.design.cautions import CONDITIONS, cautions, outstanding
from fluxlab.design.facts import Facts

QUIET = Facts(
    route="roast and melt",
    dry=True,
    moisture=0.0,
    mould_preheat=200.0,
    heap_fraction=0.5,
    foam_fraction=0.6,
    feeds=1,
    pot_material="clay-graphite",
    nitre=0.0,
    nitre_share=0.0,
    nitre_energy=0.0,
    reducers=(),
    raw_sulphide=0.0,
    raw_sulphide_share=0.0,
    litharge=0.0,
    forbidden=(),
    mercury=0.0,
    arsenic=0.0,
    lead=0.0,
    fluorspar_share=0.0,
    hydrated_with_fluoride=(),
    scrap=False,
)

COOLED = {"route": "nitre", "pot_material": "clay", "feeds": 2, "litharge": 60.0, "raw_sulphide": 10.0, "nitre": 14.0}

# rule, level it fires at, facts that fire it, facts that just do not
CASES: list[tuple[str, str, dict[str, Any], dict[str, Any]]] = [
    ("R01", "block", {"moisture": 0.51}, {"moisture": 0.5}),
    ("R01", "block", {"dry": False}, {"dry": True}),
    ("R02", "block", {"mould_preheat": 119.9}, {"mould_preheat": 120.0}),
    ("R02", "block", {"mould_preheat": None}, {"mould_preheat": 150.0}),
    ("R05", "block", {"heap_fraction": 0.67}, {"heap_fraction": 2 / 3}),
    ("R07", "block", {"foam_fraction": 0.901}, {"foam_fraction": 0.9}),
    ("R09", "block", {"nitre": 12.1, "nitre_share": 12.1}, {"nitre": 12.0, "nitre_share": 12.0}),
    ("R09", "block", {"nitre": 5.0, "nitre_energy": 0.31}, {"nitre": 5.0, "nitre_energy": 0.30}),
    ("R09", "warn", {**COOLED, "nitre_share": 14.0}, {**COOLED, "nitre_share": 12.0}),
    ("R09", "block", {**COOLED, "nitre_share": 15.1}, {**COOLED, "nitre_share": 11.0}),
    ("R09", "block", {**COOLED, "nitre_share": 14.0, "litharge": 47.9}, {**COOLED, "litharge": 48.0}),
    ("R11", "block", {"nitre_share": 2.1, "reducers": ("Charcoal",)}, {"nitre_share": 2.0, "reducers": ("Charcoal",)}),
    ("R11", "block", {"nitre_share": 3.0, "reducers": ("Wheat flour",)}, {"nitre_share": 3.0}),
    ("R12", "block", {"nitre": 1.0, "raw_sulphide_share": 10.1}, {"nitre": 1.0, "raw_sulphide_share": 10.0}),
    ("R12", "block", {"nitre": 1.0, "raw_sulphide_share": 40.0}, {"nitre": 0.0, "raw_sulphide_share": 40.0}),
    (
        "R12",
        "warn",
        {**COOLED, "nitre_share": 14.0, "raw_sulphide_share": 11.0},
        {**COOLED, "nitre_share": 11.9, "raw_sulphide_share": 11.0},
    ),
    ("R14", "block", {"forbidden": ("Aluminium powder",)}, {"forbidden": ()}),
    ("R15", "block", {"mercury": 1e-6}, {"mercury": 0.0}),
    ("R16", "block", {"arsenic": 0.51}, {"arsenic": 0.05}),
    ("R16", "warn", {"arsenic": 0.5}, {"arsenic": 0.05}),
    ("R18", "warn", {"lead": 0.01}, {"lead": 0.0}),
    ("R20", "warn", {"fluorspar_share": 10.1}, {"fluorspar_share": 10.0}),
    (
        "R20",
        "block",
        {"fluorspar_share": 3.0, "hydrated_with_fluoride": ("Boric acid",)},
        {"fluorspar_share": 0.0, "hydrated_with_fluoride": ("Boric acid",)},
    ),
    ("R44", "block", {"scrap": True}, {"scrap": False}),
]


def fired(facts: Facts) -> dict[str, str]:
    return {c.rule: c.level for c in cautions(facts)}


def test_a_quiet_plan_fires_nothing() -> None:
    assert cautions(QUIET) == ()


@pytest.mark.parametrize(("rule", "level", "over", "under"), CASES)
def test_a_rule_fires_just_over_its_limit_and_not_at_it(
    rule: str, level: str, over: dict[str, Any], under: dict[str, Any]
) -> None:
    assert fired(replace(QUIET, **over)).get(rule) == level
    assert rule not in fired(replace(QUIET, **under))


def test_every_rule_has_words_and_a_case_and_nothing_is_left_over() -> None:
    table = set(resources.toml("cautions.toml"))
    assert table == set(CONDITIONS) == {case[0] for case in CASES}


def test_who_may_lift_a_block_is_as_the_trade_table_has_it() -> None:
    lift = {rule: row["lift"] for rule, row in resources.toml("cautions.toml").items()}
    never = {"R07", "R09", "R11", "R12", "R14", "R15", "R44"}
    operator = {"R01", "R02", "R05", "R16", "R20"}
    assert {r for r, who in lift.items() if who == "never"} == never
    assert {r for r, who in lift.items() if who == "operator"} == operator


def test_confirming_lifts_only_what_the_operator_may_lift() -> None:
    facts = replace(QUIET, dry=False, mercury=1.0)
    found = cautions(facts)
    assert [c.rule for c in outstanding(found)] == ["R01", "R15"]
    assert [c.rule for c in outstanding(found, frozenset({"R01", "R15"}))] == ["R15"]


def test_the_gravest_stand_first() -> None:
    found = cautions(replace(QUIET, lead=5.0, mould_preheat=20.0))
    assert [c.level for c in found] == ["block", "warn"]
