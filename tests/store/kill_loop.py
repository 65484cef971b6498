"""Kill a program in the middle of saves, again and again, and look each time whether the library still holds its word.

Run by test_kill.py as a process of its own, because it forks: kill_loop.py FOLDER KILLS SEED. Prints what it found.
"""

import json
import os
import random
import signal
import sqlite3
import sys
import time
from contextlib import closing
from datetime import datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from fluxlab.design.recipe import Recipe, Work
from fluxlab.learn.melt import Melt
from fluxlab.ore.ore_types import OreType
from fluxlab.store.library import Library

# A fresh child first opens the library, then saves in a loop: kills fall all over both.
LONGEST = 0.12


def work(count: int) -> Work:
    return Work(Recipe("r1", "First", OreType("o1", "Black ore"), charge=float(count), notes="x" * (count % 50 * 400)))


def melt(count: int) -> Melt:
    return Melt(
        f"m{count}", "o1", "r1", None, 1, datetime(2026, 3, 1), (), button=float(count), notes="x" * (count % 50 * 400)
    )


def save_for_ever(path: Path, count: int, acknowledge: int) -> None:
    library = Library.open(path)
    if not library.tickets():
        library.record_ticket("{}", ore="o1", recipe="r1", revision=None)
    while True:
        count += 1
        library.save_draft(work(count))
        os.write(acknowledge, f"draft 0 {count}\n".encode())
        number = library.save_revision(work(count)).number
        os.write(acknowledge, f"revision {number} {count}\n".encode())
        library.record_melt(melt(count))
        os.write(acknowledge, f"melt 0 {count}\n".encode())


def killed_child(path: Path, count: int, delay: float) -> list[tuple[str, int, int]]:
    """What a child acknowledged before it was killed after `delay` [s]."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            save_for_ever(path, count, writing)
        except BaseException as fault:
            os.write(writing, f"fault 0 0 {fault!r}\n".encode())
        os._exit(3)
    os.close(writing)
    time.sleep(delay)
    os.kill(child, signal.SIGKILL)
    with os.fdopen(reading) as pipe:
        lines = pipe.read().splitlines()
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), f"the child ended by itself: {lines[-1:]}"
    return [(word, int(number), int(n)) for word, number, n in (line.split() for line in lines)]


def broken_promises(path: Path, said: list[tuple[str, int, int]]) -> list[str]:
    """What was acknowledged and is not there, or is otherwise wrong."""
    wrong = []
    with Library.open(path) as library:
        if damage := library._db.check():
            wrong.append(f"integrity: {damage}")
        numbers = [revision.number for revision in library.revisions("r1")]
        if numbers != list(range(len(numbers), 0, -1)):
            wrong.append(f"revisions {numbers}")
        for word, number, count in said:
            if word == "revision" and (number not in numbers or library.load("r1", number).work != work(count)):
                wrong.append(f"revision {number} of {count} is lost")
        melts = {kept.melt.uid: kept.melt for kept in library.melts("o1")}
        wrong += [f"melt {n} is lost" for word, _, n in said if word == "melt" and melts.get(f"m{n}") != melt(n)]
        if said and said[-1][0] == "draft":
            count = said[-1][2]
            drafts = [library.load_draft("r1", d.token) for d in library.drafts()]
            there = [d.work for d in drafts if d is not None] + ([library.load("r1").work] if numbers else [])
            if work(count) not in there:
                wrong.append(f"draft {count} is lost")
        for draft in library.drafts():
            library.drop_draft(draft.recipe, draft.token)
    return wrong


def main(folder: Path, kills: int, seed: int) -> None:
    chance = random.Random(seed)
    wrong: list[str] = []
    saves = midway = unborn = 0
    lived = folder / "lived" / "library.sqlite"
    for kill in range(kills):
        # One in four dies over a library that is just being made.
        path = lived if kill % 4 else folder / f"new-{kill}" / "library.sqlite"
        said = killed_child(path, kill * 1000, chance.uniform(0.0, LONGEST))
        saves += len(said)
        midway += path.with_name(f"{path.name}-journal").exists()
        unborn += not said
        wrong += [f"kill {kill}: {w}" for w in broken_promises(path, said)]
    with closing(sqlite3.connect(lived)) as raw:
        revisions = raw.execute("SELECT count(*) FROM revision").fetchone()[0]
    print(
        json.dumps(
            {"kills": kills, "wrong": wrong, "saves": saves, "midway": midway, "unborn": unborn, "revisions": revisions}
        )
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
