"""Every rule is met by a document that the window can make, and not by one that differs in its cause alone."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from fluxlab.design import edits
from fluxlab.design.cautions import CONDITIONS
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Work
from fluxlab.design.start import demo_work
from fluxlab.design.workshop import Workshop
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import Grade, OreType, Share
from fluxlab.store import document
from tests.works import CLEAN, with_lines, work_of

SODA, SAND, GLASS = Line("soda-ash-dense", 60.0), Line("silica-sand", 20.0), Line("borax-glass", 60.0)
POWDER = Component("powder", "Aluminium powder", ByFormula("Al"))


def ore(silver: float | None = 500.0, **shares: float) -> OreType:
    grade = None if silver is None else Grade(silver)
    minerals = tuple(Share(name.replace("_", " "), share) for name, share in shares.items())
    return OreType("o", "Ore", minerals=minerals, silver=grade)


def calcine(silver: float | None = 500.0, **shares: float) -> Work:
    return work_of(ore(silver, **shares))


def raw(*lines: Line, route: str = "roast and melt", **shares: float) -> Work:
    return with_lines(work_of(ore(**shares), route, pot_feed="concentrate"), *lines)


def demo(name: str, *given: Any) -> Work:
    """The demo after one edit."""
    edit: Callable[..., tuple[str, Work]] = getattr(edits, name)
    return edit(demo_work(), *given)[1]


def card(**stated: Any) -> Work:
    return demo("set_workshop", Workshop(ppe=True, minor=False, alone=False, disposal="licensed site", **stated))


def more(work: Work, flux: str, grams: float) -> Work:
    return edits.fix_weight(work, flux, grams)[1]


def wanted(work: Work) -> Work:
    target = next(t for t in work.recipe.targets if t.key == "reducer_budget")
    return edits.set_target(work, replace(target, on=True))[1]


def mould(depth: float) -> Work:
    small = replace(demo_work().shelf.moulds[0], uid="small", depth=depth)
    return edits.set_mould(edits.put_mould(demo_work(), small)[1], "small")[1]


def roast(start: float, **shares: float) -> Work:
    plan = replace(demo_work().recipe.roast, kind="planned", start_temperature=start)
    return edits.set_roast(calcine(**shares), plan)[1]


def pot(work: Work, material: str) -> Work:
    return edits.set_crucible(work, next(p.uid for p in work.shelf.crucibles if p.material == material))[1]


def poor(*lines: Line) -> Work:
    return raw(SODA, SAND, *lines, Pyrite=5.0, Quartz=95.0)


def zinc(iron: float) -> Work:
    """Sulphur that metallic iron takes none of, and a token of iron beside it."""
    shares = {"Sphalerite_(pure)": 7.0, "Quartz": 93.0}
    return raw(SODA, SAND, Line("iron-filings", iron), route="roast and melt", **shares)


def by_sulphides(pyrite: float) -> Work:
    """A lead button from raw ore: its sulphides bring lead down, whatever reducer there is."""
    return work_of(ore(Pyrite=pyrite, Quartz=100.0 - pyrite), "lead collection", pot_feed="concentrate")


def own(work: Work, **figures: float) -> Work:
    """The work with the operator's own figures of the pot."""
    return replace(work, recipe=replace(work.recipe, pot_figures=tuple(figures.items())))


def assayed(quartz: float, ticked: tuple[str, ...] = ("Quartz",)) -> Work:
    """An oxide assay of quartz alone [mass %]."""
    oxides = (Share("SiO2", quartz),)
    return work_of(OreType("o", "Ore", known_by="oxides", oxides=oxides, ticked=ticked, silver=Grade(500.0)))


POWDERED = edits.put_flux(demo_work(), POWDER)[1]
NITRE = with_lines(work_of(CLEAN, "nitre", pot_feed="calcine"), SODA, SAND, Line("nitre", 8.0))
CHARCOAL = with_lines(work_of(CLEAN), SODA, GLASS)
LITHARGE = with_lines(work_of(CLEAN, "lead collection", pot_feed="calcine"), SODA, GLASS, Line("litharge", 100.0))
HORN = with_lines(calcine(**{"Chlorargyrite_(horn_silver)": 2.0, "Quartz": 98.0}), Line("borax-glass", 50.0))
BARITE = with_lines(calcine(Barite=20.0, Quartz=80.0), SODA)
POOR_GALENA = raw(SODA, SAND, Galena=11.0, Quartz=89.0)
MIMETITE = calcine(Mimetite=10.0, Hematite=90.0)
SLOW = with_lines(demo_work(), Line("silica-sand", 60.0), Line("borax-glass", 30.0))

