"""Every figure of the pot's tables says where it is from."""

from collections.abc import Iterator
from typing import Any

import pytest

from fluxlab import resources

TABLES = ("bullion", "cupel", "deportment", "foam", "heat", "litharge", "losses", "redox", "sulphur")
FLAGS = ("found", "from memory", "judgement", "computed", "fitted", "stated", "root mean square")


def without_source(table: dict[str, Any], path: str, told: bool) -> Iterator[str]:
    """Paths of figures for which neither their table nor one above it tells a source; each may have its own."""
    told = told or "source" in table
    for key, value in table.items():
        if isinstance(value, dict):
            yield from without_source(value, f"{path}.{key}", told)
        elif not key.endswith("source") and not told and f"{key}_source" not in table:
            yield f"{path}.{key}"


def sources(table: dict[str, Any]) -> Iterator[str]:
    """All sources of a table."""
    for key, value in table.items():
        if isinstance(value, dict):
            yield from sources(value)
        elif key.endswith("source"):
            yield value


@pytest.mark.parametrize("name", TABLES)
def test_every_figure_has_a_source_with_its_flag(name: str) -> None:
    table = resources.toml(f"fusion/{name}.toml")
    assert list(without_source(table, name, False)) == []
    told = list(sources(table))
    assert told
    assert [s for s in told if not any(flag in s for flag in FLAGS)] == []


@pytest.mark.parametrize("name", ["formation", "ore_gas"])
def test_every_row_has_a_source_with_its_flag(name: str) -> None:
    rows = resources.table(f"fusion/{name}.csv")
    assert rows
    assert [r for r in rows if not any(flag in r["source"] for flag in FLAGS)] == []
