"""A quiet plan, and for each caution rule the facts that just fire it and those that just do not."""

from dataclasses import replace
from typing import Any

from fluxlab.design.facts import Facts
from fluxlab.design.workshop import Workshop

QUIET = Facts(
    route="roast and melt",
    dry=True,
    moisture=0.0,
    mould_preheat=200.0,
    heap_fraction=0.5,
    swollen_fraction=0.6,
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


CHLORIDE = {
    "chloride": 0.02,
    "silver": 0.06,
    "pour_temperature": 1001.0,
    "chloride_soda": 0.05,
    "chloride_oxygen": 0.004,
}
# a gram of sulphur asks for 1.742 g of iron, so that 1.742 g leave 2 g of these three
SULPHIDE_SLAG = {"sulphide_sulphur": 3.0, "soda": 100.0, "iron_asked": 1.742}
IRON_ORE = {"speiss_metals": ("iron",)}
WANTED = {"base_metal_wanted": True}
FUMING = {"lead": 1e-6, "hold": 30.1, "pour_temperature": 1150.0}
CARBON = {"carbon": ("Charcoal",)}
NARROW = {"base_metal_wanted": True, "budget_low": 0.701, "budget_high": 1.01}
COOLED = {"route": "nitre", "pot_material": "clay", "feeds": 2, "litharge": 60.0, "raw_sulphide": 10.0, "nitre": 14.0}
SULPHIDE = {**COOLED, "raw_sulphide_share": 40.0}

# rule, level it fires at, facts that fire it, facts that just do not
CASES: list[tuple[str, str, dict[str, Any], dict[str, Any]]] = [
    ("R01", "block", {"moisture": 0.505}, {"moisture": 0.5}),
    ("R01", "block", {"dry": False}, {"dry": True}),
    ("R02", "block", {"mould_preheat": 119.9}, {"mould_preheat": 120.0}),
    ("R02", "block", {"mould_preheat": None}, {"mould_preheat": 150.0}),
    ("R05", "block", {"heap_fraction": 0.67}, {"heap_fraction": 2 / 3}),
    ("R07", "block", {"swollen_fraction": 0.901}, {"swollen_fraction": 0.9}),
    ("R09", "block", {"nitre": 12.1, "nitre_share": 12.1}, {"nitre": 12.0, "nitre_share": 12.0}),
    ("R09", "block", {"nitre": 5.0, "nitre_energy": 0.301}, {"nitre": 5.0, "nitre_energy": 0.30}),
    ("R09", "warn", {**COOLED, "nitre_share": 12.1}, {**COOLED, "nitre_share": 12.0}),
    ("R09", "warn", {**COOLED, "nitre_energy": 0.301}, {**COOLED, "nitre_energy": 0.30}),
    ("R11", "block", {"nitre_share": 2.02, "reducers": ("Charcoal",)}, {"nitre_share": 2.0, "reducers": ("Charcoal",)}),
    ("R11", "block", {"nitre_share": 3.0, "reducers": ("Wheat flour",)}, {"nitre_share": 3.0}),
    ("R12", "block", {"nitre": 1.0, "raw_sulphide_share": 10.1}, {"nitre": 1.0, "raw_sulphide_share": 10.0}),
    ("R12", "block", {"nitre": 1e-6, "raw_sulphide_share": 40.0}, {"nitre": 0.0, "raw_sulphide_share": 40.0}),
    (
        "R12",
        "warn",
        {**COOLED, "nitre_share": 12.1, "raw_sulphide_share": 40.0},
        {**COOLED, "nitre_share": 12.0, "raw_sulphide_share": 40.0},
    ),
    ("R14", "block", {"forbidden": ("Aluminium powder",)}, {"forbidden": ()}),
    ("R15", "block", {"mercury": 1e-6}, {"mercury": 0.0}),
    ("R16", "warn", {"arsenic": 0.0505}, {"arsenic": 0.05}),
    ("R18", "warn", {"lead": 1e-6}, {"lead": 0.0}),
    ("R20", "warn", {"fluorspar_share": 10.1}, {"fluorspar_share": 10.0}),
    (
        "R20",
        "block",
        {"fluorspar_share": 1e-6, "hydrated_with_fluoride": ("Boric acid",)},
        {"fluorspar_share": 0.0, "hydrated_with_fluoride": ("Boric acid",)},
    ),
    ("R20", "block", {"fluorspar_share": 3.0, "hydrated_with_fluoride": ("Boric acid",)}, {"fluorspar_share": 3.0}),
    ("R20", "block", {"fluorspar_share": 3.0, "moisture": 0.505}, {"fluorspar_share": 3.0, "moisture": 0.5}),
    ("R20", "block", {"fluorspar_share": 3.0, "dry": False}, {"fluorspar_share": 3.0}),
    ("R44", "block", {"scrap": True}, {"scrap": False}),
    ("R03", "warn", {"mould_preheat": 350.1}, {"mould_preheat": 350.0}),
    ("R04", "warn", {"mould_fraction": 0.671}, {"mould_fraction": 0.67}),
    ("R04", "block", {"mould_freeboard": 9.9}, {"mould_freeboard": 10.0}),
    ("R06", "warn", {"heap_fraction": 0.505, "gas_formers": True}, {"heap_fraction": 0.5, "gas_formers": True}),
    ("R06", "warn", {"heap_fraction": 0.6, "gas_formers": True}, {"heap_fraction": 0.6}),
    ("R08", "warn", {"foam_rise": 60.3, "free_height": 60.0}, {"foam_rise": 60.0, "free_height": 60.0}),
    ("R10", "warn", {"nitre": 5.05, "nitre_share": 5.05}, {"nitre": 5.0, "nitre_share": 5.0}),
    ("R10", "warn", {"nitre": 2.0, "nitre_energy": 0.151}, {"nitre": 2.0, "nitre_energy": 0.15}),
    ("R13", "warn", {"nitre": 6.06, "nitre_share": 3.03}, {"nitre": 6.0, "nitre_share": 3.0}),
    ("R13", "warn", {"nitre": 8.0, "nitre_share": 4.0}, {"nitre": 8.0, "nitre_share": 4.0, "pot_material": "clay"}),
    ("R17", "warn", {"antimony": 1.01}, {"antimony": 1.0}),
    ("R17", "warn", {"tellurium": 0.101}, {"tellurium": 0.1}),
    ("R17", "warn", {"selenium": 0.101}, {"selenium": 0.1}),
    ("R17", "warn", {"cadmium": 0.101}, {"cadmium": 0.1}),
    ("R19", "warn", {"roast_so2": 5.05}, {"roast_so2": 5.0}),
    # 10 m³ a minute over 45 min at 5.24 mg/m³ is 2.358 g
    ("R19", "block", {"roast_so2": 2.36, **card(indoors=True)}, {"roast_so2": 2.35, **card(indoors=True)}),
    ("R19", "warn", {"pot_so2": 5.05}, {"pot_so2": 5.0}),
    ("R19", "block", {"pot_so2": 2.36, **card(indoors=True)}, {"pot_so2": 2.35, **card(indoors=True)}),
    ("R21", "warn", {**CHLORIDE, "soda": 0.0499}, {**CHLORIDE, "soda": 0.05}),
    ("R21", "warn", {**CHLORIDE, "reducing": 0.00399}, {**CHLORIDE, "reducing": 0.004}),
    ("R21", "warn", CHLORIDE, {**CHLORIDE, "pour_temperature": 1000.0}),
    ("R21", "warn", {**CHLORIDE, "silver": 1e-6}, {**CHLORIDE, "silver": 0.0}),
    ("R21", "warn", {**CHLORIDE, "chloride": 1e-6}, {**CHLORIDE, "chloride": 0.0}),
    ("R22", "warn", {"residual_sulphur": 0.505}, {"residual_sulphur": 0.5}),
    ("R22", "warn", {"residual_sulphur": 2.0}, {"residual_sulphur": 2.01}),
    ("R23", "block", {"residual_sulphur": 2.01}, {"residual_sulphur": 2.0}),
    ("R23", "warn", {"residual_sulphur": 2.01, **card(matte_kept=True)}, {"residual_sulphur": 2.0}),
    ("R24", "warn", {"sulphide_sulphur": 2.01, "soda": 100.0}, {"sulphide_sulphur": 2.0, "soda": 100.0}),
    ("R24", "warn", {**SULPHIDE_SLAG, "iron": 1.741}, {**SULPHIDE_SLAG, "iron": 1.743}),
    ("R24", "warn", {**SULPHIDE_SLAG, "iron": 1e-6, "soda": 149.0}, {**SULPHIDE_SLAG, "iron": 1e-6, "soda": 150.0}),
    (
        "R24",
        "warn",
        {**SULPHIDE_SLAG, "soda": 50.0, "soda_slag": 0.0599},
        {**SULPHIDE_SLAG, "soda": 50.0, "soda_slag": 0.06},
    ),
    ("R25", "warn", {"arsenic_share": 0.303, **IRON_ORE}, {"arsenic_share": 0.3, **IRON_ORE}),
    ("R25", "warn", {"arsenic_share": 0.303, **IRON_ORE}, {"arsenic_share": 0.303}),
    ("R25", "warn", {"arsenic_share": 0.303, **IRON_ORE}, {"arsenic_share": 0.303, "speiss_from": 0.303, **IRON_ORE}),
    ("R26", "block", {"iron": 5.0, "nitre": 1e-6}, {"iron": 5.0}),
    ("R26", "block", {"iron": 5.0, "nitre": 1e-6}, {"iron": 5.0, "nitre": 1e-6, "pot_material": "clay"}),
    ("R27", "warn", {"reductant_budget": 0.899, **WANTED}, {"reductant_budget": 0.9, **WANTED}),
    ("R27", "warn", {"reductant_budget": 0.899, **WANTED}, {"reductant_budget": 0.899}),
    ("R27", "warn", {"reductant_budget": 0.7, **NARROW}, {"reductant_budget": 0.701, **NARROW}),
    ("R28", "warn", {"reductant_budget": 1.51}, {"reductant_budget": 1.5}),
    ("R28", "warn", {"reductant_budget": 1.02, **NARROW}, {"reductant_budget": 1.01, **NARROW}),
    # what stands in a pot whose wall alone is over the limit is told only where it is over the limit itself
    (
        "R28",
        "warn",
        {"reductant_budget": 1.52, "wall_budget": 1.5},
        {"reductant_budget": 1.52, "wall_budget": 1.51},
    ),
    (
        "R28",
        "warn",
        {"reductant_budget": 3.03, "wall_budget": 1.52},
        {"reductant_budget": 3.01, "wall_budget": 1.52},
    ),
    ("R29", "warn", {"lead_sulphate_sulphur": 0.303}, {"lead_sulphate_sulphur": 0.3}),
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
    ("R32", "warn", {"hold_needed": 30.1, "longest_hold": 30.0}, {"hold_needed": 30.0, "longest_hold": 30.0}),
    ("R33", "warn", FUMING, {**FUMING, "hold": 30.0}),
    ("R33", "warn", FUMING, {**FUMING, "pour_temperature": 1149.0}),
    ("R33", "warn", FUMING, {**FUMING, "lead": 0.0}),
    (
        "R34",
        "caution",
        {"refractory": ("Zircon",), "refractory_share": 5.05},
        {"refractory": ("Zircon",), "refractory_share": 5.0},
    ),
    ("R35", "caution", {"sulphate_share": 3.03, **CARBON}, {"sulphate_share": 3.0, **CARBON}),
    ("R35", "caution", {"sulphate_share": 3.03, **CARBON}, {"sulphate_share": 3.03, "reducers": ("Iron filings",)}),
    ("R36", "caution", {"carbonate_share": 10.1}, {"carbonate_share": 10.0}),
    ("R37", "caution", {"manganese_share": 10.1}, {"manganese_share": 10.0}),
    ("R38", "warn", {"silica": ("Silica sand",)}, {"silica": ()}),
    ("R38", "warn", card(dry_milling=True), card(dry_milling=False)),
    ("R40", "block", card(wet_residues=True), card(wet_residues=False)),
    ("R41", "block", card(quench=True), card(quench=False)),
    ("R42", "warn", card(mould_opened_after=9.9), card(mould_opened_after=10.0)),
    ("R43", "warn", card(pot_wall_left=59.9), card(pot_wall_left=60.0)),
    ("R43", "warn", card(pot_cracked=True), card(pot_cracked=False)),
    ("R43", "warn", card(pot_after_sulphide=True), card(pot_after_sulphide=False)),
    ("R45", "block", card(indoors=True), card(indoors=False)),
    ("R45", "block", card(co_alarm=False), card(co_alarm=True)),
    ("R45", "block", card(cylinder_far=False), card(cylinder_far=True)),
    ("R45", "block", card(indoors=True), card(indoors=True, fuel="electric")),
    ("R45", "caution", card(fuel=""), card(fuel="propane")),
    ("R45", "caution", card(co_alarm=None), card(co_alarm=True)),
    ("R46", "warn", card(air_ratio=0.899), card(air_ratio=0.9)),
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

# rule, facts that make a block of it, facts that just leave it a warning
STEPS: list[tuple[str, dict[str, Any], dict[str, Any]]] = [
    ("R04", {"mould_fraction": 0.901}, {"mould_fraction": 0.9}),
    ("R04", {"mould_fraction": 0.7, "mould_freeboard": 9.9}, {"mould_fraction": 0.7, "mould_freeboard": 10.0}),
    ("R09", {**COOLED, "nitre_share": 15.1}, {**COOLED, "nitre_share": 15.0}),
    ("R09", {**COOLED, "nitre_share": 14.0, "litharge": 47.9}, {**COOLED, "nitre_share": 14.0, "litharge": 48.0}),
    ("R09", {**COOLED, "nitre_share": 14.0, "feeds": 1}, {**COOLED, "nitre_share": 14.0}),
    ("R09", {**COOLED, "nitre_share": 14.0, "pot_material": "clay-graphite"}, {**COOLED, "nitre_share": 14.0}),
    ("R09", {**COOLED, "nitre_share": 14.0, "route": "iron"}, {**COOLED, "nitre_share": 14.0}),
    ("R12", {**SULPHIDE, "nitre_share": 15.1}, {**SULPHIDE, "nitre_share": 15.0}),
    ("R16", {"arsenic": 0.505}, {"arsenic": 0.5}),
    ("R19", {"roast_so2": 5.05, **card(indoors=True)}, {"roast_so2": 5.05, **card(indoors=False)}),
    ("R19", {"pot_so2": 5.05, **card(indoors=True)}, {"pot_so2": 5.05, **card(indoors=False)}),
    ("R20", {"fluorspar_share": 10.1, "moisture": 0.505}, {"fluorspar_share": 10.1, "moisture": 0.5}),
    ("R23", {"residual_sulphur": 2.01}, {"residual_sulphur": 2.01, **card(matte_kept=True)}),
    ("R50", card(minor=True, alone=True), card(minor=False, alone=True)),
]
CLOSE = 0.011
"""How far the two sides of a limit may be from each other, as a part of it."""
