"""Ways out, reasons and the safer recipe: worked out when asked for, and taken over with one click."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fluxlab.design.gas_text import given_off
from fluxlab.design.recipe import Target
from fluxlab.design.start import demo_work
from fluxlab.gui.bridge import Bench
from fluxlab.gui.flux.place import FluxPlace
from fluxlab.gui.flux.plates import NO_WAY, WaysOut, Why
from fluxlab.gui.flux.pot_part import lines_of, said_of
from fluxlab.gui.flux.story import Story, rows_of
from fluxlab.gui.tables.page import TOP
from fluxlab.gui.widgets.buttons import Button
from fluxlab.gui.widgets.words import Words
from fluxlab.issue import Issue, Severity


@pytest.fixture
def place(qtbot) -> FluxPlace:
    made = FluxPlace(Bench(demo_work()))
    qtbot.addWidget(made)
    made.resize(1226, 724)
    made.show()
    return made


def said(plate) -> str:
    return "\n".join(words.words for words in plate.findChildren(Words))


def fight(place: FluxPlace) -> None:
    """A degree and a borate share that no recipe of these fluxes has together."""
    degree = next(t for t in place.bench.work.recipe.targets if t.key == "degree")
    place.bench.do("set_target", replace(degree, lo=4.0, hi=5.0, hi_kind="must"))
    place.bench.do("set_target", Target("borate", lo=0.6, hi=0.7))
    place.bench.flush()


def test_where_everything_holds_there_is_nothing_to_mend(place) -> None:
    place.slag.holds.show_ways_out()
    plate = place.findChild(WaysOut)
    assert NO_WAY in said(plate)
    assert plate.findChildren(Button) == []


def test_a_way_out_taken_over_lets_every_must_hold_and_is_one_step_to_undo(place, qtbot) -> None:
    fight(place)
    assert place.bench.report.solve.status == "relaxed"
    before = place.bench.work
    place.slag.holds.show_ways_out()
    plate = place.findChild(WaysOut)
    first = plate.findChildren(Button)[0]
    qtbot.mouseClick(first, Qt.MouseButton.LeftButton)
    place.bench.flush()
    assert place.bench.report.solve.status == "ok"
    place.bench.undo()
    assert place.bench.work == before


def test_a_broken_must_offers_the_ways_out_from_its_verdict(place, qtbot) -> None:
    fight(place)
    melt = place.strip.cells[0]
    assert melt.button.text() == "Ways out"
    qtbot.mouseClick(melt.button, Qt.MouseButton.LeftButton)
    assert place.findChild(WaysOut) is not None


def test_the_reasons_name_every_flux_and_the_limits_that_hold(place) -> None:
    place.slag.holds.show_reasons()
    told = said(place.findChild(Why))
    for line in place.bench.report.lines:
        assert line.name in told
    assert "Opening flux to ore" in told
    assert "One more gram of SiO2" in told


def test_the_story_of_the_chance_lists_every_limit_the_least_likely_must_first(place) -> None:
    report = place.bench.report
    assert report.chance is not None
    rows = rows_of(report, "sure")
    assert len(rows) == len(report.chance.limits)
    musts = [row.chance for row in report.chance.limits if row.kind == "must"]
    assert musts == sorted(musts)


def test_a_safer_recipe_is_looked_for_when_asked_and_taken_with_one_click(place) -> None:
    zinc = next(t for t in place.bench.work.recipe.targets if t.key == "cap:ZnO")
    now = next(t.value for t in place.bench.report.targets if t.key == "cap:ZnO")
    place.bench.do("set_target", replace(zinc, hi=1.02 * now))
    place.bench.flush()
    before = place.bench.report.chance.musts
    assert before < 0.8
    story = Story(place.bench.report, "sure", place)
    story.mended.connect(lambda mend: place.bench.do(mend.edit, *mend.arguments))
    story.ask_for_safer()
    take = next(b for b in story.findChildren(Button) if not b.isHidden() and b.text().startswith("Make it safer ("))
    take.click()
    place.bench.flush()
    assert place.bench.report.chance.musts > before


def test_the_pot_is_told_line_by_line_with_the_places_of_the_silver(place) -> None:
    pot = place.bench.report.pot
    names = [line.words for line in lines_of(pot)]
    assert {"Reducers to demand", "Button", "Silver in the button", "Hold", "Time to the pour"} <= set(names)
    assert any(name.startswith("Silver: dissolved") for name in names)
    assert pot.button.sentence in said_of(pot)
    assert f"Gas, cold: {given_off(pot.gas)}." in said_of(pot)
    assert "from 750 to 1000 °C" in given_off(pot.gas)
    assert place.slag.pot.lines.accessibleName().startswith("In the pot: Reducers to demand")


def test_the_pot_says_nothing_twice_and_rounds_as_the_answer_above_does(place) -> None:
    report = place.bench.report
    pot = report.pot
    told = Issue(Severity.WARNING, "lines", "There is 9.00 times the reducer.", "Take less of it.")
    doubled = replace(pot, redox=replace(pot.redox, sentence=f"{told.sentence} The pot is neutral."), issues=(told,))
    said = said_of(doubled)
    assert said.count("times the reducer") == 1
    assert said.splitlines()[0] == "There is 9.00 times the reducer. The pot is neutral. Take less of it."
    (button,) = [line for line in lines_of(pot) if line.words == "Button"]
    metal = next(verdict for verdict in report.verdicts if verdict.key == "metal")
    assert metal.figure == f"{button.figure} g button"
    assert metal.reason.startswith(f"{button.note.replace(' – ', ' to ')} g; ")


def test_the_story_of_the_metal_tells_where_the_silver_ends(place) -> None:
    titles = [title for _, title, _ in rows_of(place.bench.report, "metal")]
    assert titles[0] == "Button"
    assert any(title.startswith("Silver: ") for title in titles)


@pytest.mark.parametrize("height", [640, 724])
def test_second_lines_of_targets_give_way_exactly_where_that_makes_room_on_every_route(place, height) -> None:
    place.resize(1226, height)
    for route in ("iron", "lead collection", "nitre", "roast and melt"):
        place.bench.do("set_route", route)
        place.bench.flush()
        place.refresh()
        view = place.targets.view
        seen = view.tight
        QApplication.processEvents()
        rest = place.left.content_height(place.left.width()) - view.minimumHeight()
        room = place.page.height() - TOP
        wanted = rest + view.height_for(tight=False) > room >= rest + view.height_for(tight=True)
        assert seen is wanted, route


def typed(field, text: str) -> None:
    field.setText(text)
    field.setModified(True)
    field.commit()


def test_own_limits_for_crystals_move_the_warning_and_are_called_judgement(place) -> None:
    part = place.slag.own_crystals
    part.set_folded(False)
    names = [crystal.name for crystal in place.bench.report.fluid.crystals]
    assert not any(name.startswith("Willemite") for name in names)
    for end, value in (("ZnO|starts", "1"), ("ZnO|full", "2"), ("SiO2|starts", "5"), ("SiO2|full", "10")):
        typed(part.fields[f"Willemite (zinc silicate)|{end}"], value)
    typed(part.fields["Willemite (zinc silicate)||high"], "1300")
    place.bench.flush()
    willemite = next(c for c in place.bench.report.fluid.crystals if c.name.startswith("Willemite"))
    assert willemite.judgement
    assert willemite.high == 1300.0
    assert any("Willemite" in issue.sentence for issue in place.bench.report.fluid.issues)
