"""The command line: what it prints, and how it ends."""

import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from fluxlab import __version__, cli, resources
from fluxlab.design.edits import fix_weight, put_flux, put_mould, set_dry, set_mould_preheat, set_workshop
from fluxlab.design.recipe import Line, Work
from fluxlab.design.start import demo_work
from fluxlab.design.workshop import Workshop
from fluxlab.materials.flux_types import ByFormula, Component
from fluxlab.ore.ore_types import Grade, Share
from fluxlab.store import document
from fluxlab.store.report_document import read_ticket
from tests.works import equipped

Capture = pytest.CaptureFixture[str]
FELDSPAR = (Share("Orthoclase", 97.0), Share("Native silver", 3.0))
"""Nothing to reduce, nothing that dusts or fumes, and metal enough to come down by itself."""


@pytest.fixture(scope="module")
def demo() -> Work:
    return equipped(demo_work())


def put(folder: Path, work: Work) -> str:
    path = folder / "recipe.json"
    path.write_text(document.recipe_text(work), encoding="utf-8")
    return str(path)


@pytest.fixture
def file(tmp_path: Path, demo: Work) -> str:
    return put(tmp_path, demo)


@pytest.fixture
def conflict(tmp_path: Path, demo: Work) -> str:
    """A recipe whose musts cannot hold: nothing but sand is allowed."""
    sand = replace(demo, recipe=replace(demo.recipe, lines=(Line("silica-sand"),)))
    return put(tmp_path, sand)


@pytest.fixture
def damp(tmp_path: Path, demo: Work) -> str:
    """A recipe with two blocks that the operator may lift."""
    return put(tmp_path, set_mould_preheat(set_dry(demo, False)[1], None)[1])


@pytest.fixture
def mercury(tmp_path: Path, demo: Work) -> str:
    """A recipe with a block that nobody may lift."""
    ore = replace(demo.recipe.ore, minerals=(*demo.recipe.ore.minerals, Share("Cinnabar", 5.0)))
    return put(tmp_path, replace(demo, recipe=replace(demo.recipe, ore=ore)))


def said(capsys: Capture) -> str:
    """The one sentence on the error stream; nothing stands on the other."""
    out, err = capsys.readouterr()
    assert out == ""
    (line,) = err.splitlines()
    assert line.startswith("fluxlab: ")
    assert line.endswith((".", ")"))
    return line


def printed(capsys: Capture) -> Any:
    out, err = capsys.readouterr()
    assert err == ""
    return json.loads(out)


# What is printed


def test_the_example_is_a_recipe_that_the_other_commands_read(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, demo: Work
) -> None:
    assert cli.main(["example"]) == 0
    text = capsys.readouterr().out
    read = document.read_work(text)
    assert read.value is not None
    assert read.value.recipe.lines == demo.recipe.lines
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(text.encode())))
    assert cli.main(["solve", "-"]) == 0
    assert "Flux in all" in capsys.readouterr().out


def test_solve_prints_each_flux_with_its_weight_and_reason(capsys: Capture, file: str, demo: Work) -> None:
    from fluxlab.design.evaluate import evaluate

    report = evaluate(demo)
    assert cli.main(["solve", file]) == 0
    out = capsys.readouterr().out
    flat = " ".join(out.split())
    for line in report.lines:
        assert line.name in out
        assert f"{line.grams:.1f} g" in out
        assert " ".join(line.why.split()) in flat
    assert f"{report.flux_mass:.1f} g" in out


def test_the_report_shows_every_part_with_units(capsys: Capture, file: str) -> None:
    assert cli.main(["report", file]) == 0
    out = capsys.readouterr().out
    for part in ("Will it fit?", "Targets", "Slag ---", "Crucible ---", "Mould ---", "Cautions ---", "g/cm³", " mm"):
        assert part in out
    assert max(len(line) for line in out.splitlines()) <= 76


