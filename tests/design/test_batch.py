from hypothesis import given
from hypothesis import strategies as st

from fluxlab.design.batch import batch_rows, jar_of_lines
from fluxlab.design.report_types import LineReport
from fluxlab.materials.flux_types import ByFormula, ByParts, Component, Part

SODA = Component("soda", "Soda ash", ByFormula("Na2CO3"), form="dense")
BORAX = Component("borax", "Borax glass", ByFormula("Na2B4O7"))
SPAR = Component("spar", "Fluorspar", ByFormula("CaF2"), tags=frozenset({"fluoride"}))
FLOUR = Component("flour", "Wheat flour", ByFormula("C6H10O5"), tags=frozenset({"reducer"}))
NITRE = Component("nitre", "Nitre", ByFormula("KNO3"), tags=frozenset({"nitrate", "oxidiser"}))
SHELF = (SODA, BORAX, SPAR, FLOUR, NITRE)


def jar(*parts: Part) -> Component:
    return Component("jar", "House mix", ByParts(parts))


def line(flux: str, grams: float) -> LineReport:
    return LineReport(flux, flux, "", grams, False, 0.0, None, None, None, None, 0.0, "")


def test_a_jar_of_two_to_one_is_weighed_two_to_one():
    rows = batch_rows(jar(Part("soda", 1), Part("borax", 2)), 900, SHELF)
    assert [(row.name, row.grams) for row in rows] == [("Borax glass", 600.0), ("Soda ash", 300.0)]
    assert rows[1].form == "dense"


def test_thirds_are_rounded_so_that_the_batch_still_adds_up():
    rows = batch_rows(jar(Part("soda", 1), Part("borax", 1), Part("spar", 1)), 100, SHELF, step=0.1)
    assert sorted(row.grams for row in rows) == [33.3, 33.3, 33.4]


@given(
    st.lists(st.floats(0.01, 100), min_size=1, max_size=12),
    st.floats(1, 50_000),
    st.sampled_from([0.01, 0.1, 0.5, 1.0]),
)
def test_rounded_weights_add_up_and_none_is_off_by_a_whole_step(likely, grams, step):
    rows = batch_rows(jar(*(Part(f"p{i}", share) for i, share in enumerate(likely))), grams, (), step)
    assert abs(sum(row.grams for row in rows) - grams) <= step / 2 + 1e-6
    assert all(abs(row.grams - row.exact) < step + 1e-6 for row in rows)
    assert all(abs(row.grams / step - round(row.grams / step)) < 1e-6 for row in rows)


def test_nitre_comes_last_and_fluorspar_and_the_reducer_after_the_plain_fluxes():
    parts = (Part("nitre", 50), Part("flour", 20), Part("spar", 30), Part("soda", 1), Part("borax", 2))
    assert [row.flux for row in batch_rows(jar(*parts), 500, SHELF)] == ["borax", "soda", "spar", "flour", "nitre"]


def test_a_part_that_is_not_on_the_shelf_goes_by_its_id():
    assert batch_rows(jar(Part("gone", 1)), 10, SHELF)[0].name == "gone"


def test_the_range_of_a_part_is_shown_as_a_share_of_the_batch():
    row = batch_rows(jar(Part("soda", 40, 30, 50), Part("borax", 40)), 10, SHELF)[0]
    assert (row.percent, row.low_percent, row.high_percent) == (50.0, 37.5, 62.5)


def test_a_plain_flux_an_empty_jar_and_a_batch_of_nothing_have_no_weighings():
    assert batch_rows(SODA, 100, SHELF) == ()
    assert batch_rows(jar(), 100, SHELF) == ()
    assert batch_rows(jar(Part("soda", 0)), 100, SHELF) == ()
    for grams in (0.0, -3.0, float("nan"), float("inf")):
        assert batch_rows(jar(Part("soda", 1)), grams, SHELF) == ()


def test_a_recipe_becomes_a_jar_of_its_weights_without_the_empty_rows():
    made_of = jar_of_lines([line("soda", 30.0), line("nitre", 0.0), line("borax", 60.0)])
    assert made_of == ByParts((Part("soda", 30.0), Part("borax", 60.0)))
