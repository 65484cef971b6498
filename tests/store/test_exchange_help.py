"""The shipped description of the documents says exactly what the program reads and writes."""

import re
from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from typing import Any, Literal, get_args, get_origin

import pytest

from fluxlab import cli, resources
from fluxlab.design import (
    chance_types,
    fluid_types,
    pot_types,
    recipe,
    report_types,
    ticket,
    ticket_facts,
    ticket_rows,
    workshop,
)
from fluxlab.issue import Issue
from fluxlab.learn import melt as learn_melt
from fluxlab.materials import estimate, flux_types
from fluxlab.ore import ore_types, roast_types
from fluxlab.store.keys import FIGURES
from fluxlab.store.reader import TAGS, hints, key_of
from fluxlab.store.report_keys import REPORT_FIGURES
from fluxlab.vessel import vessel_types

READ: dict[str, type] = {
    "The recipe": recipe.Recipe,
    "A row of the flux table": recipe.Line,
    "A target": recipe.Target,
    "The roast as planned": roast_types.RoastPlan,
    "The ore type": ore_types.OreType,
    "The lot": ore_types.Lot,
    "A share": ore_types.Share,
    "A grade": ore_types.Grade,
    "The shelf": recipe.Shelf,
    "The workshop card": workshop.Workshop,
    "A flux": flux_types.Component,
    "Made of: by formula": flux_types.ByFormula,
    "Made of: by analysis": flux_types.ByAnalysis,
    "Made of: by parts": flux_types.ByParts,
    "A part of a mixed flux": flux_types.Part,
    "A crucible": vessel_types.Crucible,
    "A mould": vessel_types.Mould,
    "A melt": learn_melt.Melt,
    "A weighing as read": learn_melt.Weighing,
    "The fineness of a button": learn_melt.Fineness,
    "What was said beforehand": learn_melt.Beforehand,
    "An estimate": estimate.Estimate,
}
PRINTED: dict[str, type] = {
    "The report": report_types.Report,
    "The ore in the pot": report_types.OreReport,
    "A share row": report_types.ShareRow,
    "The roast": report_types.RoastReport,
    "A step of the roast": report_types.RoastStep,
    "The way of the lot": report_types.LotReport,
    "A metal of the lot": report_types.MetalReport,
    "A row of the recipe": report_types.LineReport,
    "A target as reached": report_types.TargetReport,
    "The slag": report_types.SlagReport,
    "The indices": report_types.IndexReport,
    "The melt as a liquid": fluid_types.FluidReport,
    "The curve of the viscosity": fluid_types.FluidCurve,
    "What one equation says": fluid_types.Opinion,
    "Crystals in the melt": fluid_types.Crystal,
    "What moves the slag": fluid_types.Move,
    "The crucible as filled": report_types.FillReport,
    "A feed": report_types.Stage,
    "The mould as filled": report_types.MouldReport,
    "The pot": pot_types.PotReport,
    "The oxygen in the pot": pot_types.RedoxReport,
    "A taker or giver of oxygen": pot_types.OxygenRow,
    "The sulphur in the pot": pot_types.SulphurReport,
    "An end of the sulphur": pot_types.SulphurRow,
    "The button": pot_types.ButtonReport,
    "A metal of the button": pot_types.MetalRow,
    "A place of the silver": pot_types.SilverRow,
    "The drops in the slag": pot_types.DropsReport,
    "The gas in the pot": pot_types.PotGasReport,
    "A stretch of the heat": pot_types.GasStage,
    "A source of gas": pot_types.GasSource,
    "The heat of the melt": pot_types.HeatReport,
    "A taker of heat": pot_types.HeatRow,
    "A figure of the pot": pot_types.FigureRow,
    "The cupel": pot_types.CupelReport,
    "An answer": report_types.Verdict,
    "How sure the recipe is": chance_types.ChanceReport,
    "How sure a limit is": chance_types.LimitChance,
    "A caution": report_types.Caution,
    "The solver": report_types.SolveReport,
    "A problem": Issue,
    "The ticket": ticket.Ticket,
    "A weighing": ticket_rows.TicketRow,
    "A fact for the furnace": ticket_facts.Fact,
    "A caution on the ticket": ticket.TicketCaution,
}
NAMES = {
    "g": "g",
    "mm": "mm",
    "cm3": "cm³",
    "g/cm3": "g/cm³",
    "degC": "°C",
    "min": "min",
    "%": "%",
    "deg": "°",
    "money/kg": "money per kg",
    "money": "money",
    "parts": "parts",
    "g Pb/g": "g lead per g",
    "g/t": "g/t",
    "L": "L",
    "kJ": "kJ",
    "kW": "kW",
    "degC/min": "°C/min",
    "um": "µm",
    "per mille": "‰",
    "Pa s": "Pa·s",
    "mN/m": "mN/m",
    "-": "number",
    "see unit": "see `unit`",
}
# Told in words below their table, or in a document of their own.
APART = {(report_types.RoastReport, "gases"), (report_types.Report, "work")}
# Figures with their ranges: the owner's key names the unit.
RANGES = (report_types.Amount, fluid_types.Likely)
FIGURES_OF_ALL = {**FIGURES, **REPORT_FIGURES}


