"""The program from its start to its end: what is imported when, where it opens, what it says when it cannot."""

import json
import os
import socket
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from fluxlab.gui import theme
from fluxlab.gui.app import Program, display_problem
from fluxlab.gui.widgets.fields import Field
from fluxlab.gui.widgets.panel import Panel
from fluxlab.store import settings as window_settings
from fluxlab.store.library import Library

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("numpy", "pint", "pyqtgraph", "periodictable", "daqp", "sqlite3", "fluxlab.blend", "fluxlab.materials.fluxes")


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FLUXLAB_HOME", str(tmp_path / "home"))
    yield tmp_path / "home"
    theme.start_with("system", 100)
    sys.excepthook = sys.__excepthook__


@pytest.fixture
def start(home, qtbot):
    programs = []

    def begin(*files):
        program = Program(list(files))
        qtbot.addWidget(program.window)
        program.start()
        qtbot.waitUntil(lambda: program.window.bench is not None, timeout=10000)
        qtbot.waitUntil(lambda: "first_recipe" in program._moments, timeout=10000)
        programs.append(program)
        return program

    yield begin
    for program in programs:
        program.window.close()


def run_python(code, **environment):
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def test_nothing_heavy_is_imported_before_the_first_paint(tmp_path):
    code = (
        "import sys\n"
        "from PySide6.QtWidgets import QApplication\n"
        "app = QApplication(['fluxlab', '-style', 'Fusion'])\n"
        "from fluxlab.gui.app import Program\n"
        "program = Program([])\n"
        "program.open = lambda: (print(sorted(n for n in sys.modules if n in HEAVY)), app.quit())\n"
        f"HEAVY = {HEAVY!r}\n"
        "program.start()\n"
        "app.exec()\n"
    )
    told = run_python(code, FLUXLAB_HOME=str(tmp_path), QT_QPA_PLATFORM="offscreen")
    assert told.returncode == 0, told.stderr
    assert told.stdout.strip() == "[]"


def test_pyqtgraph_and_pint_are_not_needed_to_show_the_first_recipe(tmp_path):
    code = (
        "import sys\n"
        "from fluxlab.gui.app import run\n"
        "run([])\n"
        "print(sorted(n for n in sys.modules if n in ('pint', 'pyqtgraph', 'scipy')))\n"
    )
    told = run_python(code, FLUXLAB_HOME=str(tmp_path), QT_QPA_PLATFORM="offscreen", FLUXLAB_EXIT_AFTER_PAINT="1")
    assert told.returncode == 0, told.stderr
    assert told.stdout.strip().splitlines()[-1] == "[]"


