"""Words of a report carry the reader's decimal mark; formulas, names and figures stay."""

import pytest

from fluxlab.design.decimal_mark import with_mark, with_marks
from fluxlab.design.evaluate import evaluate
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


def test_a_report_keeps_its_figures_and_changes_its_words() -> None:
    report = evaluate(work_of())
    told = with_marks(report, ",")
    assert [line.grams for line in told.lines] == [line.grams for line in report.lines]
    assert "," in told.verdicts[0].figure
    assert "." not in told.verdicts[0].figure
    assert with_marks(report, ".") is report