# rule: a document that meets it, and one that does not
DOCUMENTS: dict[str, tuple[Work, Work]] = {
    "R01": (demo("set_dry", False), demo("set_dry", True)),
    "R02": (demo("set_mould_preheat", 119.0), demo("set_mould_preheat", 120.0)),
    "R03": (demo("set_mould_preheat", 351.0), demo("set_mould_preheat", 350.0)),
    "R04": (mould(55.0), demo_work()),
    "R05": (demo("set_charge", 600.0), edits.set_feeds(demo("set_charge", 600.0), 3)[1]),
    "R06": (with_lines(demo_work(), Line("sodium-bicarbonate", 120.0), GLASS), demo_work()),
    "R07": (with_lines(demo_work(), Line("borax-decahydrate", 200.0), SODA), demo_work()),
    "R08": (with_lines(demo_work(), Line("silica-sand", 150.0), SODA), demo_work()),
    "R09": (poor(Line("nitre", 60.0)), poor(Line("nitre", 14.0))),
    "R10": (poor(Line("nitre", 14.0)), poor(Line("nitre", 4.0))),
    "R11": (more(NITRE, "wheat-flour", 1.0), NITRE),
    "R12": (
        raw(SODA, SAND, Line("nitre", 3.0), Pyrite=10.5, Quartz=89.5),
        raw(SODA, SAND, Line("nitre", 3.0), Pyrite=9.5, Quartz=90.5),
    ),
    "R13": (pot(NITRE, "clay-graphite"), pot(NITRE, "clay")),
    "R14": (more(POWDERED, "powder", 1.0), POWDERED),
    "R15": (calcine(Cinnabar=0.01, Quartz=99.99), calcine(Quartz=100.0)),
    "R16": (calcine(Arsenopyrite=0.13, Quartz=99.87), calcine(Arsenopyrite=0.1, Quartz=99.9)),
    "R17": (calcine(Stibnite=1.5, Quartz=98.5), calcine(Stibnite=1.2, Quartz=98.8)),
    "R18": (calcine(Cerussite=1.0, Quartz=99.0), calcine(Quartz=100.0)),
    "R19": (calcine(Pyrite=5.0, Quartz=95.0), calcine(Pyrite=4.0, Quartz=96.0)),
    "R20": (more(demo_work(), "fluorspar", 30.0), more(demo_work(), "fluorspar", 10.0)),
    "R21": (more(HORN, "soda-ash-dense", 0.045), more(HORN, "soda-ash-dense", 0.055)),
    "R22": (raw(SODA, SAND, Galena=4.0, Quartz=96.0), raw(SODA, SAND, Galena=3.5, Quartz=96.5)),
    "R23": (raw(SODA, SAND, Galena=15.5, Quartz=84.5), raw(SODA, SAND, Galena=14.5, Quartz=85.5)),
    "R24": (
        raw(SODA, SAND, Line("iron-filings", 11.0), Galena=60.0, Quartz=40.0),
        raw(SODA, SAND, Line("iron-filings", 13.0), Galena=60.0, Quartz=40.0),
    ),
    "R25": (calcine(Mimetite=10.0, Hematite=90.0), calcine(Mimetite=1.0, Hematite=99.0)),
    "R26": (more(pot(NITRE, "clay-graphite"), "iron-filings", 1.0), more(pot(NITRE, "clay"), "iron-filings", 1.0)),
    "R27": (LITHARGE, more(LITHARGE, "wheat-flour", 12.0)),
    "R28": (more(CHARCOAL, "charcoal", 40.0), CHARCOAL),
    "R29": (calcine(Anglesite=3.5, Quartz=96.5), calcine(Anglesite=2.5, Quartz=97.5)),
    "R30": (roast(455.0, Stibnite=20.0, Quartz=80.0), roast(450.0, Stibnite=20.0, Quartz=80.0)),
    "R31": (demo("set_pour_temperature", 750.0), demo_work()),
    "R32": (with_lines(demo_work(), Line("silica-sand", 150.0), Line("borax-glass", 30.0)), demo_work()),
    "R33": (demo("set_hold", 31.0), demo("set_hold", 30.0)),
    "R34": (calcine(Chromite=5.1, Quartz=94.9), calcine(Chromite=4.9, Quartz=95.1)),
    "R35": (more(BARITE, "charcoal", 1.0), BARITE),
    "R36": (raw(SODA, Calcite=10.1, Quartz=89.9), raw(SODA, Calcite=9.9, Quartz=90.1)),
    "R37": (calcine(Pyrolusite=15.0, Quartz=85.0), calcine(Pyrolusite=9.0, Quartz=91.0)),
    "R38": (calcine(Quartz=50.0, Hematite=50.0), with_lines(calcine(Hematite=100.0), SODA)),
    "R40": (card(wet_residues=True), card()),
    "R41": (card(quench=True), card()),
    "R42": (card(mould_opened_after=9.0), card(mould_opened_after=10.0)),
    "R43": (card(pot_wall_left=59.0), card(pot_wall_left=60.0)),
    "R44": (demo("set_scrap", True), demo("set_scrap", False)),
    "R45": (card(fuel="propane", co_alarm=False), card(fuel="electric", co_alarm=False)),
    "R46": (card(air_ratio=0.89), card(air_ratio=0.9)),
    "R47": (calcine(Quartz=89.9), calcine(Quartz=90.1)),
    "R48": (calcine(**{"Monazite_(Ce)": 0.1, "Quartz": 99.9}), calcine(Quartz=100.0)),
    "R49": (demo_work(), card()),
    "R50": (demo_work(), card()),
}


