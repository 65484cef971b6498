"""Each rule fires on a plan that meets it, and stays silent on the plan that just does not."""

from dataclasses import replace
from typing import Any

import pytest

from fluxlab import resources
from fluxlab.design.cautions import CONDITIONS, cautions, outstanding
from fluxlab.design.facts import Facts
from fluxlab.design.verdicts import safe_verdict
from fluxlab.design.workshop import Workshop
from fluxlab.issue import Severity
from fluxlab.learn.checks import checks
from fluxlab.learn.melt import Fineness
from tests.learn.melts import SAID, melt

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
    mould_fraction=0.5,
    mould_freeboard=30.0,
)

# everything stated, nothing dangerous
CARD = Workshop(
    indoors=False,
    fuel="propane",
    co_alarm=True,
    cylinder_far=True,
    alone=False,
    minor=False,
    ppe=True,
    disposal="kept for a licensed site",
)


def card(**stated: Any) -> dict[str, Any]:
    return {"workshop": replace(CARD, **stated)}


OF_THE_RECORD = "R39"
CHLORIDE = {"chloride": 0.1, "silver": 1.0, "pour_temperature": 1001.0}
IRON_ORE = {"speiss_metals": ("iron",)}
WANTED = {"base_metal_wanted": True}
FUMING = {"lead": 1.0, "hold": 31.0, "pour_temperature": 1150.0}
CARBON = {"reducers": ("Charcoal",)}
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
    ("R03", "warn", {"mould_preheat": 350.1}, {"mould_preheat": 350.0}),
    ("R04", "warn", {"mould_fraction": 0.671}, {"mould_fraction": 0.67}),
    ("R04", "block", {"mould_fraction": 0.901}, {"mould_fraction": 0.67}),
    ("R04", "block", {"mould_freeboard": 9.9}, {"mould_freeboard": 10.0}),
    ("R06", "warn", {"heap_fraction": 0.51, "gas_formers": True}, {"heap_fraction": 0.5, "gas_formers": True}),
    ("R06", "warn", {"heap_fraction": 0.6, "gas_formers": True}, {"heap_fraction": 0.6}),
    ("R08", "warn", {"foam_rise": 61.0, "free_height": 60.0}, {"foam_rise": 60.0, "free_height": 60.0}),
    ("R10", "warn", {"nitre": 5.1, "nitre_share": 5.1}, {"nitre": 5.0, "nitre_share": 5.0}),
    ("R10", "warn", {"nitre": 2.0, "nitre_energy": 0.151}, {"nitre": 2.0, "nitre_energy": 0.15}),
    ("R13", "warn", {"nitre": 6.2, "nitre_share": 3.1}, {"nitre": 6.0, "nitre_share": 3.0}),
    ("R13", "warn", {"nitre": 8.0, "nitre_share": 4.0}, {"nitre": 8.0, "nitre_share": 4.0, "pot_material": "clay"}),
    ("R17", "warn", {"antimony": 1.01}, {"antimony": 1.0}),
    ("R17", "warn", {"tellurium": 0.11}, {"tellurium": 0.1}),
    ("R17", "warn", {"selenium": 0.11}, {"selenium": 0.1}),
    ("R17", "warn", {"cadmium": 0.11}, {"cadmium": 0.1}),
    ("R19", "warn", {"roast_so2": 5.1}, {"roast_so2": 5.0}),
    ("R19", "block", {"roast_so2": 5.1, **card(indoors=True)}, {"roast_so2": 1.0, **card(indoors=True)}),
    # 10 m³ a minute over 45 min at 5.24 mg/m³ is 2.358 g
    ("R19", "block", {"roast_so2": 2.36, **card(indoors=True)}, {"roast_so2": 2.35, **card(indoors=True)}),
    ("R21", "warn", CHLORIDE, {**CHLORIDE, "soda": 1.0}),
    ("R21", "warn", CHLORIDE, {**CHLORIDE, "reducers": ("Charcoal",)}),
    ("R21", "warn", CHLORIDE, {**CHLORIDE, "pour_temperature": 1000.0}),
    ("R21", "warn", CHLORIDE, {**CHLORIDE, "silver": 0.0}),
    ("R22", "warn", {"residual_sulphur": 0.51}, {"residual_sulphur": 0.5}),
    ("R23", "block", {"residual_sulphur": 2.01}, {"residual_sulphur": 2.0}),
    ("R23", "warn", {"residual_sulphur": 2.01, **card(matte_kept=True)}, {"residual_sulphur": 2.0}),
    ("R24", "warn", {"sulphide_sulphur": 2.01, "soda": 100.0}, {"sulphide_sulphur": 2.0, "soda": 100.0}),
    ("R24", "warn", {"sulphide_sulphur": 3.0, "soda": 100.0}, {"sulphide_sulphur": 3.0, "soda": 100.0, "iron": 1.0}),
    ("R25", "warn", {"arsenic_share": 0.31, **IRON_ORE}, {"arsenic_share": 0.3, **IRON_ORE}),
    ("R25", "warn", {"arsenic_share": 0.31, **IRON_ORE}, {"arsenic_share": 0.31}),
    ("R26", "block", {"iron": 5.0, "nitre": 0.1}, {"iron": 5.0}),
    ("R26", "block", {"iron": 5.0, "nitre": 0.1}, {"iron": 5.0, "nitre": 0.1, "pot_material": "clay"}),
    ("R27", "warn", {"reductant_budget": 0.89, **WANTED}, {"reductant_budget": 0.9, **WANTED}),
    ("R27", "warn", {"reductant_budget": 0.89, **WANTED}, {"reductant_budget": 0.89}),
    ("R28", "warn", {"reductant_budget": 1.51}, {"reductant_budget": 1.5}),
    ("R29", "warn", {"lead_sulphate_sulphur": 0.31}, {"lead_sulphate_sulphur": 0.3}),
    (
        "R30",
        "warn",
        {"roast_finish": 801.0, "lead_with_silica": True},
        {"roast_finish": 800.0, "lead_with_silica": True},
    ),
    ("R30", "warn", {"roast_finish": 801.0, "lead_with_silica": True}, {"roast_finish": 801.0}),
    (
        "R30",
        "warn",
        {"roast_start": 451.0, "clotting": ("Stibnite",)},
        {"roast_start": 450.0, "clotting": ("Stibnite",)},
    ),
    ("R31", "warn", {"viscosity": 10.1}, {"viscosity": 10.0}),
    (
        "R31",
        "warn",
        {"pour_temperature": 1149.0, "melt_free": 1100.0},
        {"pour_temperature": 1150.0, "melt_free": 1100.0},
    ),
    ("R32", "warn", {"hold_needed": 20.1}, {"hold_needed": 20.0}),
    ("R33", "warn", FUMING, {**FUMING, "hold": 30.0}),
    ("R33", "warn", FUMING, {**FUMING, "pour_temperature": 1149.0}),
    ("R33", "warn", FUMING, {**FUMING, "lead": 0.0}),
    ("R34", "caution", {"refractory": ("Zircon",), "refractory_share": 5.1}, {"refractory_share": 5.0}),
    ("R35", "caution", {"sulphate_share": 3.1, **CARBON}, {"sulphate_share": 3.0, **CARBON}),
    ("R35", "caution", {"sulphate_share": 3.1, **CARBON}, {"sulphate_share": 3.1}),
    ("R36", "caution", {"carbonate_share": 10.1}, {"carbonate_share": 10.0}),
    ("R37", "caution", {"manganese_share": 10.1}, {"manganese_share": 10.0}),
    ("R38", "warn", {"silica": ("Silica sand",)}, {"silica": ()}),
    ("R38", "warn", card(dry_milling=True), card(dry_milling=False)),
    ("R40", "block", card(wet_residues=True), card(wet_residues=False)),
    ("R41", "block", card(quench=True), card(quench=False)),
    ("R42", "warn", card(mould_opened_after=9.0), card(mould_opened_after=10.0)),
    ("R43", "warn", card(pot_wall_left=59.0), card(pot_wall_left=60.0)),
    ("R43", "warn", card(pot_cracked=True), card(pot_cracked=False)),
    ("R43", "warn", card(pot_after_sulphide=True), card(pot_after_sulphide=False)),
    ("R45", "block", card(indoors=True), card(indoors=False)),
    ("R45", "block", card(co_alarm=False), card(co_alarm=True)),
    ("R45", "block", card(cylinder_far=False), card(cylinder_far=True)),
    ("R45", "block", card(indoors=True), card(indoors=True, fuel="electric")),
    ("R45", "caution", card(fuel=""), card(fuel="propane")),
    ("R45", "caution", card(co_alarm=None), card(co_alarm=True)),
    ("R46", "warn", card(air_ratio=0.89), card(air_ratio=0.9)),
    ("R46", "warn", card(yellow_flame=True), card(yellow_flame=False)),
    ("R47", "warn", {"unknown_share": 10.1}, {"unknown_share": 10.0}),
    ("R47", "warn", {"assayed": False}, {"assayed": True}),
    ("R48", "block", {"radioactive": ("Monazite (Ce)",)}, {"radioactive": ()}),
    ("R49", "caution", card(disposal=" "), card(disposal="kept for a licensed site")),
    ("R50", "block", card(minor=True), card(minor=False)),
    ("R50", "block", card(ppe=False), card(ppe=True)),
    ("R50", "warn", card(alone=True), card(alone=False)),
    ("R50", "block", card(ppe=None), card(ppe=True)),
    ("R50", "caution", card(alone=None), card(alone=False)),
]


