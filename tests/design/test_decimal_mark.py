"""Words of a report carry the reader's decimal mark; formulas, names and figures stay."""

import pytest

from fluxlab.design import edits
from fluxlab.design.decimal_mark import with_mark, with_marks
from fluxlab.design.evaluate import evaluate
from fluxlab.ore.ore_types import Grade, Lot
from tests.works import work_of


@pytest.mark.parametrize(
    ("said", "with_comma"),
    [
        ("Makes up 1.00 parts of flux to ore", "Makes up 1,00 parts of flux to ore"),
        ("degree 2.03", "degree 2,03"),
        ("Iron left ferric 15.6 %, at most 15.0 asked", "Iron left ferric 15,6 %, at most 15,0 asked"),
        ("Borax glass free → 85.5 g", "Borax glass free → 85,5 g"),
        ("its Zn0.85Fe0.15S", "its Zn0.85Fe0.15S"),
        ("held by flux to ore. 3 parts follow", "held by flux to ore. 3 parts follow"),
        ("version 1.2.3", "version 1.2.3"),
        ("0.30 kJ per gram, 12.5 % in 3.5 g.", "0,30 kJ per gram, 12,5 % in 3,5 g."),
    ],
)
def test_a_sentence_gets_the_comma_where_a_number_has_a_point(said: str, with_comma: str) -> None:
    assert with_mark(said, ",") == with_comma
    assert with_mark(said, ".") == said


def test_what_is_said_of_roast_and_lot_carries_the_mark_too() -> None:
    work = edits.weigh_roast(work_of(), 100.0, 96.0)[1]
    grades = {"silver": Grade(20.0, "oz/short ton"), "tail_silver": Grade(25.5, "oz/short ton")}
    work = edits.set_lot(work, Lot(18_400.0, 20_000.5, **grades))[1]
    report = evaluate(work)
    assert report.ore.roast is not None
    assert "." in "".join(report.ore.roast.explained_by)
    told = with_marks(report, ",").ore
    assert told.roast is not None
    assert told.lot is not None
    assert "." not in "".join(told.roast.explained_by)
    assert "20000,5" in "".join(issue.sentence for issue in told.lot.issues)
    assert told.roast.sulphur_percent == report.ore.roast.sulphur_percent


def test_a_report_keeps_its_figures_and_changes_its_words() -> None:
    report = evaluate(work_of())
    told = with_marks(report, ",")
    assert [line.grams for line in told.lines] == [line.grams for line in report.lines]
    assert "," in told.verdicts[0].figure
    assert "." not in told.verdicts[0].figure
    assert with_marks(report, ".") is report
