"""A plan and its report made by hand, so that a view can be tested without the numeric rooms."""

from dataclasses import replace

from fluxlab.design.recipe import Line, Recipe, Shelf, Target, Work
from fluxlab.design.report_types import (
    Amount,
    FillReport,
    IndexReport,
    LineReport,
    Mend,
    MouldReport,
    OreReport,
    Report,
    ShareRow,
    SlagReport,
    SolveReport,
    TargetReport,
    Verdict,
)
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.vessel.vessel_types import Crucible, Mould

ROWS = (
    ("borax", "Borax glass", 185.0, "Keeps the borate share above 0.34", 120.0, 230.0, None),
    ("soda", "Soda ash", 140.0, "Brings the degree down to 1.42", 60.0, 200.0, None),
    ("silica", "Silica sand", 62.0, "Brings the degree up to 1.2", None, 120.0, None),
    ("spar", "Fluorspar", 12.0, "Thins the slag; 14 g left on the shelf", None, 16.0, 14.0),
    ("litharge", "Litharge", 55.0, "Collects the silver: lead button of 38 g", 40.0, 90.0, None),
    ("charcoal", "Charcoal", 13.5, "Takes red iron to FeO and frees the lead", 8.0, 20.0, None),
    ("nitre", "Nitre", 0.0, "Not needed", None, 40.0, None),
)
TARGETS = (
    ("degree", "Silicate degree", "", 1.42, 1.0, 2.5, "must", "wish", 2),
    ("borate", "Borate share", "", 0.44, 0.2, 0.5, "must", "must", 2),
    ("cap:ZnO", "Zinc oxide", "%", 3.2, None, 12.0, "must", "must", 1),
    ("cap:FeO", "Iron as FeO", "%", 34.0, None, 40.0, "must", "must", 1),
    ("cap:Na2O", "Soda in the slag", "%", 14.1, None, 40.0, "must", "must", 1),
    ("cap:Al2O3", "Alumina", "%", 3.0, None, 10.0, "must", "wish", 1),
    ("cap:Fe2O3", "Iron left ferric", "%", 16.5, None, 15.0, "must", "wish", 1),
    ("fluorspar", "Fluorspar", "%", 2.6, None, 5.0, "must", "must", 1),
    ("cover", "Slag over the metal", "mm", 24.0, 10.0, None, "must", "must", 0),
    ("parts", "Flux per part of gangue", "", 3.1, 2.0, None, "wish", "must", 1),
    ("flux_to_ore", "Flux to ore", "", 0.94, 1.0, None, "wish", "must", 2),
    ("loose_fill", "Loose charge in the pot", "%", 71.0, None, 66.7, "must", "must", 0),
    ("melt_fill", "Quiet melt in the pot", "%", 41.0, None, 50.0, "must", "wish", 0),
    ("mould_fill", "Mould", "%", 58.0, None, 67.0, "must", "wish", 0),
    ("mould_room", "Room in the mould", "%", 58.0, None, 90.0, "must", "must", 0),
)
POT = Crucible("pot", "Clay pot C", 30.0, 44.0, 105.0)
MOULD = Mould("mould", "Cone mould 2")


def sample_work(rows=ROWS) -> Work:
    ore = OreType(
        "ore-1", "table concentrate", "Tamarack Bench", minerals=(Share("Pyrite", 60.0), Share("Quartz", 40.0))
    )
    recipe = Recipe(
        uid="recipe-1",
        name="Lead collection, 500 g",
        ore=ore,
        charge=500.0,
        lines=tuple(Line(uid, None, least, most) for uid, _, _, _, least, most, _ in rows),
        targets=tuple(
            Target(key, lo, hi, lo_kind, hi_kind, convention="SB" if key == "degree" else None)
            for key, _, _, _, lo, hi, lo_kind, hi_kind, _ in TARGETS
        ),
        crucible="pot",
        mould="mould",
    )
    fluxes = [Component(uid, name, ByFormula("SiO2"), stock=stock) for uid, name, _, _, _, _, stock in rows]
    cryolite = Component("cryolite", "Cryolite", ByFormula("Na3AlF6"))
    return Work(recipe, Shelf((*fluxes, cryolite), (POT,), (MOULD,)))


