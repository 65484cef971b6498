"""Times of the slag's properties, each beside a plain reference in the same run.

Run from the repository root: python -m tests.benchmarks.slag_properties. Times are the best of many runs, in
microseconds. The reference of one composition is the fitted viscosity reckoned term by term in plain Python; that of
1,000 is three products of their table with a 49 by 49 matrix.
"""

import sys
from collections.abc import Callable
from math import exp
from time import perf_counter
from typing import Any

import numpy as np

from fluxlab import resources
from fluxlab.materials.oxides import CATIONS, OXIDES, Vec
from fluxlab.slag.own_viscosity import _GROUPS
from fluxlab.slag.properties import slag_properties
from fluxlab.slag.viscosity import log_viscosity, log_viscosity_slopes, own_log_viscosity, temperature_at, viscosity
from tests.slag.melt_cases import CORE, cases

ROWS = [(row["term"], float(row["L"]), float(row["K"])) for row in resources.table("slag/viscosity.csv")]


def best_of(work: Callable[[], Any], repeats: int) -> float:
    """Shortest of many runs [us]."""
    times = []
    for _ in range(repeats):
        began = perf_counter()
        work()
        times.append(perf_counter() - began)
    return min(times) * 1e6


def plain(n: Vec, temperature: float) -> float:
    """The fitted viscosity term by term [log10 Pa s]."""
    moles = dict(zip(OXIDES, (float(x) for x in n), strict=True))
    total = sum(x * float(c) for x, c in zip(moles.values(), CATIONS, strict=True))

    def group(name: str) -> float:
        if name == "1":
            return 1.0
        return max(sum(count * moles[symbol] for symbol, count in _GROUPS[name].items()) / total, 0.0)

    height = bend = 0.0
    for term, by_height, by_bend in ROWS:
        if term.startswith("h("):
            a, b = (group(name) for name in term[2:-1].split(","))
            value = a * b / (a + b + 1e-9)
        else:
            value = 1.0
            for name in term.split("*"):
                value *= group(name)
        height += by_height * value
        bend += by_bend * value
    u = 1273.15 / (temperature + 273.15)
    return -2.9 + max(height, 0.1) * u * exp(min(max(bend, -0.3), 3.0) * (u - 1.0))


def main() -> None:
    """Print a table of times and ratios."""
    sample = cases()
    table, hot = np.tile(sample.n, (5, 1)), np.tile(sample.temperature, 5)
    square, columns = np.ones((49, 49)), np.ones((49, len(table)))
    assert abs(plain(CORE, 1050.0) - float(own_log_viscosity(CORE, 1050.0))) < 1e-9
    one = best_of(lambda: plain(CORE, 1050.0), 300)
    many = best_of(lambda: [square @ columns for _ in range(3)], 50)
    sys.stdout.write(f"reference: one {one:.0f} us, 1,000 {many:.0f} us\n")
    sys.stdout.write(f"{'':28}{'one':>8}{'ratio':>8}{'1,000':>10}{'ratio':>8}\n")
    works: list[tuple[str, Callable[[Vec, Any], Any]]] = [
        ("viscosity", log_viscosity),
        ("viscosity with its range", viscosity),
        ("derivative by the oxides", log_viscosity_slopes),
        ("temperature at 10 Pa s", lambda n, _: temperature_at(n, 1.0)),
        ("all properties", slag_properties),
    ]
    for name, work in works:
        alone = best_of(lambda work=work: work(CORE, 1050.0), 300)
        together = best_of(lambda work=work: work(table, hot), 30)
        sys.stdout.write(f"{name:28}{alone:8.0f}{alone / one:8.2f}{together:10.0f}{together / many:8.2f}\n")


if __name__ == "__main__":
    main()