def fired(facts: Facts) -> dict[str, str]:
    return {c.rule: c.level for c in cautions(facts)}


def test_a_quiet_plan_fires_nothing() -> None:
    assert cautions(QUIET) == ()
    assert cautions(replace(QUIET, workshop=CARD)) == ()


def test_there_are_fifty_rules() -> None:
    table = resources.toml("cautions.toml")
    assert list(table) == [f"R{number:02}" for number in range(1, 51)]
    assert [rule for rule in table if rule not in CONDITIONS] == [OF_THE_RECORD]
    assert [rule for rule, row in table.items() if "asked_of" in row] == [OF_THE_RECORD]


@pytest.mark.parametrize("metal", ["silver", "gold"])
def test_a_button_that_holds_more_than_its_charge_is_told_by_its_rule_in_the_melt_record(metal: str) -> None:
    """Two standard deviations of the melt are 8.5 %."""
    held = melt().held("silver")
    assert held is not None
    rule = resources.toml("cautions.toml")[OF_THE_RECORD]
    said = replace(SAID, silver=None, gold=held) if metal == "gold" else SAID
    fine = Fineness(gold=90.0, by="assayer") if metal == "gold" else Fineness(90.0, by="assayer")
    for over, fires in ((1.084, False), (1.086, True)):
        issues = checks(melt(button=held / 0.9 * over, beforehand=said, fineness=fine))
        assert [i.remedy for i in issues if i.severity is Severity.ERROR] == [rule["sentence"]] * fires
        assert all(i.sentence.startswith(f"{rule['title']}: ") and metal in i.sentence for i in issues)