def test_the_probe_prints_both_moments_and_quits(tmp_path):
    told = subprocess.run(
        [sys.executable, "-m", "fluxlab"],
        cwd=ROOT,
        env={
            **os.environ,
            "FLUXLAB_HOME": str(tmp_path),
            "QT_QPA_PLATFORM": "offscreen",
            "FLUXLAB_EXIT_AFTER_PAINT": "1",
        },
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    moments = json.loads(told.stdout.strip().splitlines()[-1])
    assert set(moments) == {"first_paint", "first_recipe"}
    assert moments["first_paint"] < moments["first_recipe"]


def test_no_display_is_one_sentence_and_an_exit_code():
    bare = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    told = subprocess.run(
        [sys.executable, "-m", "fluxlab"], cwd=ROOT, env=bare, capture_output=True, text=True, timeout=60, check=False
    )
    assert told.returncode == 3
    assert told.stderr.count("\n") == 1
    assert told.stderr.startswith("There is no display")


def test_a_toolkit_that_does_not_load_is_one_sentence_and_an_exit_code():
    code = "import sys; sys.modules['PySide6.QtWidgets'] = None; from fluxlab.gui.app import run; sys.exit(run([]))"
    told = run_python(code, QT_QPA_PLATFORM="offscreen")
    assert told.returncode == 3
    assert told.stderr.count("\n") == 1
    assert told.stderr.startswith("The window toolkit cannot be loaded")


@pytest.mark.parametrize(
    ("environ", "platform"),
    [
        ({"QT_QPA_PLATFORM": "offscreen"}, "linux"),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux"),
        ({}, "win32"),
        ({}, "darwin"),
        ({"DISPLAY": "somewhere:10.0"}, "linux"),
    ],
)
def test_a_display_that_may_work_is_tried(environ, platform):
    assert display_problem(environ, platform) == ""


@pytest.mark.skipif(not hasattr(socket, "AF_UNIX"), reason="no local sockets here")
def test_a_display_that_does_not_answer_is_said():
    assert "does not answer" in display_problem({"DISPLAY": ":98765"}, "linux")


def test_the_first_start_shows_the_demo_with_a_finished_recipe(start):
    program = start()
    report = program.bench.report
    assert program.window.current == "Flux"
    assert report.flux_mass > 0
    assert len(report.verdicts) == 5
    assert program.window.places["Flux"].isVisible()
    assert program.bench.save_words == "Save as revision 1"


def test_the_program_comes_back_to_the_recipe_the_place_and_the_size_it_was_left_at(start, home):
    first = start()
    first.window.resize(780, 640)
    first.bench.do("fix_weight", "silica-sand", 12.5)
    first.window.go("Shelf")
    first.window.close()
    second = start()
    assert second.bench.work.recipe == first.bench.work.recipe
    assert second.window.current == "Shelf"
    assert (second.window.width(), second.window.height()) == (780, 640)
    assert not second.bench.document.undo_label


def test_a_weight_being_typed_when_the_window_closes_is_not_lost(start):
    first = start()
    table = first.window.places["Flux"].table
    table.view.setCurrentIndex(table.model.index(1, 1))
    table.view.setFocus()
    QTest.keyClicks(table.view, "4")
    QTest.keyClicks(table.view.viewport().findChild(Field), "1.5")
    first.window.close()
    second = start()
    assert second.bench.work.recipe.lines[1].grams == 41.5


def test_a_weight_being_typed_is_part_of_what_is_saved(start):
    program = start()
    table = program.window.places["Flux"].table
    table.view.setCurrentIndex(table.model.index(1, 1))
    table.view.setFocus()
    QTest.keyClicks(table.view, "4")
    QTest.keyClicks(table.view.viewport().findChild(Field), "1.5")
    program.window.save()
    assert program.bench.document.saved.recipe.lines[1].grams == 41.5
    assert program.bench.revision == 1
    assert not program.bench.save_words


def test_undo_while_typing_takes_back_what_was_typed(start):
    program = start()
    before = program.bench.work
    table = program.window.places["Flux"].table
    table.view.setCurrentIndex(table.model.index(1, 1))
    table.view.setFocus()
    QTest.keyClicks(table.view, "4")
    program.window.undo()
    assert program.bench.work == before
    assert program.bench.document.redo_label


def test_a_bad_settings_file_costs_nothing_but_a_log_line(start, home, caplog):
    home.mkdir(parents=True)
    (home / "settings.json").write_text('{"theme": 7, "geometry": "??", "place": "the moon"', encoding="utf-8")
    program = start()
    assert program.window.current == "Flux"


def test_a_window_left_on_a_screen_that_is_gone_opens_where_it_can_be_seen(start, home):
    first = start()
    first.window.move(100, 100)
    first.window.close()
    left = window_settings.load(home / "settings.json")
    assert left.geometry
    second = start()
    screen = QApplication.primaryScreen().availableGeometry()
    assert screen.intersects(second.window.frameGeometry())


def test_a_library_of_a_newer_program_is_refused_and_the_window_works_without_it(start, home):
    import sqlite3

    home.mkdir(parents=True)
    path = home / "library.sqlite"
    with Library.open(path):
        pass
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 99")
    before = path.read_bytes()
    program = start()
    assert program.window.notice.sentence
    assert program.bench.report.flux_mass > 0
    assert program.bench.status == "kept in this window only: export it"
    program.window.close()
    assert path.read_bytes() == before


def test_two_windows_on_one_library_keep_their_own_drafts(start, home):
    first = start()
    first.bench.save()
    second = start()
    first.bench.do("fix_weight", "silica-sand", 10.0)
    second.bench.do("fix_weight", "silica-sand", 20.0)
    first.bench.keep_draft()
    second.bench.keep_draft()
    weights = {
        d.token: first.bench.library.load_draft(d.recipe, d.token).work.recipe.lines[2].grams
        for d in first.bench.library.drafts()
    }
    assert sorted(weights.values()) == [10.0, 20.0]


def test_a_recipe_file_named_at_the_start_is_laid_out(start, tmp_path):
    first = start()
    first.bench.do("rename_recipe", "From a file")
    path = tmp_path / "it.fluxlab"
    first.bench.export_to(path)
    first.window.close()
    second = start(str(path))
    assert second.bench.work.recipe.name.startswith("From a file")


def test_our_own_fault_is_told_and_the_work_is_kept(start, home, capsys):
    program = start()
    program.bench.do("fix_weight", "silica-sand", 33.0)
    try:
        raise RuntimeError("a fault made for this test")
    except RuntimeError as fault:
        sys.excepthook(type(fault), fault, fault.__traceback__)
    assert "Something went wrong in the program itself" in program.window.notice.sentence
    assert "a fault made for this test" in (home / "fault.txt").read_text(encoding="utf-8")
    assert program.bench.library.drafts()
    capsys.readouterr()


def test_every_place_opens_by_key_and_paints(start):
    program = start()
    window = program.window
    window.activateWindow()
    for number, name in enumerate(window.run.stops, 1):
        QTest.keyClick(window, Qt.Key(Qt.Key.Key_0 + number), Qt.KeyboardModifier.ControlModifier)
        if window.current != name:  # offscreen, a window that is not active gets no shortcuts
            window.go(name)
        assert window.places[name].isVisible()
        assert not window.grab().isNull()


def test_a_plate_closes_when_its_place_is_left(start):
    window = start().window
    window.go("Ore")
    window.places["Ore"].new_ore_type()
    assert any(plate.isVisible() for plate in window.findChildren(Panel))
    QTest.keyClick(window, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert window.current == "Flux"
    assert not any(plate.isVisible() for plate in window.findChildren(Panel))


def test_the_menu_offers_what_the_bench_can_do(start):
    from fluxlab.gui.main_menu import main_menu

    program = start()
    menu = main_menu(program.window, program.bench)
    words = [action.text() for action in menu.actions() if action.text()]
    for wanted in (
        "New ore type…", "Open a recipe…", "Duplicate this recipe", "Save as revision 1", "Undo", "Redo",
        "Export as a file…", "Import a file…", "Back up the library…", "Colours", "Text size", "Big text", "Keys",
        "About fluxlab", "Close",
    ):  # fmt: skip
        assert wanted in words
    undo = next(action for action in menu.actions() if action.text() == "Undo")
    assert not undo.isEnabled()
    menu.deleteLater()


def test_big_text_is_one_click_and_comes_back_at_the_next_start(start):
    from fluxlab.gui.main_menu import main_menu

    program = start()
    menu = main_menu(program.window, program.bench)
    next(action for action in menu.actions() if action.text() == "Big text").trigger()
    assert theme.text_size() == 130
    program.window.close()
    menu.deleteLater()
    theme.start_with("system", 100)
    start()
    assert theme.text_size() == 130


def test_the_keys_are_listed(start):
    from fluxlab.gui.help import KeysPanel

    program = start()
    panel = KeysPanel(program.window)
    panel.open_at(program.window.top.menu_button)
    words = " ".join(child.accessibleName() for child in panel.findChildren(QWidget))
    assert "Ctrl+Z, Ctrl+Y" in words
    panel.shut()
    assert panel.isHidden()


def test_about_opens_from_the_menu(start):
    from fluxlab.gui.about import AboutPanel
    from fluxlab.gui.main_menu import main_menu

    program = start()
    menu = main_menu(program.window, program.bench)
    next(action for action in menu.actions() if action.text() == "About fluxlab").trigger()
    assert program.window.findChild(AboutPanel).isVisible()
    menu.deleteLater()


def test_the_decimal_mark_is_chosen_in_the_menu_and_kept(start, home):
    from fluxlab.gui.main_menu import _set_mark
    from fluxlab.gui.widgets import fields

    program = start()
    try:
        _set_mark(program.window, "comma")
        table = program.window.places["Flux"].table
        assert "," in table.model.data(table.model.index(0, 1))
        assert "," in table.total.figures[0]
        program.window.close()
        assert window_settings.load(home / "settings.json").decimals == "comma"
        fields.choose_decimal_mark("")
        second = start()
        assert "," in second.window.places["Flux"].table.total.figures[0]
    finally:
        fields.choose_decimal_mark("")


def test_a_window_that_comes_to_the_front_sees_what_another_one_kept(start, qtbot):
    first = start()
    second = start()
    second.bench.save()
    with qtbot.waitSignal(first.bench.kept, timeout=2000):
        first.bench.look_around()
    with qtbot.assertNotEmitted(first.bench.kept, wait=50):
        first.bench.look_around()
