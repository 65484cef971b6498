"""The melt record: entries stay as written, and what holds of a melt is its latest entry."""

import sqlite3
from functools import lru_cache
from typing import Any

from fluxlab.learn.melt import Melt
from fluxlab.store.codec import Read
from fluxlab.store.melt_document import melt_text, read_melt
from fluxlab.store.part import Part, moment, now_text, sound
from fluxlab.store.problem import AlreadyCorrected, StoreProblem
from fluxlab.store.rows import KeptMelt

_ENTRIES = "SELECT number, uid, ore, replaces, struck, recorded, document FROM melt"


class Melts(Part):
    """What came out of the melts."""

    def record_melt(self, melt: Melt) -> None:
        """Write an entry; one that names another takes its place. Nothing that was written is ever changed.

        Raises AlreadyCorrected where the entry to be replaced has been replaced, StoreProblem where the disk refuses.
        """
        with self._db.writing("record the melt") as connection:
            if melt.replaces:
                _may_be_replaced(connection, melt)
            connection.execute(
                "INSERT INTO melt (uid, ore, recipe, ticket, replaces, struck, recorded, document) "
                "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                (
                    melt.uid,
                    melt.ore,
                    melt.recipe,
                    melt.ticket,
                    melt.replaces or None,
                    int(melt.struck),
                    now_text(),
                    melt_text(melt),
                ),
            )

    def melts(self, ore: str | None = None) -> tuple[KeptMelt, ...]:
        """The melts of an ore type, or of all, as they stand now: the first recorded first, struck ones left out."""
        rows = self._db.rows(f"{_ENTRIES} WHERE ore = coalesce(?, ore) ORDER BY number", (ore,))
        return tuple(kept for kept in _standing(rows) if not kept.melt.struck)

    def melt_entries(self, uid: str) -> tuple[KeptMelt, ...]:
        """All entries of the melt that an entry belongs to, the first first."""
        rows = self._db.rows(f"{_ENTRIES} WHERE ore = (SELECT ore FROM melt WHERE uid = ?) ORDER BY number", (uid,))
        return next((chain for chain in _chains(rows) if any(kept.melt.uid == uid for kept in chain)), ())

    def melt_record(self) -> tuple[KeptMelt, ...]:
        """Every entry of every ore type in the order written, corrected and struck ones too."""
        rows = self._db.rows(f"{_ENTRIES} ORDER BY number")
        entries = (kept for chain in _chains(rows) for kept in chain)
        return tuple(sorted(entries, key=lambda kept: kept.entry))

    def melt_count(self, ore: str) -> int:
        """How many melts of an ore type are on record."""
        row = self._db.one(
            "SELECT count(*) FROM melt AS kept WHERE ore = ? AND struck = 0 "
            "AND NOT EXISTS (SELECT 1 FROM melt WHERE replaces = kept.uid)",
            (ore,),
        )
        return int(row[0])


def _may_be_replaced(connection: sqlite3.Connection, melt: Melt) -> None:
    there = connection.execute("SELECT ore FROM melt WHERE uid = ?", (melt.replaces,)).fetchone()
    if there is None or there[0] != melt.ore:
        raise StoreProblem("The melt to be corrected is not on record. Look it up in the list again.")
    if connection.execute("SELECT 1 FROM melt WHERE replaces = ?", (melt.replaces,)).fetchone() is not None:
        raise AlreadyCorrected


def _standing(rows: list[Any]) -> list[KeptMelt]:
    return [chain[-1] for chain in _chains(rows)]


def _chains(rows: list[Any]) -> list[tuple[KeptMelt, ...]]:
    """Entries of whole ore types, in the order written, put together by melt."""
    chains: dict[str, list[KeptMelt]] = {}
    first_of: dict[str, str] = {}
    counted: dict[str, int] = {}
    for entry, uid, ore, replaces, _, recorded, text in rows:
        first = first_of[uid] = first_of[replaces] if replaces else uid
        if not replaces:
            counted[ore] = counted.get(ore, 0) + 1
        chain = chains.setdefault(first, [])
        number = chain[0].number if chain else counted[ore]
        melt = sound(_read(text), f"melt {number}")
        chain.append(KeptMelt(number, entry, melt, moment(recorded), len(chain)))
    return [tuple(chain) for chain in chains.values()]


@lru_cache(maxsize=4096)
def _read(text: str) -> Read[Melt]:
    """A melt as kept; entries never change, so each is taken apart once."""
    return read_melt(text, ranges=False)