def tables() -> dict[str, dict[str, tuple[str, str]]]:
    """Key to unit and meaning, by heading."""
    found = {}
    for section in re.split(r"^#+ ", resources.text("help/exchange.md"), flags=re.MULTILINE)[1:]:
        heading, _, body = section.partition("\n")
        _, _, rows = body.partition("| key | unit | meaning |\n|---|---|---|\n")
        found[heading] = {
            key: (unit, meaning)
            for key, unit, meaning in re.findall(r"^\| `([^`]+)` \| ?(.*?) ?\| (.*) \|$", rows.split("\n\n")[0], re.M)
        }
    return found


TABLES = tables()


def words_of(hint: Any) -> Iterator[str]:
    if get_origin(hint) is Literal:
        yield from (word for word in get_args(hint) if isinstance(word, str))
    else:
        for inner in get_args(hint):
            yield from words_of(inner)


@pytest.mark.parametrize("heading", [*READ, *PRINTED])
def test_every_key_is_described_with_its_unit(heading: str) -> None:
    kind = {**READ, **PRINTED}[heading]
    figures = FIGURES_OF_ALL.get(kind, {})
    expected = {}
    for field in fields(kind):
        if (kind, field.name) not in APART:
            unit = NAMES[figures[field.name].unit] if field.name in figures else ""
            expected[key_of(FIGURES_OF_ALL, kind, field.name)] = "by `key`" if unit and kind is recipe.Target else unit
    if kind in TAGS:
        expected["by"] = ""
        assert f'"{TAGS[kind]}"' in TABLES[heading]["by"][1]
    assert {key: unit for key, (unit, _) in TABLES[heading].items()} == expected
    assert all(meaning for _, meaning in TABLES[heading].values())


@pytest.mark.parametrize("heading", READ)
def test_what_is_needed_and_which_words_are_allowed_is_told(heading: str) -> None:
    kind = READ[heading]
    for field in fields(kind):
        key = key_of(FIGURES, kind, field.name)
        meaning = TABLES[heading][key][1]
        needed = field.default is MISSING and field.default_factory is MISSING
        assert meaning.endswith("*Needed.*") == needed, key
        if key != "hi_kind":
            for word in words_of(hints(kind)[field.name]):
                assert f'"{word}"' in meaning, (key, word)


def test_every_number_of_a_report_has_a_unit() -> None:
    for kind in PRINTED.values():
        numbers = {name for name, hint in hints(kind).items() if _holds_number(hint)}
        assert numbers == REPORT_FIGURES.get(kind, {}).keys(), kind.__name__


def test_every_part_of_a_report_is_described() -> None:
    # The recipe and its shelf are read too, and described there; a mend is told within its answer.
    elsewhere = {*RANGES, *READ.values(), report_types.Mend, recipe.Work}
    assert parts_of(report_types.Report) <= {*PRINTED.values()} | elsewhere


def parts_of(kind: Any) -> set[type]:
    if not is_dataclass(kind):
        return {part for inner in get_args(kind) for part in parts_of(inner)}
    return {kind}.union(*(parts_of(hint) for hint in hints(kind).values() if hint is not recipe.Work))


def _holds_number(hint: Any) -> bool:
    if hint in (*RANGES, int, float):
        return True
    return get_origin(hint) is not Literal and any(_holds_number(inner) for inner in get_args(hint))


def test_the_targets_are_those_of_the_program() -> None:
    text = resources.text("help/exchange.md")
    _, _, rows = text.partition("| `key` | unit of `lo` and `hi` | what is measured |\n|---|---|---|\n")
    told = dict(re.findall(r"^\| `([^`]+)` \| (.*?) \|", rows.split("\n\n")[0], re.M))
    known = {key: words["unit"] or "number" for key, words in resources.toml("targets.toml").items()}
    assert told == known


def test_the_exit_codes_are_those_of_the_command_line() -> None:
    told = {int(code) for code in re.findall(r"^\| (\d+) \|", resources.text("help/exchange.md"), re.M)}
    assert told == {cli.OK, cli.GAVE_WAY, cli.BAD_INPUT, cli.NO_QT, cli.BLOCKED, cli.OUR_FAULT}


def test_no_heading_is_left_over() -> None:
    described = {heading for heading, rows in TABLES.items() if rows}
    assert described == {*READ, *PRINTED}
