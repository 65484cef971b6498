"""Write the library of the present schema version beside this file: run by hand once per version, before its release.

From the root of the project: python -m tests.data.libraries.make

What stands in it is invented. tests/store/test_library_disk.py opens every version with every later program.
"""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Recipe, Shelf, Target, Work
from fluxlab.design.ticket import build
from fluxlab.learn.melt import Beforehand, Fineness, Melt, Weighing
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.flux_types import ByAnalysis, ByFormula, ByParts, Component, Part
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.store.library import Library
from fluxlab.store.migrations import STEPS
from fluxlab.store.report_document import ticket_text
from fluxlab.vessel.vessel_types import Crucible, Mould

SHELF = Shelf(
    fluxes=(
        Component("borax-glass", "Borax glass", ByFormula("Na2B4O7"), price=4.0, stock=900.0),
        Component("soda", "Soda ash", ByFormula("Na2CO3"), tags=frozenset({"gas-former"})),
        Component("glass", "Bottle glass", ByAnalysis((("SiO2", 72.0), ("Na2O", 14.0), ("CaO", 11.0)))),
        Component("jar", "Grey jar", ByParts((Part("soda", 2.0, 1.5, 2.5), Part("borax-glass", 1.0)))),
    ),
    crucibles=(Crucible("pot", "Pot", 30.0, 44.0, 105.0),),
    moulds=(Mould("cone", "Cone"),),
    currency="£",
)
GREY = OreType(
    "ore-grey",
    "Grey ore",
    "Upper level",
    minerals=(Share("Galena", 30.0, 20.0, 40.0), Share("Quartz", 70.0)),
    silver=Grade(42.0, "oz/short ton"),
)
RUSTY = OreType("ore-rusty", "Rusty ore", known_by="oxides", oxides=(Share("SiO2", 40.0), Share("Fe2O3", 60.0)))
FIRST = Recipe(
    "recipe-first",
    "Ångström’s first",
    GREY,
    lines=(Line("borax-glass", least=10.0), Line("soda", 45.0), Line("glass")),
    targets=(Target("borate", 0.2, 0.5), Target("degree", 1.0, 2.5, hi_kind="wish", convention="SB")),
    crucible="pot",
    mould="cone",
)
MELT = Melt(
    "melt-first",
    GREY.uid,
    FIRST.uid,
    revision=2,
    ticket=1,
    poured=datetime(2026, 3, 1, 16, 20),
    weighed=(Weighing("concentrate", "Concentrate", 100.0, 100.1), Weighing("soda", "Soda ash", 45.0)),
    recipe_name="Ångström’s first",
    ticket_name="2-1",
    route="roast and melt",
    feed="concentrate",
    button=2.1,
    slag=118.0,
    in_fire=41.0,
    seen=("slag-black",),
    fineness=Fineness(7.0, by="assayer"),
    beforehand=Beforehand(silver=0.144, grade_error=4.0, button=Estimate(2.0, 1.5, 2.6, "invented")),
    notes="froth ½ cm under the rim",
)


def main() -> None:
    path = Path(__file__).with_name(f"version-{len(STEPS)}.sqlite")
    path.unlink(missing_ok=True)
    with Library.open(path) as library:
        library.save_shelf(SHELF)
        library.save_revision(Work(FIRST, SHELF), "as first tried")
        library.save_revision(Work(replace(FIRST, charge=120.0), SHELF))
        plain = Recipe("recipe-plain", "Plain", RUSTY, lines=(Line("jar"),))
        library.save_revision(Work(plain, SHELF))
        library.save_draft(Work(replace(plain, charge=250.0), SHELF), base=1)
        library.save_revision(Work(replace(plain, uid="recipe-aside", name="Set aside"), SHELF))
        library.archive("recipe-aside")
        ticket = build(evaluate(Work(FIRST, SHELF)), revision=2, copy=1, when=datetime(2026, 3, 1, 14, 30))
        library.record_ticket(ticket_text(ticket), ore=GREY.uid, recipe=FIRST.uid, revision=2, confirmed=("R01", "R02"))
        library.record_melt(replace(MELT, button=21.0))
        library.record_melt(replace(MELT, uid="melt-corrected", replaces="melt-first"))
        library.record_melt(replace(MELT, uid="melt-none"))
        library.record_melt(replace(MELT, uid="melt-struck", replaces="melt-none", struck=True))


if __name__ == "__main__":
    main()