@pytest.mark.parametrize(("rule", "level", "over", "under"), CASES)
def test_a_rule_fires_just_over_its_limit_and_not_at_it(
    rule: str, level: str, over: dict[str, Any], under: dict[str, Any]
) -> None:
    assert fired(replace(QUIET, **over)).get(rule) == level
    assert rule not in fired(replace(QUIET, **under))


def test_every_rule_has_words_and_a_case_and_nothing_is_left_over() -> None:
    table = set(resources.toml("cautions.toml"))
    assert table == set(CONDITIONS) | {OF_THE_RECORD}
    assert set(CONDITIONS) == {case[0] for case in CASES}


def test_who_may_lift_a_block_is_as_the_trade_table_has_it() -> None:
    lift = {rule: row["lift"] for rule, row in resources.toml("cautions.toml").items()}
    never = {"R07", "R09", "R11", "R12", "R14", "R15", "R23", "R26", "R39", "R40", "R41", "R44", "R48"}
    operator = {"R01", "R02", "R04", "R05", "R16", "R19", "R20", "R45", "R50"}
    assert {r for r, who in lift.items() if who == "never"} == never
    assert {r for r, who in lift.items() if who == "operator"} == operator


def test_confirming_lifts_only_what_the_operator_may_lift() -> None:
    facts = replace(QUIET, dry=False, mercury=1.0)
    found = cautions(facts)
    assert [c.rule for c in outstanding(found)] == ["R15", "R01"]
    assert [c.rule for c in outstanding(found, frozenset({"R01", "R15"}))] == ["R15"]


