"""How long from one edit to the whole Flux place redrawn, with 16 fluxes in the table.

    QT_QPA_PLATFORM=offscreen .venv/bin/python tests/benchmarks/edit_to_paint.py [--edits 300]

Two kinds of edit: a free row is fixed (its words, the total, the targets and the vessels change), and a row that is
fixed already gets another weight, as with the arrow keys. The clock stops when every part that changed has painted
itself. The first edits warm the caches and are not counted.
"""

import argparse
import os
import statistics
import sys
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
FLUXES = 16
WARM = 20


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--edits", type=int, default=300)
    edits = parser.parse_args().edits

    from PySide6.QtWidgets import QApplication

    from fluxlab.design import edits as change
    from fluxlab.design.evaluate import evaluate
    from fluxlab.design.start import demo_work
    from fluxlab.gui import theme
    from fluxlab.gui.bridge import Bench
    from fluxlab.gui.main_window import MainWindow

    app = QApplication(["bench", "-style", "Fusion"])
    theme.install(app)
    work = demo_work()
    for component in work.shelf.fluxes:
        if len(work.recipe.lines) < FLUXES:
            work = change.add_flux(work, component.uid)[1]
    window = MainWindow()
    window.resize(1366, 768)
    bench = Bench(work)
    window.lay_bench(bench)
    window.show()
    for _ in range(20):
        app.processEvents()
    rows = [line.flux for line in work.recipe.lines]

    def edit(flux: str, weight: float | None) -> float:
        begun = time.perf_counter()
        bench.do("fix_weight", flux, weight)
        app.processEvents()
        return 1000 * (time.perf_counter() - begun)

    fixing, typing, solving = [], [], []
    for k in range(edits + WARM):
        flux, weight = rows[k % len(rows)], 2.0 + (k * 7 % 31)
        took = edit(flux, weight), edit(flux, weight + 0.1)
        edit(flux, None)
        begun = time.perf_counter()
        evaluate(bench.work)
        if k >= WARM:
            fixing.append(took[0])
            typing.append(took[1])
            solving.append(1000 * (time.perf_counter() - begun))
    tell("a free row fixed", fixing)
    tell("a fixed row changed", typing)
    tell("of it the report", solving)


def tell(name: str, took: list[float]) -> None:
    took.sort()
    print(
        f"{name:20} fastest {took[0]:5.1f} ms, median {statistics.median(took):5.1f} ms, "
        f"95th percentile {took[int(0.95 * len(took))]:5.1f} ms, worst {took[-1]:5.1f} ms"
    )


if __name__ == "__main__":
    main()