@pytest.mark.parametrize(
    ("words", "kind"),
    [(["solve"], "solution"), (["report"], "report"), (["check"], "findings"), (["ticket"], "ticket")],
)
def test_json_has_only_keys_that_are_described_each_with_its_unit(
    capsys: Capture, file: str, words: list[str], kind: str
) -> None:
    assert cli.main([*words, file, "--json"]) == 0
    plain = printed(capsys)
    assert (plain["fluxlab"], plain["kind"]) == (1, kind)
    told = set(re.findall(r"`([^`\n]+)`", resources.text("help/exchange.md")))
    assert set(_keys(plain[kind])) <= told


def _keys(plain: Any) -> Iterator[str]:
    if isinstance(plain, dict):
        for key, value in plain.items():
            yield key
            yield from _keys(value)
    elif isinstance(plain, list):
        for value in plain:
            yield from _keys(value)


def test_the_figures_of_the_json_are_those_of_the_report(capsys: Capture, file: str, demo: Work) -> None:
    from fluxlab.design.evaluate import evaluate

    report = evaluate(demo)
    cli.main(["report", file, "--json"])
    plain = printed(capsys)["report"]
    assert plain["flux_mass_g"] == pytest.approx(report.flux_mass, abs=1e-6)
    assert plain["charge_g"] == demo.recipe.charge
    assert plain["slag"]["volume_cm3"]["low"] == pytest.approx(report.slag.volume.low, rel=1e-9)
    assert [row["key"] for row in plain["targets"]] == [target.key for target in report.targets]
    assert report.ore.roast is not None
    assert [(g["gas"], g["volume_l"]) for g in plain["ore"]["roast"]["gases"]] == [
        (gas, pytest.approx(litres, rel=1e-9)) for gas, _, litres in report.ore.roast.gases
    ]


def test_the_ticket_is_printed_as_text_and_as_a_document(capsys: Capture, file: str) -> None:
    assert cli.main(["ticket", file]) == 0
    text = capsys.readouterr().out
    assert "Weigh-out ticket" in text
    assert cli.main(["ticket", file, "--json"]) == 0
    read = read_ticket(capsys.readouterr().out)
    assert read.value is not None
    for row in read.value.rows:
        assert read.value.weight_text(row.grams) in text


def test_a_fixed_weight_is_marked_as_fixed(capsys: Capture, tmp_path: Path, demo: Work) -> None:
    assert cli.main(["solve", put(tmp_path, fix_weight(demo, "borax-glass", 77.7)[1])]) in (0, 1)
    assert "77.7 g fixed" in capsys.readouterr().out


def test_nothing_against_a_recipe_is_said_too(capsys: Capture, tmp_path: Path, demo: Work) -> None:
    card = Workshop(
        indoors=False, fuel="electric", alone=False, minor=False, ppe=True, disposal="kept for a licensed site"
    )
    bare = replace(demo.recipe.ore, minerals=FELDSPAR, silver=Grade(3.0, "%"), gold=None)
    recipe = replace(demo.recipe, ore=bare, lines=(Line("borax-glass", 150.0),), targets=(), charge=100.0)
    plain = replace(demo, recipe=recipe, shelf=replace(demo.shelf, workshop=card))
    assert cli.main(["check", put(tmp_path, plain)]) == 0
    assert capsys.readouterr().out == "Nothing stands against this recipe.\n"


# How it ends


@pytest.mark.parametrize("command", ["solve", "report", "check"])
def test_targets_that_gave_way_end_with_one(capsys: Capture, conflict: str, command: str) -> None:
    assert cli.main([command, conflict]) == 1
    assert re.search(r"^! ", capsys.readouterr().out, re.M)


def test_what_gave_way_stands_in_the_json(capsys: Capture, conflict: str) -> None:
    assert cli.main(["solve", conflict, "--json"]) == 1
    solve = printed(capsys)["solution"]["solve"]
    assert solve["status"] != "ok"
    assert solve["gave_way"] or solve["sentences"]
    assert cli.main(["check", conflict, "--json"]) == 1
    assert printed(capsys)["findings"]["missed"]


