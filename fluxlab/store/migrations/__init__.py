"""How a library of each version becomes one of the next. A step that was released is never changed again."""

import sqlite3
from collections.abc import Callable, Sequence

from fluxlab.store.migrations import v0001, v0002

# One step per version: step n, counted from 1, makes version n out of version n - 1. It runs inside a transaction.
Step = Callable[[sqlite3.Connection], None]


def _statements(*statements: str) -> Step:
    def run(connection: sqlite3.Connection) -> None:
        for statement in statements:
            connection.execute(statement)

    return run


STEPS: Sequence[Step] = (_statements(*v0001.STATEMENTS), _statements(*v0002.STATEMENTS))
