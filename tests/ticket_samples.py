"""Reports put together by hand, so that tests of ticket and drawings do not hang on the solver."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from fluxlab.design.recipe import Recipe, Shelf, Work
from fluxlab.design.report_types import (
    Amount,
    Caution,
    FillReport,
    IndexReport,
    LineReport,
    MouldReport,
    OreReport,
    Report,
    SlagReport,
    SolveReport,
    Stage,
)
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import OreType
from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.filling import layers, marks, stand
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.vessel_types import Crucible, Mould

WHEN = datetime(2026, 11, 14, 15, 32)
POT = Crucible("pot", "Pot 3", 30.0, 44.0, 105.0)
MOULD = Mould("mould", "Cone mould 2")
FLUXES = (
    ("borax", "Borax glass", "crushed", 92.5, ()),
    ("soda", "Soda ash", "dense", 70.0, ()),
    ("sand", "Silica sand", "", 31.0, ()),
    ("fluorspar", "Fluorspar", "", 6.0, ("fluoride",)),
    ("charcoal", "Charcoal", "fine", 16.8, ("reducer",)),
    ("nitre", "Nitre", "potassium", 8.0, ("nitrate",)),
    ("litharge", "Litharge", "", 27.5, ("lead",)),
    ("zero", "Manganese dioxide", "", 0.0, ()),
)
DAMP = Caution("R01", "block", "Damp", "Dry the charge, the flux, the pot and the mould first.", "", "operator", "")
FOAM = Caution("R07", "block", "Foam", "It will come over the rim: take a larger pot.", "", "never", "")
LEAD = Caution(
    "R18",
    "warn",
    "Lead",
    "Lead is in the charge: draught on, gloves, no food or children near, wash before you leave.",
    "",
    "cause",
    "",
)
NOTE = Caution("R90", "caution", "Barite", "Barite turns to barium sulphide under carbon.", "", "cause", "")


@dataclass(frozen=True)
class Fitted:
    grams: Mapping[str, float]
    kept: bool = True
    sentence: str = "rounded to the 0.1 g balance, re-added, every must still holds"


def fitted(report: Report, **changes: object) -> Fitted:
    """The weights of a hand-made report, which are in whole steps already."""
    return replace(Fitted({line.flux: line.grams for line in report.lines}), **changes)  # type: ignore[arg-type]


def fill_of(
    pot: Crucible, loose: float, melt: float, metal: float, swollen: float, feeds: int, mass: float
) -> FillReport:
    """The filling of a pot [cm3] by the rules of the vessel room, fed in equal parts."""
    profile, _ = crucible_profile(pot)
    assert profile is not None
    heap = stand(profile, (loose + (feeds - 1) * melt) / feeds)
    quiet, high, lines = (
        layers(profile, metal, melt - metal),
        stand(profile, (swollen + (feeds - 1) * melt) / feeds),
        marks(profile),
    )
    stages = tuple(
        Stage(mass / feeds, loose / feeds, stand(profile, (loose + before * melt) / feeds).from_rim)
        for before in range(feeds)
    )
    return FillReport(
        brim=profile.brim,
        loose_volume=loose,
        loose_fraction=heap.fraction,
        loose_level=heap.level,
        loose_from_rim=heap.from_rim,
        swollen_volume=swollen,
        swollen_fraction=high.fraction,
        swollen_level=high.level,
        swollen_from_rim=high.from_rim,
        melt_volume=melt,
        melt_fraction=quiet.whole.fraction,
        melt_level=quiet.whole.level,
        melt_from_rim=quiet.whole.from_rim,
        metal_volume=metal,
        metal_level=quiet.metal.level,
        cover=quiet.cover,
        half_level=lines.half,
        two_thirds_level=lines.two_thirds,
        gas_formers=True,
        feeds=feeds,
        feeds_needed=feeds,
        stages=stages,
        melts_needed=1,
    )


def mould_of(mould: Mould, metal: float, slag: float) -> MouldReport:
    """What stands in a mould [cm3] by the rules of the vessel room."""
    profile, _ = mould_profile(mould)
    assert profile is not None
    inside = layers(profile, metal, slag)
    return MouldReport(
        capacity=profile.brim,
        metal_volume=metal,
        metal_level=inside.metal.level,
        slag_volume=slag,
        slag_level=inside.whole.level,
        fraction=inside.whole.fraction,
        freeboard=inside.freeboard,
    )


def sample_report(
    fluxes: tuple[tuple[str, str, str, float, tuple[str, ...]], ...] = FLUXES,
    charge: float = 250.0,
    step: float = 0.1,
    cautions: tuple[Caution, ...] = (),
    loose: float = 280.0,
    melt: float = 96.0,
    metal: float = 2.0,
    swollen: float | None = None,
    feeds: int = 1,
    pot: Crucible | None = POT,
    mould: Mould | None = MOULD,
    ore: OreType | None = None,
    **recipe: object,
) -> Report:
    """A report of an invented charge with the given fluxes (id, name, form, grams, tags)."""
    shelf = Shelf(
        fluxes=tuple(
            Component(uid, name, ByFormula("SiO2"), form, tags=frozenset(tags)) for uid, name, form, _, tags in fluxes
        ),
        crucibles=(pot,) if pot else (),
        moulds=(mould,) if mould else (),
        balance_step=step,
    )
    plan = Recipe(
        uid="r",
        name="House flux for the tables",
        ore=ore or OreType("o", "table concentrate", "Alder Gulch"),
        charge=charge,
        crucible="pot",
        mould="mould",
        mould_preheat=200.0,
        dry=True,
        hold=15.0,
    )
    flux_mass = sum(grams for *_, grams, _ in fluxes)
    lines = tuple(
        LineReport(
            uid,
            name,
            form,
            grams,
            False,
            100.0 * grams / flux_mass if flux_mass else 0.0,
            None,
            None,
            None,
            None,
            0.0,
            "",
        )
        for uid, name, form, grams, _ in fluxes
    )
    none = Amount(0.0)
    return Report(
        work=Work(replace(plan, **recipe), shelf),  # type: ignore[arg-type]
        ore=OreReport(
            "calcine", charge, (), (), (), 0.9, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 3600.0, None, None, 50.0, 1.4, False, None
        ),
        lines=lines,
        flux_mass=flux_mass,
        flux_cost=None,
        flux_to_ore=flux_mass / charge if charge else None,
        flux_mass_without_wish=None,
        without_wish="",
        charge_total=charge + flux_mass,
        targets=(),
        slag=SlagReport(
            405.0, (), (), 0.0, IndexReport({}, None, None, None, None, None, None), none, Amount(94.0, 86.0, 102.0)
        ),
        fill=fill_of(pot, loose, melt, metal, swollen or loose * 8 / 7, feeds, charge + flux_mass) if pot else None,
        mould=mould_of(mould, metal, melt - metal) if mould else None,
        verdicts=(),
        cautions=cautions,
        solve=SolveReport("ok", (), (), 0.0, "daqp", 1),
        issues=(),
        precious_metal_limit=0.9,
    )