@pytest.mark.parametrize("command", ["solve", "report", "check", "ticket"])
@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b'{"fluxlab": 1, "kind": "rec', "cut off"),
        (b"borax 100 g", "cut off"),
        (b'{"fluxlab": 2, "kind": "recipe", "recipe": {}}', "Update the program"),
        (b'{"fluxlab": 1, "kind": "recipe", "recipe": {"uid": "x"}}', "recipe.name is missing"),
        (b'{"fluxlab": 1, "kind": "shelf", "shelf": {}}', "exported as recipe"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"[]", "no fluxlab document"),
    ],
)
def test_bad_input_ends_with_two_and_a_sentence(
    capsys: Capture, tmp_path: Path, command: str, content: bytes, words: str
) -> None:
    path = tmp_path / "recipe.json"
    path.write_bytes(content)
    code = cli.main([command, str(path)])
    assert code == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert str(path) in err
    assert command == "check" or len(err.splitlines()) == 1


@pytest.mark.parametrize(("charge", "words"), [(-3, "at least 0"), ("1,5 kg", "must be a number"), (None, "null")])
def test_a_bad_weight_is_named_with_its_place(
    capsys: Capture, tmp_path: Path, demo: Work, charge: object, words: str
) -> None:
    plain = json.loads(document.recipe_text(demo))
    plain["recipe"]["charge_g"] = charge
    path = tmp_path / "recipe.json"
    path.write_text(json.dumps(plain))
    assert cli.main(["solve", str(path)]) == 2
    line = said(capsys)
    assert "recipe.charge_g" in line
    assert words in line


def test_check_names_every_bad_place(capsys: Capture, tmp_path: Path, demo: Work) -> None:
    plain = json.loads(document.recipe_text(demo))
    plain["recipe"] |= {"charge_g": -1, "hold_min": "ten"}
    path = tmp_path / "recipe.json"
    path.write_text(json.dumps(plain))
    assert cli.main(["solve", str(path)]) == 2
    assert "(1 more; “fluxlab check” lists them)" in said(capsys)
    assert cli.main(["check", str(path)]) == 2
    first, second = capsys.readouterr().err.splitlines()
    assert "recipe.charge_g must be at least 0" in first
    assert "recipe.hold_min must be a number" in second


def test_odd_but_readable_recipes_end_in_an_answer(capsys: Capture, tmp_path: Path, demo: Work) -> None:
    ore = replace(demo.recipe.ore, minerals=(Share("Quartz", 90.0), Share("Galena", 40.0), Share("Moonstone", 1.0)))
    odd = replace(demo, recipe=replace(demo.recipe, ore=ore, charge=0.0, crucible="gone", mould="gone"))
    for command in ("solve", "report", "check"):
        assert cli.main([command, put(tmp_path, odd), "--json"]) in (0, 1, 4)
        text = capsys.readouterr().out
        assert "NaN" not in text
        assert "Infinity" not in text


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["cook"], "invalid choice"),
        (["solve"], "required: FILE"),
        (["solve", "a", "b"], "unrecognized arguments: b"),
        (["--nonsense"], "required: COMMAND"),
        (["solve", "no such file.json"], "it is not there"),
        (["ticket", "x", "--paper", "a3"], "invalid choice: 'a3'"),
    ],
)
def test_a_wrong_command_ends_with_two_and_a_sentence(capsys: Capture, words: list[str], sentence: str) -> None:
    assert cli.main(words) == 2
    assert sentence in said(capsys)


def test_a_folder_is_no_recipe(capsys: Capture, tmp_path: Path) -> None:
    assert cli.main(["solve", str(tmp_path)]) == 2
    assert re.search(r"it is a folder|may not be touched", said(capsys))


def test_more_than_a_recipe_on_standard_input_is_refused(capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cli, "SIZE_LIMIT", 100)
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(b"x" * 101)))
    assert cli.main(["solve", "-"]) == 2
    assert "larger than" in said(capsys)


def test_version_and_help_are_told(capsys: Capture) -> None:
    for words in (["--version"], ["--help"], ["ticket", "--help"]):
        with pytest.raises(SystemExit) as ended:
            cli.main(words)
        assert ended.value.code == 0
    assert __version__ in capsys.readouterr().out