def test_the_gravest_stand_first() -> None:
    found = cautions(replace(QUIET, lead=5.0, mould_preheat=20.0))
    assert [c.level for c in found] == ["block", "warn"]


def test_what_nobody_may_lift_stands_before_what_the_operator_may() -> None:
    fuel = replace(QUIET, nitre_share=3.0, reducers=("Charcoal",))
    found = cautions(replace(fuel, dry=False, mould_fraction=1.0, mercury=1.0, lead=5.0))
    assert [c.rule for c in found] == ["R11", "R15", "R01", "R04", "R18"]
    verdict = safe_verdict(cautions(replace(QUIET, mould_fraction=1.0, mercury=1.0)), None)
    assert verdict.reason.startswith("Mercury: 1.00 g")


def test_a_rule_that_can_block_says_who_may_lift_it_and_no_other_does() -> None:
    lift = {rule: row["lift"] for rule, row in resources.toml("cautions.toml").items()}
    blocking = {rule for rule, level, _, _ in CASES if level == "block"}
    assert blocking == {rule for rule, who in lift.items() if who != "cause"} - {OF_THE_RECORD}


def test_every_rule_has_words_of_its_own_and_a_source_with_its_state() -> None:
    table = resources.toml("cautions.toml")
    assert len({row["title"] for row in table.values()}) == len({row["sentence"] for row in table.values()}) == 50
    for rule, row in table.items():
        assert row.keys() - {"asked_of"} == {"title", "lift", "sentence", "source"}, rule
        states = ("found", "computed", "from memory", "judgement", "common practice, no source")
        assert any(state in row["source"] for state in states), rule


def test_what_the_card_does_not_state_is_asked_for_and_gear_alone_stops_the_ticket() -> None:
    found = {c.rule: c for c in cautions(replace(QUIET, workshop=Workshop()))}
    assert {rule: c.level for rule, c in found.items()} == {"R45": "caution", "R49": "caution", "R50": "block"}
    assert found["R50"].lift == "operator"
    assert outstanding(tuple(found.values()), frozenset({"R50"})) == ()
    assert "not stated" in found["R45"].because
    assert "not stated" in found["R50"].because


def test_what_is_not_known_leaves_its_rule_silent() -> None:
    blank = replace(QUIET, mould_fraction=None, mould_freeboard=None, heap_fraction=None, foam_fraction=None)
    assert cautions(blank) == ()


def test_a_mould_that_the_pour_overfills_is_said_to_be_too_shallow() -> None:
    (found,) = cautions(replace(QUIET, mould_fraction=1.2, mould_freeboard=-7.0))
    assert "7 mm too shallow" in found.because


@pytest.mark.parametrize(
    ("capture", "said"),
    [(None, "is not stated"), (True, "is on the card"), (False, "no hood with a scrubber")],
)
def test_what_the_card_says_of_a_hood_stands_beside_arsenic_and_roast_gas(capture: bool | None, said: str) -> None:
    facts = replace(QUIET, arsenic=1.0, roast_so2=20.0, **card(capture=capture, indoors=True))
    found = {c.rule: c for c in cautions(facts)}
    for rule in ("R16", "R19"):
        assert (found[rule].level, found[rule].lift) == ("block", "operator")
        assert said in found[rule].because


def test_prills_that_never_settle_are_warned_of_without_a_figure() -> None:
    (found,) = cautions(replace(QUIET, hold_needed=float("inf")))
    assert found.rule == "R32"
    assert "never come down" in found.because
    assert "inf" not in found.because


def test_working_alone_does_not_hide_that_gear_is_not_stated() -> None:
    (found,) = cautions(replace(QUIET, **card(alone=True, told_somebody=True, ppe=None)))
    assert found.level == "block"
    assert "gear is not stated" in found.because
    assert "alone, somebody was told" in found.because


def test_confirming_everything_by_name_lifts_no_block_that_nobody_may_lift() -> None:
    facts = replace(QUIET, dry=False, scrap=True, radioactive=("Pitchblende",), **card(quench=True, ppe=False))
    left = outstanding(cautions(facts), frozenset(CONDITIONS))
    assert [c.rule for c in left] == ["R41", "R44", "R48"]
