"""The assay tables of silica per base, base per silica and borax per base, asked of the whole program.

Sources as in test_silica_and_base_tables, whose printed figures are taken from there: here each is a recipe with one
free flux and the degree as its only target, solved from the ore's assay to the weight.
"""

from dataclasses import replace

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Convention, Line, Target, Work
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import OreType, Share
from tests.published.test_silica_and_base_tables import BASE_PER_SILICA, BORAX_PER_BASE, DEGREES, SILICA_PER_BASE
from tests.works import grams, pure_shelf, with_lines, with_targets, work_of

CHARGE = 100.0
IN_AN_ASSAY = ("PbO", "FeO", "Fe2O3", "CaO", "MgO", "MnO", "ZnO", "Na2O", "K2O", "BaO", "Cu2O", "Al2O3")


def convention_of(base: str) -> Convention:
    return "SBA base" if base == "Al2O3" else "SB"


def asked(oxide: str, flux: Component | str, degree: float, convention: Convention, ferric: float = 0.0) -> Work:
    """A charge of one oxide with one free flux, to be brought to a degree."""
    ore = OreType("one", "One oxide", known_by="oxides", as_is=True, stage="calcine", oxides=(Share(oxide, 100.0),))
    work = work_of(ore, charge=CHARGE, ferric_share=ferric)
    shelf = pure_shelf(work.shelf)
    if isinstance(flux, Component):
        shelf = replace(shelf, fluxes=(*shelf.fluxes, flux))
    uid = flux if isinstance(flux, str) else flux.uid
    made = with_lines(Work(work.recipe, shelf), Line(uid))
    return with_targets(made, Target("degree", lo=degree, hi=degree, convention=convention))


@pytest.mark.parametrize(
    ("base", "ferric", "printed"), [(b, f, p) for b, _, f, p in SILICA_PER_BASE if b in IN_AN_ASSAY]
)
def test_the_solver_weighs_the_silica_of_the_table(base: str, ferric: float, printed: tuple[float, ...]) -> None:
    for degree, figure in zip(DEGREES, printed, strict=True):
        work = asked(base, "silica-sand", degree, convention_of(base), ferric)
        report = evaluate(work)
        assert grams(work, report)["silica-sand"] / CHARGE == pytest.approx(figure, abs=0.00051)
        assert report.solve.status == "ok"


@pytest.mark.parametrize(("base", "printed"), [(b, p) for b, _, p in BASE_PER_SILICA])
def test_the_solver_weighs_the_base_of_the_table(base: str, printed: tuple[float, ...]) -> None:
    flux = Component("base", base, made_of=ByFormula(base), purity=1.0, purity_range=0.0)
    for degree, figure in zip(DEGREES, printed, strict=True):
        work = asked("SiO2", flux, degree, convention_of(base))
        assert grams(work, evaluate(work))["base"] / CHARGE == pytest.approx(
            figure, abs=0.00051 if figure < 10 else 0.0051
        )


@pytest.mark.parametrize(("base", "printed"), [(b, p) for b, _, p in BORAX_PER_BASE])
def test_the_solver_weighs_the_borax_glass_of_the_table(base: str, printed: tuple[float, ...]) -> None:
    for degree, figure in zip((1.0, 1.5, 2.0), printed, strict=True):
        work = asked(base, "borax-glass", degree, convention_of(base))
        assert grams(work, evaluate(work))["borax-glass"] / CHARGE == pytest.approx(figure, abs=0.00051)