def sample_report(work: Work, rows=ROWS) -> Report:
    known = {row[0]: row for row in rows}
    scale = work.recipe.charge / 500.0
    lines = []
    for line in work.recipe.lines:
        uid, name, grams, why, *_, stock = known.get(
            line.flux, (line.flux, line.flux.capitalize(), 0.0, "Not needed", None)
        )
        weight = line.grams if line.grams is not None else grams * scale
        lines.append(
            LineReport(
                uid,
                name,
                "",
                weight,
                line.grams is not None,
                0.0,
                line.least,
                line.most,
                stock,
                None,
                1.2 * weight,
                "Fixed by you" if line.grams is not None else why,
            )
        )
    total = sum(line.grams for line in lines)
    lines = [replace(line, share=100 * line.grams / total if total else 0.0) for line in lines]
    return Report(
        work=work,
        ore=OreReport(
            feed=work.recipe.pot_feed,
            charge=work.recipe.charge,
            minerals=(),
            oxides=(),
            apart=(),
            silver=0.9,
            gold=0.1,
            lead=0.0,
            copper=0.0,
            sulphur=0.0,
            arsenic=0.0,
            antimony=0.0,
            silver_grade_gpt=1440.0,
            gold_grade_gpt=None,
            residual_percent=None,
            earthy_gangue=90.0,
            bulk_density=1.6,
            bulk_density_known=False,
            roast=None,
        ),
        lines=tuple(lines),
        flux_mass=total,
        flux_cost=None,
        flux_to_ore=total / work.recipe.charge,
        flux_mass_without_wish=total - 40,
        without_wish="Without the wish for flux to ore: 427.5 g, then the slag cover holds it up.",
        charge_total=total + work.recipe.charge,
        targets=tuple(_target(work, *row) for row in TARGETS),
        slag=SlagReport(
            mass=810.0,
            oxides=tuple(
                ShareRow(name, Amount(share, share * 0.9, share * 1.1), share * 8.1)
                for name, share in (
                    ("FeO", 34.0),
                    ("SiO2", 24.1),
                    ("B2O3", 15.8),
                    ("Na2O", 14.1),
                    ("ZnO", 3.2),
                    ("Al2O3", 3.0),
                    ("CaO", 2.4),
                    ("CaF2", 1.5),
                    ("PbO", 1.1),
                    ("MgO", 0.8),
                )
            ),
            apart=(),
            ferric_share=0.15,
            indices=IndexReport(
                {"S": 1.21, "SB": 1.42, "SBA base": 1.36, "SBA acid": 1.48}, 1.31, 1.52, 0.642, 2.1, 1.4, 0.44
            ),
            density=Amount(3.1, 2.9, 3.3),
            volume=Amount(261.0, 240.0, 282.0),
        ),
        fill=FillReport(
            brim=455.0,
            loose_volume=323.0,
            loose_fraction=0.71,
            loose_level=80.0,
            loose_from_rim=25.0,
            swollen_volume=350.0,
            swollen_fraction=0.77,
            swollen_level=86.0,
            swollen_from_rim=19.0,
            melt_volume=187.0,
            melt_fraction=0.41,
            melt_level=53.0,
            melt_from_rim=52.0,
            metal_volume=0.1,
            metal_level=0.1,
            cover=24.0,
            half_level=62.0,
            two_thirds_level=76.0,
            gas_formers=True,
            stages=(),
            melts_needed=1,
            feeds=1,
            feeds_needed=2,
        ),
        mould=MouldReport(
            capacity=380.0,
            metal_volume=0.1,
            metal_level=2.0,
            slag_volume=187.0,
            slag_level=84.0,
            fraction=0.58,
            freeboard=16.0,
        ),
        verdicts=(
            Verdict(
                "melt", "Will it melt and pour?", "unknown", "By ratio", "degree 1.42", "by ratio only, no prediction"
            ),
            Verdict(
                "fit",
                "Will it fit?",
                "no",
                "No",
                "71 % full",
                "loose charge over two-thirds of the pot",
                Mend("Feed in 2 parts", "set_feeds", (2,)),
            ),
            Verdict(
                "metal",
                "Will the metal come down?",
                "unknown",
                "Not known",
                "at most 1 g",
                "silver + gold by the assay",
            ),
            Verdict("safe", "Is it safe?", "close", "Close", "39 L of gas", "litharge: lead fume, draught on"),
            Verdict(
                "sure", "How sure are we?", "unknown", "Not known", "", "the ore's ranges are not carried through yet"
            ),
        ),
        cautions=(),
        solve=SolveReport(
            "ok",
            ("The least flux that meets every must; it sits in a corner of its targets and is no advice.",),
            ("Flux to ore 0.94, wished at least 1.0.",),
            0.0,
            "daqp",
            1,
        ),
        issues=(),
        precious_metal_limit=1.02,
    )


def _target(work, key, label, unit, value, lo, hi, lo_kind, hi_kind, decimals) -> TargetReport:
    mine = next((t for t in work.recipe.targets if t.key == key), None)
    if mine is not None:
        lo, hi, lo_kind, hi_kind = mine.lo, mine.hi, mine.lo_kind, mine.hi_kind
    on = mine is not None and mine.on
    state = "below" if lo is not None and value < lo else "above" if hi is not None and value > hi else "inside"
    return TargetReport(
        key, label, unit, value, lo, hi, lo_kind, hi_kind, on, state if on else "off", 0.0, decimals, "", "judgement"
    )
