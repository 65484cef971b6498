from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester

from fluxlab.gui.ore.tree import NO_GROUP, OreEntry, RecipeEntry, grouped, searched
from fluxlab.gui.ore.tree_model import OreTreeModel, Role

ORES = (
    OreEntry(
        "b", "black sand", "Kettle Drift", "", (RecipeEntry("r1", "Soda slag, 300 g"), RecipeEntry("r2", "Nitre"))
    ),
    OreEntry("t", "table concentrate", "Tamarack Bench", "1 recipe", (RecipeEntry("r3", "Lead collection"),)),
    OreEntry("h", "Hand-picked sulphide", "Tamarack Bench", "no recipe yet"),
    OreEntry("x", "crucible wash", "", "no recipe yet"),
)  # fmt: skip


def drawn(groups) -> str:
    lines = []
    for group in groups:
        lines.append(group.name)
        for ore in group.ores:
            lines += [f"  {ore.name}", *(f"    {recipe.name}" for recipe in ore.recipes)]
    return "\n".join(lines)


def test_ore_types_stand_by_group_and_name_and_those_without_a_group_last():
    assert drawn(grouped(ORES)) == (
        "Kettle Drift\n"
        "  black sand\n"
        "    Soda slag, 300 g\n"
        "    Nitre\n"
        "Tamarack Bench\n"
        "  Hand-picked sulphide\n"
        "  table concentrate\n"
        "    Lead collection\n"
        f"{NO_GROUP}\n"
        "  crucible wash"
    )


def test_a_search_for_an_ore_type_keeps_its_recipes():
    assert drawn(searched(grouped(ORES), "black")) == "Kettle Drift\n  black sand\n    Soda slag, 300 g\n    Nitre"


def test_a_search_for_a_recipe_keeps_that_recipe_only():
    assert drawn(searched(grouped(ORES), "soda kettle")) == "Kettle Drift\n  black sand\n    Soda slag, 300 g"


def test_every_word_must_be_found_and_nothing_found_is_an_empty_tree():
    assert searched(grouped(ORES), "soda tamarack") == ()
    assert searched(grouped(ORES), "  ") == grouped(ORES)


def test_the_tree_model_keeps_the_rules_of_item_models(qapp):
    model = OreTreeModel()
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.fill(grouped(ORES))
    model.fill(searched(grouped(ORES), "nitre"))
    model.fill(())
    model.fill(grouped(ORES))
    assert tester.model() is model
    assert model.rowCount() == 3
    assert model.flags(QModelIndex()) == Qt.ItemFlag.NoItemFlags


def test_groups_are_headings_that_cannot_be_chosen(qapp):
    model = OreTreeModel()
    model.fill(grouped(ORES))
    assert not model.index(0, 0).flags() & Qt.ItemFlag.ItemIsSelectable
    ore = model.index(0, 0, model.index(0, 0))
    assert ore.flags() & Qt.ItemFlag.ItemIsSelectable
    assert ore.data(Qt.ItemDataRole.AccessibleTextRole) == "black sand"
    other = model.index(0, 0, model.index(1, 0))
    assert other.data(Qt.ItemDataRole.AccessibleTextRole) == "Hand-picked sulphide, no recipe yet"


def test_a_recipe_is_found_by_its_id_under_its_ore_type(qapp):
    model = OreTreeModel()
    model.fill(grouped(ORES))
    index = model.index_of("recipe", "r3")
    assert index.data() == "Lead collection"
    assert index.parent().data(Role.UID) == "t"
    assert not model.index_of("recipe", "gone").isValid()


def test_an_index_kept_from_an_older_tree_does_no_harm(qapp):
    model = OreTreeModel()
    model.fill(grouped(ORES))
    old = model.index(0, 0, model.index(2, 0))
    model.fill(())
    assert model.node(old) is None
    assert model.data(old) is None
