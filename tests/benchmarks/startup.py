"""How long until the first painted window: fluxlab as a ratio to a bare table window of the toolkit, in one run.

    .venv/bin/python tests/benchmarks/startup.py [--rounds 7]

Both are started anew in every round, each with an empty home, offscreen and (where it is installed) under Xvfb.
Times run from just before the process is started. fluxlab ends by itself after it has painted when
FLUXLAB_EXIT_AFTER_PAINT=1 is set, and prints when, on the system's monotonic clock, it painted its first window and
its first recipe: {"first_paint": seconds, "first_recipe": seconds}.
"""

import argparse
import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

BARE = """
import json, sys, time
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QMainWindow, QTableWidget, QTableWidgetItem

class Table(QTableWidget):
    def paintEvent(self, event):
        super().paintEvent(event)
        if not painted:
            painted.append(time.monotonic())
            QTimer.singleShot(0, app.quit)

painted = []
app = QApplication(sys.argv)
window, table = QMainWindow(), Table(16, 6)
for row in range(16):
    for column in range(6):
        table.setItem(row, column, QTableWidgetItem(f"{row} {column}"))
window.setCentralWidget(table)
window.resize(1366, 768)
window.show()
app.exec()
print(json.dumps({"first_paint": painted[0]}), flush=True)
"""
PROGRAMS = {"bare table": [sys.executable, "-c", BARE], "fluxlab": [sys.executable, "-m", "fluxlab"]}


def one_start(command: list[str], variables: dict[str, str]) -> dict[str, float]:
    """Seconds from the start of the process to each thing it says it painted, and to its end."""
    with tempfile.TemporaryDirectory() as home:
        environment = {
            **os.environ,
            **variables,
            "FLUXLAB_EXIT_AFTER_PAINT": "1",
            "HOME": home,
            "XDG_CONFIG_HOME": home + "/config",
            "XDG_DATA_HOME": home + "/data",
        }
        environment.pop("PYTHONDONTWRITEBYTECODE", None)  # else every start compiles from source
        begun = time.monotonic()
        told = subprocess.run(
            command, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60, check=False
        )
        ended = time.monotonic()
    if told.returncode:
        raise SystemExit(f"{command[-1][:40]} ended with {told.returncode}:\n{told.stderr[-2000:]}")
    seen = json.loads(told.stdout.strip().splitlines()[-1])
    return {**{name: moment - begun for name, moment in seen.items()}, "whole process": ended - begun}


def medians(variables: dict[str, str], rounds: int) -> dict[str, dict[str, float]]:
    starts: dict[str, list[dict[str, float]]] = {name: [] for name in PROGRAMS}
    for turn in range(rounds + 1):
        for name, command in PROGRAMS.items():
            seen = one_start(command, variables)
            if turn:  # the first start of each warms the disk cache
                starts[name].append(seen)
    return {
        name: {what: statistics.median(start[what] for start in rows) for what in rows[0]}
        for name, rows in starts.items()
    }


def report(title: str, found: dict[str, dict[str, float]]) -> None:
    print(title)
    for name, row in found.items():
        print(f"  {name:12}" + "".join(f"{what} {1000 * seconds:6.0f} ms   " for what, seconds in row.items()))
    bare = found["bare table"]["first_paint"]
    for what, seconds in found["fluxlab"].items():
        if what != "whole process":
            print(f"  {what}: {seconds / bare:.2f} times the bare table's first paint")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--rounds", type=int, default=7)
    rounds = parser.parse_args().rounds
    report(f"offscreen, median of {rounds}", medians({"QT_QPA_PLATFORM": "offscreen"}, rounds))
    if not shutil.which("Xvfb"):
        print("Xvfb: not installed, not run")
        return
    read_end, write_end = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write_end), "-screen", "0", "1366x768x24", "-nolisten", "tcp"],
        pass_fds=[write_end],
        stderr=subprocess.DEVNULL,
    )
    os.close(write_end)
    try:
        with os.fdopen(read_end) as pipe:
            display = ":" + pipe.readline().strip()
        report(f"Xvfb, median of {rounds}", medians({"QT_QPA_PLATFORM": "xcb", "DISPLAY": display}, rounds))
    finally:
        server.terminate()
        server.wait()


if __name__ == "__main__":
    main()
