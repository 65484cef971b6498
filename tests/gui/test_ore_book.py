"""What the tree can do with the library, below the widgets."""

from dataclasses import replace

import pytest

from fluxlab.design.recipe import Work
from fluxlab.design.start import demo_work, new_recipe
from fluxlab.gui.bridge import Bench
from fluxlab.gui.ore.book import Book
from fluxlab.ore.demo import demo_ores
from fluxlab.store.library import Library


@pytest.fixture
def library(tmp_path):
    with Library.open(tmp_path / "library.sqlite") as library:
        yield library


@pytest.fixture
def bench(qapp, library):
    demo = demo_work()
    library.save_shelf(demo.shelf)
    for ore in demo_ores():
        library.save_ore(ore)
    for name in ("Soda slag", "Nitre trial"):
        library.save_revision(Work(new_recipe(demo_ores()[1], demo.shelf, name=name), demo.shelf))
    return Bench(demo, library=library)


@pytest.fixture
def book(bench):
    return Book(bench)


def recipes(book: Book, archived: bool = False) -> dict[str, str]:
    return {r.name: r.uid for group in book.groups(archived) for ore in group.ores for r in ore.recipes}


def test_an_ore_type_opens_with_the_recipe_that_was_kept_last(book, bench):
    book.open_ore(demo_ores()[1].uid)
    assert bench.work.recipe.name == "Nitre trial"


def test_an_ore_type_without_a_recipe_begins_one(book, bench):
    book.open_ore(demo_ores()[2].uid)
    assert bench.work.recipe.ore == demo_ores()[2]
    assert bench.revision is None


def test_the_ore_type_on_the_bench_stays_as_it_is_when_chosen_again(book, bench):
    before = bench.work
    book.open_ore(before.recipe.ore.uid)
    book.open_recipe(before.recipe.uid)
    assert bench.work == before


def test_another_recipe_is_begun_for_the_same_and_for_another_ore_type(book, bench):
    first = bench.work.recipe
    book.new_recipe(first.ore.uid)
    assert bench.work.recipe.ore == first.ore
    assert bench.work.recipe.uid != first.uid
    book.new_recipe(demo_ores()[1].uid)
    assert bench.work.recipe.ore.uid == demo_ores()[1].uid


def test_a_recipe_is_duplicated_on_the_bench_and_off_it(book, bench):
    book.duplicate_recipe(bench.work.recipe.uid)
    assert bench.work.recipe.name == "First melt (copy)"
    book.duplicate_recipe(recipes(book)["Soda slag"])
    assert bench.work.recipe.name == "Soda slag (copy)"
    assert "Soda slag (copy)" in recipes(book)


def test_a_recipe_is_renamed_on_the_bench_and_off_it(book, bench, library):
    book.rename_recipe(bench.work.recipe.uid, "Second melt")
    assert bench.document.undo_label == "Rename to Second melt"
    uid = recipes(book)["Soda slag"]
    book.rename_recipe(uid, "Soda slag, thin")
    assert library.recipe(uid).name == "Soda slag, thin"


def test_a_recipe_is_archived_and_brought_back(book, bench):
    assert "on the bench" in book.archive_recipe(bench.work.recipe.uid)
    uid = recipes(book)["Nitre trial"]
    assert book.archive_recipe(uid) == ""
    assert "Nitre trial" not in recipes(book)
    assert recipes(book, archived=True) == {"Nitre trial": uid}
    book.restore_recipe(uid)
    assert "Nitre trial" in recipes(book)


def test_an_archived_ore_type_takes_its_recipes_along(book):
    assert book.archive_ore(demo_ores()[1].uid) == ""
    assert "Soda slag" not in recipes(book)
    assert set(recipes(book, archived=True)) == {"Soda slag", "Nitre trial"}


def test_a_renamed_ore_type_off_the_bench_changes_the_library_only(book, bench, library):
    book.rename_ore(demo_ores()[1].uid, "middlings", "Upper mill")
    assert (library.ore(demo_ores()[1].uid).name, library.ore(demo_ores()[1].uid).group) == ("middlings", "Upper mill")
    assert bench.document.undo_label is None


def test_a_new_ore_type_is_in_the_library_at_once(book, bench, library):
    book.begin(replace(demo_ores()[1], uid="fresh", name="fresh ore"))
    assert library.ore("fresh").name == "fresh ore"
    assert bench.work.recipe.ore.uid == "fresh"


def test_without_a_library_the_tree_is_what_lies_on_the_bench(qapp):
    bench = Bench(demo_work())
    book = Book(bench)
    assert list(recipes(book)) == ["First melt"]
    book.open_ore("nowhere")
    assert bench.work == demo_work()