# more documents for a rule that has several causes, or that a token or a figure of one's own must not silence
MORE: list[tuple[str, Work, Work]] = [
    # a roast does not speak here: the sulphides go into the pot as they are
    ("R19", by_sulphides(9.0), by_sulphides(7.0)),
    ("R21", HORN, more(HORN, "charcoal", 1.0)),
    ("R21", more(HORN, "charcoal", 0.003), more(HORN, "charcoal", 0.006)),
    ("R22", zinc(0.2), zinc(1.0)),
    ("R23", zinc(0.02), zinc(1.0)),
    ("R24", raw(SODA, SAND, Line("iron-filings", 0.1), Pyrite=3.7, Quartz=96.3), raw(SODA, SAND, Quartz=100.0)),
    ("R24", own(POOR_GALENA, soda_slag=2.4), own(POOR_GALENA, soda_slag=2.6)),
    ("R25", own(MIMETITE, speiss_least=1.5), own(MIMETITE, speiss_least=1.6)),
    ("R28", by_sulphides(40.0), by_sulphides(5.0)),
    ("R32", own(SLOW, hold_most=18.0), own(SLOW, hold_most=21.0)),
    ("R35", more(BARITE, "charcoal", 1.0), more(BARITE, "iron-filings", 5.0)),
    ("R47", calcine(None, Quartz=100.0), calcine(Quartz=100.0)),
    ("R47", assayed(80.0), assayed(92.0)),
    ("R47", assayed(100.0, ()), assayed(100.0)),
]


def rules_of(work: Work) -> set[str]:
    """The rules that a document meets after it was written to text and read back."""
    read = document.read_work(document.recipe_text(work))
    assert read.value is not None, read.issues
    return {c.rule for c in evaluate(read.value).cautions}


def test_every_rule_that_is_asked_of_a_plan_has_a_document() -> None:
    assert list(DOCUMENTS) == list(CONDITIONS)


@pytest.mark.parametrize("rule", DOCUMENTS)
def test_a_document_meets_its_rule_and_the_other_does_not(rule: str) -> None:
    meets, other = DOCUMENTS[rule]
    assert rule in rules_of(meets)
    assert rule not in rules_of(other)


@pytest.mark.parametrize(("rule", "meets", "other"), MORE, ids=[f"{rule}-{at}" for at, (rule, *_) in enumerate(MORE)])
def test_each_cause_of_a_rule_has_its_documents(rule: str, meets: Work, other: Work) -> None:
    assert rule in rules_of(meets)
    assert rule not in rules_of(other)


def test_metal_wanted_from_oxides_is_asked_for_by_a_target_of_its_own() -> None:
    copper = with_lines(work_of(ore(Malachite=60.0, Quartz=40.0), pot_feed="concentrate"), SODA, GLASS)
    assert "R27" not in rules_of(pot(copper, "clay"))
    assert "R27" in rules_of(wanted(pot(copper, "clay")))