def test_no_command_opens_the_window(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "fluxlab.__main__", SimpleNamespace(main=lambda: 7))
    assert cli.main([]) == 7


def test_a_fault_of_the_program_is_not_taken_for_bad_input(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch, file: str
) -> None:
    def broken(_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("fluxlab.design.evaluate.evaluate", broken)
    assert cli.main(["solve", file]) == 70
    assert "fault of the program" in capsys.readouterr().err


# Cautions


def test_gear_that_is_not_stated_stops_the_ticket_and_one_word_lets_it_out(tmp_path: Path, capsys: Capture) -> None:
    fresh = put(tmp_path, demo_work())
    assert cli.main(["ticket", fresh]) == 4
    assert "confirm it with --confirm R50" in said(capsys)
    assert cli.main(["ticket", fresh, "--confirm", "R50"]) == 0
    assert "Confirmed." in capsys.readouterr().out


def test_a_block_stops_the_ticket_in_every_form(capsys: Capture, tmp_path: Path, damp: str) -> None:
    pdf = tmp_path / "ticket.pdf"
    for form in ([], ["--json"], ["--pdf", str(pdf)]):
        assert cli.main(["ticket", damp, *form]) == 4
        out, err = capsys.readouterr()
        assert out == ""
        assert [re.findall(r"R\d\d", line)[0] for line in err.splitlines()] == ["R01", "R02"]
        assert "--confirm R01" in err
    assert not pdf.exists()


def test_what_the_operator_confirms_no_longer_stops_it(capsys: Capture, damp: str) -> None:
    assert cli.main(["ticket", damp, "--confirm", "R02"]) == 4
    assert "R02" not in capsys.readouterr().err
    for words in ("R01,R02", "r02 R01", "R01, R02"):
        assert cli.main(["ticket", damp, "--confirm", words]) == 0
        assert capsys.readouterr().out.count("Confirmed.") == 2


def test_what_nobody_may_lift_stays(capsys: Capture, mercury: str) -> None:
    assert cli.main(["ticket", mercury, "--confirm", "R15"]) == 4
    out, err = capsys.readouterr()
    assert out == ""
    assert "R15" in err
    assert "--confirm" not in err


def test_mercury_stops_the_ticket_in_every_form_whatever_else_is_confirmed_with_it(
    capsys: Capture, tmp_path: Path, mercury: str
) -> None:
    pdf = tmp_path / "ticket.pdf"
    for form in ([], ["--json"], ["--pdf", str(pdf)]):
        assert cli.main(["ticket", mercury, "--confirm", "R15", *form]) == 4
        assert "stopped by R15 Mercury" in said(capsys)
    assert not pdf.exists()
    assert cli.main(["check", mercury, "--confirm", "R15"]) == 4
    assert "!! R15" in capsys.readouterr().out


def test_a_mould_without_room_stops_the_ticket_until_it_is_confirmed(
    capsys: Capture, tmp_path: Path, demo: Work
) -> None:
    mould = demo.shelf.mould(demo.recipe.mould)
    assert mould is not None
    shallow = put(tmp_path, put_mould(demo, replace(mould, depth=70.0))[1])
    assert cli.main(["ticket", shallow]) == 4
    assert "confirm it with --confirm R04" in said(capsys)
    assert cli.main(["check", shallow]) == 4
    assert "!! R04" in capsys.readouterr().out
    assert cli.main(["ticket", shallow, "--confirm", "R04"]) in (0, 1)
    assert "ladle off slag before the pour. Confirmed." in " ".join(capsys.readouterr().out.split())
    assert cli.main(["ticket", put(tmp_path, demo)]) == 0
    assert "Mould room" not in capsys.readouterr().out


@pytest.mark.parametrize(("minutes", "fires"), [(9.9, True), (10.0, False)])
def test_a_mould_that_is_opened_early_is_said_and_stops_nothing(
    capsys: Capture, tmp_path: Path, demo: Work, minutes: float, fires: bool
) -> None:
    early = set_workshop(demo, replace(demo.shelf.workshop, mould_opened_after=minutes))[1]
    assert cli.main(["ticket", put(tmp_path, early)]) == 0
    assert ("Spalling slag" in capsys.readouterr().out) is fires
    assert cli.main(["check", put(tmp_path, early)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert ("R42" in out) is fires
    assert ("opened after 9.9 min" in out) is fires


@pytest.mark.parametrize(
    ("moisture", "after", "words"),
    [(100.0, None, "A moisture of 100 % is not possible"), (0.0, 140.0, "it grew by 40.0 %")],
)
def test_an_impossible_figure_stands_on_the_ticket_that_goes_out(
    capsys: Capture, tmp_path: Path, demo: Work, moisture: float, after: float | None, words: str
) -> None:
    recipe = replace(demo.recipe, ore=replace(demo.recipe.ore, moisture=moisture))
    if after is not None:
        recipe = replace(recipe, roast=replace(recipe.roast, kind="weighed", before=100.0, after=after))
    assert cli.main(["ticket", put(tmp_path, replace(demo, recipe=recipe))]) == 1
    out, err = capsys.readouterr()
    assert err == ""
    assert words in " ".join(out.split())


@pytest.mark.parametrize("command", ["ticket", "check"])
def test_what_does_not_stop_this_recipe_cannot_be_confirmed(
    command: str, capsys: Capture, tmp_path: Path, damp: str, demo: Work
) -> None:
    assert cli.main([command, damp, "--confirm", "R01,R02,R03,R18"]) == 2
    words = "--confirm: R03, R18 do not stop this recipe; what stops it: R01 Damp, R02 Mould."
    assert said(capsys) == f"fluxlab: {words}"
    assert cli.main([command, put(tmp_path, demo), "--confirm", "R39"]) == 2
    assert said(capsys) == "fluxlab: --confirm: R39 does not stop this recipe; what stops it: nothing."


def test_a_rule_that_is_not_there_cannot_be_confirmed(capsys: Capture, damp: str) -> None:
    assert cli.main(["ticket", damp, "--confirm", "R01,R99,all"]) == 2
    assert "no rule ALL, R99" in said(capsys)


def test_check_says_what_blocks(capsys: Capture, damp: str) -> None:
    assert cli.main(["check", damp]) == 4
    assert "!! R01" in capsys.readouterr().out
    assert cli.main(["check", damp, "--json", "--confirm", "R01"]) == 4
    assert printed(capsys)["findings"]["blocks"] == ["R02"]
    assert cli.main(["check", damp, "--confirm", "R01,R02"]) == 0


def test_a_block_does_not_hide_the_report(capsys: Capture, damp: str) -> None:
    assert cli.main(["report", damp]) == 0
    assert cli.main(["solve", damp]) == 0
    assert "R01" in capsys.readouterr().out


def test_a_paper_without_a_pdf_is_asked_about(capsys: Capture, file: str) -> None:
    assert cli.main(["ticket", file, "--paper", "a4"]) == 2
    assert "--paper belongs to --pdf" in said(capsys)


def test_a_flux_of_ones_own_is_solved_like_any_other(capsys: Capture, tmp_path: Path, demo: Work) -> None:
    own = Component("own", "Own soda", ByFormula("Na2CO3"), price=2.0, stock=5.0)
    work = put_flux(demo, own)[1]
    lines = tuple(replace(line, flux="own") if line.flux.startswith("soda") else line for line in work.recipe.lines)
    assert cli.main(["solve", put(tmp_path, replace(work, recipe=replace(work.recipe, lines=lines)))]) in (0, 1)
    out = capsys.readouterr().out
    assert "Own soda" in out


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [(["--help"], 0, "usage"), (["reprot"], 2, "invalid choice"), (["report"], 2, "required")],
)
def test_a_command_to_the_module_is_run_without_a_window(words: list[str], code: int, said: str) -> None:
    environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    told = subprocess.run(
        [sys.executable, "-m", "fluxlab", *words],
        env=environment,
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert told.returncode == code
    assert said in told.stdout + told.stderr
