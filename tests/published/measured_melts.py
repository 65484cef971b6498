"""The 61 measured melts of tests/data/measured_melts.csv (see the notice beside it), as compositions of the basis.

Each row names its paper. SO3 and La2O3 have no place in the basis and are left out (at most 0.4 % of a row).
"""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import SIZE, Vec, place

_FILE = Path(__file__).parents[1] / "data" / "measured_melts.csv"
_NO_PLACE = ("SO3", "La2O3")
_NOT_OXIDES = ("id", "property", "T_C", "value", "unit", "source", "model_pred", "note")


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """One measurement: composition [mol in 100 g], temperature [degC] (a liquidus has none), value and paper."""

    number: int
    of: str
    temperature: float
    value: float
    paper: str
    n: Vec


def composition(percent: dict[str, float]) -> Vec:
    """Moles of the basis in 100 g of oxides and F [mass %], iron as written."""
    n = np.zeros(SIZE)
    for name, share in percent.items():
        if share > 0.0 and name not in _NO_PLACE:
            read = formula(name)
            n += share / read.mass * place(read.atoms, 1.0 if name == "Fe2O3" else 0.0).oxides
    return n


@cache
def measured(of: str) -> tuple[Measured, ...]:
    """All rows of one property: "log10_viscosity", "density", "surface_tension", "liquidus"."""
    with _FILE.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["property"] == of]
    return tuple(
        Measured(
            number=int(row["id"]),
            of=of,
            temperature=float(row["T_C"] or "nan"),
            value=float(row["value"]),
            paper=row["source"],
            n=composition({k: float(v) for k, v in row.items() if k not in _NOT_OXIDES}),
        )
        for row in rows
    )


def compositions(rows: tuple[Measured, ...]) -> Vec:
    """Compositions of rows (rows, oxides) [mol in 100 g]."""
    return np.array([row.n for row in rows])


def temperatures(rows: tuple[Measured, ...]) -> Vec:
    """Temperatures of rows [degC]."""
    return np.array([row.temperature for row in rows])


def values(rows: tuple[Measured, ...]) -> Vec:
    """Measured values of rows, in the unit of their property."""
    return np.array([row.value for row in rows])
