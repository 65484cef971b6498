"""Recipes that the diagnosis is tried on: invented ores, all four routes, and one with each kind of trouble."""

from fluxlab.design import edits
from fluxlab.design.recipe import Line, RouteName, Work
from fluxlab.design.start import demo_work
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.ore.roast_types import RoastPlan
from tests.works import CLEAN, DIRTY, empty_recipe, with_lines, work_of

ROUTES: tuple[RouteName, ...] = ("roast and melt", "nitre", "iron", "lead collection")


def ore(*minerals: tuple[str, float]) -> OreType:
    return OreType("o", "Ore", minerals=tuple(Share(*m) for m in minerals), silver=Grade(500.0))


SODA, SAND, BORAX = Line("soda-ash-dense", 60.0), Line("silica-sand", 40.0), Line("borax-glass", 30.0)
RAW = with_lines(
    work_of(ore(("Galena", 40.0), ("Pyrite", 30.0), ("Quartz", 30.0)), pot_feed="concentrate"), SODA, SAND, BORAX
)
SULPHATE = with_lines(work_of(ore(("Anglesite", 30.0), ("Galena", 20.0), ("Quartz", 50.0))), SODA, SAND, BORAX)
COPPERY = with_lines(work_of(ore(("Chalcopyrite", 60.0), ("Quartz", 40.0))), SODA, SAND, BORAX)
IRONY = with_lines(work_of(ore(("Hematite", 80.0), ("Quartz", 20.0))), SODA, SAND, BORAX)
ZINCKY = with_lines(work_of(ore(("Sphalerite (pure)", 60.0), ("Quartz", 40.0))), SODA, SAND, BORAX)
ARSENIC = with_lines(work_of(ore(("Mimetite", 30.0), ("Hematite", 40.0), ("Quartz", 30.0))), SODA, SAND, BORAX)
NITRE = with_lines(work_of(CLEAN, "nitre"), SODA, SAND, BORAX, Line("nitre", 25.0))
HYDRATED = with_lines(demo_work(), Line("borax-decahydrate", 160.0), SODA, SAND)
BASIC = with_lines(
    work_of(ore(("Calcite", 80.0), ("Quartz", 20.0)), pot_feed="concentrate"), Line("soda-ash-dense", 120.0)
)
LEAD = with_lines(
    work_of(CLEAN, "lead collection"), SODA, SAND, BORAX, Line("litharge", 100.0), Line("wheat-flour", 4.0)
)
HURRIED = edits.set_hold(edits.set_pour_temperature(demo_work(), 1250.0)[1], 1.0)[1]
NOTHING = Work(empty_recipe(), demo_work().shelf)
CARBON = Line("charcoal", 4.0)
HOT = 1200.0
_SHORT = RoastPlan(kind="planned", finish_temperature=650.0, minutes=45.0)

WORKS = {
    "demo": demo_work(),
    "dirty": work_of(DIRTY),
    "raw": RAW,
    "sulphate": SULPHATE,
    "coppery": COPPERY,
    "irony": IRONY,
    "zincky": ZINCKY,
    "arsenic": ARSENIC,
    "nitre": NITRE,
    "hydrated": HYDRATED,
    "basic": BASIC,
    "lead": LEAD,
    "nothing": NOTHING,
}

