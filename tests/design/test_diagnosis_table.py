"""The table of looks: what books and memory point to stands in it, each row with its page or its flag.

A. Beringer and J. J. Beringer, A Text-book of Assaying, 1904; T. K. Rose, The Metallurgy of Gold.
"""

import re

import pytest

from fluxlab.design.diagnosis import apply_mend, mends_for, observations
from fluxlab.design.diagnosis.table import causes
from fluxlab.design.document import Document
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Work
from tests.design.diagnosis_works import HYDRATED, IRONY, RAW

BERINGER = (
    ("slag-yellow", "lead-slag", "137"),
    ("slag-pasty", "wrong-flux", "94"),
    ("slag-white-grains", "quartz-left", "25 93 137"),
    ("slag-scoriaceous", "free-lime", "17"),
    ("slag-stony", "lime-alumina", "17"),
    ("slag-thickens", "litharge-spent", "94"),
    ("slag-sticky", "phosphate", "61 212"),
    ("pot-thin", "pot-scour", "17 93"),
    ("slag-rich", "ferric-iron", "138"),
    ("layer-grey", "matte", "18 92 140"),
    ("layer-white", "speiss", "19"),
    ("button-brittle", "base-button", "140"),
    ("button-brittle", "sulphur-button", "140"),
    ("layer-matte-dead", "sulphate-left", "23 178"),
    ("button-small", "under-reduced", "91 93"),
    ("button-large", "over-reduced", "93"),
    ("layer-watery", "alkali-sulphate", "22"),
    ("boil-over", "hydrated", "20 136"),
    ("boil-over", "gas-formers", "20 136"),
    ("smell-garlic", "arsenic-fume", "22"),
    ("cupel-cracks", "antimony-bead", "100"),
    ("cupel-green", "copper-bead", "100"),
    ("cupel-black", "copper-bead", "100"),
    ("cupel-corroded", "iron-bead", "100"),
    ("cupel-rings", "tin-zinc-bead", "100"),
    ("cupel-yellow", "lead-only", "100"),
    ("bead-dull", "platinum-bead", "100 144"),
    ("cupel-frozen", "frozen-cupel", "99"),
    ("matte-blue", "matte-fine", "178"),
    ("matte-flat", "matte-coarse", "178"),
    ("copper-film", "over-refined", "179"),
)
ROSE = (
    ("slag-green", "little-iron", "499"),
    ("slag-black", "iron-slag", "499"),
    ("slag-red", "copper-slag", "499"),
    ("slag-streaked", "unfinished", "499"),
    ("slag-pasty", "wrong-flux", "499"),
    ("fume-white", "zinc-fume", "386"),
    ("layer-two-metals", "iron-bullion", "432"),
)
MEMORY = (
    ("slag-blue-green", "copper-slag"),
    ("slag-blue", "cobalt"),
    ("slag-blue", "copper-slag"),
    ("slag-violet", "manganese"),
    ("slag-brown", "nickel"),
    ("slag-emerald", "chromite"),
    ("slag-ropy", "too-acid"),
    ("slag-short", "too-basic"),
    ("slag-prills", "stiff-slag"),
    ("slag-prills", "cold-pour"),
    ("slag-prills", "short-hold"),
    ("slag-prills", "small-collector"),
    ("slag-clear", "little-iron"),
    ("slag-bottle", "iron-slag"),
    ("slag-liver", "copper-slag"),
    ("slag-liver", "ferric-iron"),
    ("slag-streaks", "copper-slag"),
    ("slag-brown-black", "manganese"),
    ("slag-brown-black", "iron-slag"),
    ("slag-milky", "quartz-left"),
    ("slag-milky", "milky-solids"),
    ("slag-milky", "zinc-slag"),
    ("slag-milky", "phosphate"),
    ("slag-dull", "stiff-slag"),
    ("slag-dull", "unfinished"),
    ("slag-dull", "gas-formers"),
    ("slag-smells", "soda-sulphide"),
    ("calcine-red", "roast-good"),
    ("calcine-magnetic", "roast-short"),
    ("calcine-crust", "lead-fume"),
    ("calcine-crust", "antimony-fume"),
    ("calcine-lumps", "roast-hot"),
    ("button-grey", "base-button"),
    ("button-grey", "sulphur-button"),
    ("button-soft", "lead-button"),
    ("button-red", "base-button"),
    ("fume-brown", "nitre"),
    ("button-large", "lead-button"),
)
"""Common practice and memory; the strengths of the table are judgement."""
ALSO = (
    ("layer-watery", "chloride-cover"),
    ("boil-over", "nitre"),
    ("boil-over", "phosphate"),
    ("boil-over", "damp"),
    ("button-brittle", "speiss"),
    ("layer-grey", "sulphate-left"),
)
LOOKS = {look.key: look for look in observations()}


@pytest.mark.parametrize(("look", "cause", "pages"), BERINGER)
def test_what_beringer_points_to_stands_in_the_table_with_its_pages(look: str, cause: str, pages: str) -> None:
    _points(look, cause)
    assert set(pages.split()) <= _pages(LOOKS[look].source, "Beringer 1904"), LOOKS[look].source
    assert set(pages.split()) <= _pages(causes()[cause]["source"], "Beringer 1904"), causes()[cause]["source"]


@pytest.mark.parametrize(("look", "cause", "page"), ROSE)
def test_what_rose_points_to_stands_in_the_table_with_its_page(look: str, cause: str, page: str) -> None:
    _points(look, cause)
    assert page in _pages(LOOKS[look].source, "Rose"), LOOKS[look].source
    assert page in _pages(causes()[cause]["source"], "Rose"), causes()[cause]["source"]


@pytest.mark.parametrize(("look", "cause"), MEMORY + ALSO)
def test_what_memory_points_to_stands_in_the_table(look: str, cause: str) -> None:
    _points(look, cause)


@pytest.mark.parametrize("look", sorted({look for look, _ in MEMORY} - {look for look, *_ in BERINGER + ROSE}))
def test_what_no_book_gave_says_that_it_is_from_memory(look: str) -> None:
    assert "from memory" in LOOKS[look].source


def _points(look: str, cause: str) -> None:
    assert cause in dict(LOOKS[look].points_to), (look, cause)


def _pages(source: str, book: str) -> set[str]:
    """Page numbers that a source gives for a book: those before the next book or flag."""
    assert "found" in source
    named = source.partition(book)[2]
    return set(re.findall(r"\d+", re.split(r";|, and|Rose|Beringer", named)[0]))


@pytest.mark.parametrize(
    ("work", "cause"), [(IRONY, "ferric-iron"), (HYDRATED, "hydrated"), (RAW, "soda-sulphide"), (IRONY, "cold-pour")]
)
def test_a_change_is_one_step_and_undo_takes_back_all_of_it(work: Work, cause: str) -> None:
    found = mends_for(evaluate(work), cause)
    assert found
    for mend in found:
        document = Document(work)
        assert document.apply(*apply_mend(document.work, mend))
        assert document.work != work
        assert document.undo_label
        document.undo()
        assert document.work == work
        assert document.undo_label is None
