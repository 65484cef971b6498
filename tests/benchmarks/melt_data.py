"""Measured melts for fitting and scoring by hand, read from the open glass data that a published wheel carries.

The wheel is glasspy 0.4.0 (`pip download --no-deps glasspy==0.4.0`). Its code is GPL and is neither imported nor
copied; only two data tables in it are read here, zipped CSV. They are those of the SciGlass database (EPAM Systems),
made available under the Open Database License 1.0; they are no part of this project and must not be added to it.

Melts thinner than 10 poise are all but missing from the tables: at 1300 degC 24 values between 6 and 10 poise stand
against 312 between 10 and 16. What is there below 1 Pa s is a choice, and no fit to it can be trusted there.
"""

import csv
import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import SIZE, place

Floats = NDArray[np.float64]

AT = {f"V{t}": float(t) for t in (700, 800, 900, 1000, 1100, 1200, 1300, 1400)}
ISOKOMS = {f"T{k}": float(k) for k in range(1, 7)}
FERRIC = {"Fe2O3": 1.0, "FemOn": 1.0, "Fe3O4": 2.0 / 3.0}
OTHER_NAMES = {"F2": "F", "FemOn": "Fe2O3", "Al2O3+Fe2O3": "Al2O3"}
LEAST_NAMED = 97.0
WATER = 0.3
POISE = 1.0
"""log10 of poise in a pascal second."""


@dataclass(frozen=True, slots=True)
class Points:
    """Measured viscosities: moles per 100 g, temperature [degC], log10 of Pa s, number of paper and of glass, who."""

    n: Floats
    temperature: Floats
    log_viscosity: Floats
    source: NDArray[np.int64]
    glass: NDArray[np.int64]
    who: NDArray[np.str_]


def _table(wheel: Path, name: str) -> Iterator[list[str]]:
    with (
        zipfile.ZipFile(wheel) as outer,
        zipfile.ZipFile(io.BytesIO(outer.read(f"glasspy/data/datafiles/select_{name}.csv.zip"))) as inner,
        inner.open(f"{name}.csv") as raw,
    ):
        yield from (row for row in csv.reader(io.TextIOWrapper(raw, "latin-1", newline=""), delimiter="\t") if row)


def _per_gram(name: str) -> Floats | None:
    """Basis oxides of one compound [mol/g]; None for what the basis has no room for."""
    try:
        read = formula(OTHER_NAMES.get(name, name))
    except ValueError:
        return None
    placed = place(read.atoms, FERRIC.get(name, 0.0))
    if set(placed.rest) - {"O"} or not {"O", "F"} & set(read.atoms):
        return None
    return placed.oxides / read.mass


def _composition(text: str, known: dict[str, Floats | None]) -> Floats | None:
    parts = text.strip("\x7f").split("\x7f")
    oxides = np.zeros(SIZE)
    named = total = 0.0
    for name, share in zip(parts[0::4], parts[2::4], strict=False):
        percent = float(share or 0.0)
        total += percent
        if name == "H2O" and percent > WATER:
            return None
        if name not in known:
            known[name] = _per_gram(name)
        per_gram = known[name]
        if per_gram is not None:
            named += percent
            oxides += percent * per_gram
    if named < LEAST_NAMED or not 97.0 <= total <= 103.0:
        return None
    return oxides * 100.0 / named


def viscosities(wheel: Path) -> Points:
    """All viscosities of glasses that the basis can write, 700 to 1400 degC and 10 to 10^6 poise [log10 Pa s]."""
    known: dict[str, Floats | None] = {}
    compositions = _table(wheel, "Gcomp")
    next(compositions)
    found = {(row[0], row[1]): row[2] for row in compositions}
    rows = _table(wheel, "SciGK")
    column = {title: i for i, title in enumerate(next(rows))}
    points: list[tuple[Floats, float, float, int, int, str]] = []
    for row in rows:
        measured = [(at, float(row[column[c]]) - POISE) for c, at in AT.items() if row[column[c]]]
        measured += [(float(row[column[c]]), k - POISE) for c, k in ISOKOMS.items() if row[column[c]]]
        if not measured:
            continue
        n = _composition(found.get((row[0], row[1]), ""), known)
        if n is not None:
            who = f"{row[column['Author']]} {row[column['Year']]}"
            points += [(n, t, v, int(row[0]), int(row[1]), who) for t, v in measured]
    n, t, v, source, glass, who = zip(*points, strict=True)
    return Points(np.array(n), np.array(t), np.array(v), np.array(source), np.array(glass), np.array(who))