TROUBLES = {
    "short roast": work_of(CLEAN, roast=_SHORT),
    "chalky": work_of(ore(("Calcite", 45.0), ("Corundum", 15.0), ("Hematite", 20.0), ("Quartz", 20.0))),
    "chromite": work_of(ore(("Chromite", 10.0), ("Quartz", 60.0), ("Hematite", 30.0))),
    "pyrolusite": work_of(ore(("Pyrolusite", 25.0), ("Quartz", 60.0), ("Calcite", 15.0))),
    "phosphate": work_of(ore(("Fluorapatite", 15.0), ("Quartz", 65.0), ("Hematite", 20.0))),
    "barite": with_lines(
        work_of(ore(("Barite", 30.0), ("Quartz", 50.0), ("Hematite", 20.0)), pot_feed="concentrate"),
        SODA, SAND, Line("borax-glass", 50.0), CARBON,
    ),
    "fluorspar": with_lines(work_of(DIRTY), SODA, BORAX, Line("fluorspar", 12.0)),
    "hot zinc": work_of(ore(("Sphalerite (pure)", 25.0), ("Quartz", 75.0)), pour_temperature=HOT),
    "hot lead": work_of(ore(("Galena", 50.0), ("Quartz", 50.0)), pour_temperature=HOT),
    "free": work_of(ore(("Galena", 40.0), ("Pyrite", 30.0), ("Quartz", 30.0)), pot_feed="concentrate"),
    "over-reduced": with_lines(work_of(CLEAN), SODA, SAND, BORAX, CARBON),
    "iron in it": with_lines(
        work_of(ore(("Hematite", 50.0), ("Quartz", 50.0))), SODA, SAND, BORAX, CARBON, Line("iron-filings", 10.0)
    ),
    "arsenide": with_lines(
        work_of(ore(("Arsenopyrite", 30.0), ("Quartz", 70.0)), "iron", pot_feed="concentrate"),
        SODA, SAND, BORAX, Line("iron-filings", 10.0),
    ),
    "starved lead": with_lines(
        work_of(ore(("Quartz", 80.0), ("Hematite", 20.0)), "lead collection"),
        SODA, BORAX, Line("litharge", 200.0), Line("wheat-flour", 4.0),
    ),
    "spent lead": with_lines(
        work_of(ore(("Quartz", 80.0), ("Hematite", 20.0)), "lead collection"),
        SODA, BORAX, Line("litharge", 120.0), Line("wheat-flour", 14.0),
    ),
    "roomy": work_of(CLEAN, charge=60.0, crucible="pot-36-52-125", mould="cone-25-130"),
    "small pour": work_of(ore(("Hematite", 30.0), ("Quartz", 70.0)), pour_temperature=1050.0, hold=2.0),
    "bubbling": work_of(ore(("Calcite", 45.0), ("Quartz", 55.0)), pot_feed="concentrate", crucible="pot-22-32-75"),
    "less litharge": with_lines(
        work_of(ore(("Quartz", 80.0), ("Hematite", 20.0)), "lead collection"),
        SODA, BORAX, Line("litharge", 120.0), Line("wheat-flour", 8.0),
    ),
    "copper in lead": with_lines(
        work_of(ore(("Quartz", 80.0), ("Cuprite", 20.0)), "lead collection"),
        SODA, BORAX, Line("litharge", 150.0), Line("wheat-flour", 8.0),
    ),
    "lead with charcoal": with_lines(
        work_of(ore(("Galena", 40.0), ("Quartz", 60.0))), SODA, SAND, BORAX, Line("charcoal", 1.0)
    ),
    "copper with charcoal": with_lines(
        work_of(ore(("Chalcopyrite", 60.0), ("Quartz", 40.0))), SODA, SAND, BORAX, CARBON
    ),
    "fixed chromite": with_lines(work_of(ore(("Chromite", 10.0), ("Quartz", 60.0), ("Hematite", 30.0))), SODA, BORAX),
    "trace of sulphide": with_lines(
        work_of(ore(("Galena", 9.0), ("Quartz", 91.0)), "nitre"),
        Line("soda-ash-dense", 90.0), BORAX, Line("nitre", 1.0),
    ),
    "speiss": with_lines(
        work_of(ore(("Mimetite", 10.0), ("Hematite", 30.0), ("Quartz", 60.0))),
        SODA, SAND, BORAX, CARBON, Line("iron-filings", 15.0),
    ),
    "raw arsenide": work_of(ore(("Arsenopyrite", 30.0), ("Quartz", 70.0)), pot_feed="concentrate"),
    "nitre on calcine": with_lines(work_of(CLEAN), SODA, SAND, BORAX, Line("nitre", 6.0)),
    "matte in nitre": with_lines(
        work_of(ore(("Pyrite", 12.0), ("Quartz", 88.0)), "nitre"), SODA, BORAX, Line("nitre", 10.0)
    ),
}  # fmt: skip
BY_ROUTE = {f"{route}, {kind.uid}": work_of(kind, route) for route in ROUTES for kind in (CLEAN, DIRTY)}
ALL = WORKS | TROUBLES | BY_ROUTE
