"""A limit reads the same wherever it stands."""

import pytest

from fluxlab.design.evaluate import evaluate
from fluxlab.design.limit_figure import limit_figure
from fluxlab.design.report_text import text_of
from tests.works import CLEAN, work_of


@pytest.mark.parametrize(
    ("value", "decimals", "words"),
    [
        (12.0, 1, "12"),
        (0.25, 1, "0.25"),
        (1.0, 2, "1.0"),
        (1.125, 2, "1.125"),
        (400.0 / 3.0, 1, "133.3"),
        (200.0 / 3.0, 0, "66.7"),
        (0.0, 1, "0"),
    ],
)
def test_a_typed_limit_keeps_its_places_and_a_reckoned_one_has_those_of_its_target(
    value: float, decimals: int, words: str
) -> None:
    assert limit_figure(value, decimals) == words


def test_what_gave_way_is_told_once() -> None:
    report = evaluate(work_of(CLEAN, "iron", pot_feed="concentrate"))
    lines = [line for line in text_of(report).splitlines() if line.startswith("! ")]
    assert len(lines) == len(set(lines))
