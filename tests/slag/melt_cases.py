"""Check cases and strategies for the melt equations."""

import csv
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from hypothesis import strategies as st

from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec, from_masses, vector

FILE = Path(__file__).resolve().parents[1] / "data" / "slag_cases.csv"
CORE = from_masses({"SiO2": 35, "B2O3": 22, "Na2O": 22, "CaO": 5, "Al2O3": 6, "FeO": 10})
"""An iron-bearing borax slag in the middle of what the program is for."""
FAYALITE = from_masses({"FeO": 70.5, "SiO2": 29.5})
SODA_LIME = from_masses({"SiO2": 72, "Na2O": 15, "CaO": 10, "Al2O3": 3})


PATHS: list[tuple[str, Vec, Vec]] = [
    ("iron into a borosilicate", CORE, from_masses({"FeO": 60, "SiO2": 5})),
    ("boron out", CORE, from_masses({"SiO2": 60, "FeO": 20, "CaO": 20})),
    ("boron in", CORE, from_masses({"B2O3": 95, "SiO2": 5})),
    ("silica out", CORE, from_masses({"Na2O": 30, "B2O3": 20, "FeO": 50})),
    ("soda lime to core", SODA_LIME, CORE),
    ("core to fayalite", CORE, FAYALITE),
    ("soda lime to fayalite", SODA_LIME, FAYALITE),
    ("manganese", SODA_LIME, from_masses({"MnO": 60, "SiO2": 40})),
    ("ferric", CORE, from_masses({"Fe2O3": 50, "SiO2": 50})),
    ("alumina against alkali", from_masses({"SiO2": 60, "Na2O": 40}), from_masses({"SiO2": 50, "Al2O3": 50})),
    ("lead", SODA_LIME, from_masses({"PbO": 90, "SiO2": 10})),
    ("fluorspar", CORE, from_masses({"CaF2": 40, "SiO2": 40, "Na2O": 20})),
]
"""Ways from one slag to another that cross every ramp."""
BAD: dict[str, Vec] = {
    "nothing": np.zeros(SIZE),
    "silica alone": vector({"SiO2": 2.0}),
    "fluorspar alone": vector({"CaF2": 1.0}),
    "negative": CORE - vector({"SiO2": 5.0}),
    "no number": np.where(np.arange(SIZE) == 3, np.nan, CORE),
    "infinite": np.where(np.arange(SIZE) == 3, np.inf, CORE),
    "no glass former": from_masses({"CaO": 50, "Na2O": 50}),
    "mostly fluoride": from_masses({"CaF2": 80, "SiO2": 20}),
}
"""Compositions of which nothing can be told."""


@dataclass(frozen=True)
class Cases:
    n: Vec
    temperature: Vec
    columns: dict[str, Vec]


def cases() -> Cases:
    """The 200 evaluated cases [mol, degC]; F counts whole there."""
    with FILE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    n = np.zeros((len(rows), SIZE))
    for title in rows[0]:
        symbol = title.removesuffix("_wt_pct")
        if symbol in INDEX:
            mass = atomic_mass("F") if symbol == "F" else MASS[INDEX[symbol]]
            n[:, INDEX[symbol]] = [float(row[title]) / mass for row in rows]
    columns = {title: np.array([float(row[title]) for row in rows]) for title in rows[0] if title not in INDEX}
    return Cases(n, columns["T_C"], columns)


def compositions() -> st.SearchStrategy[Vec]:
    """Slags that hold a little of everything and much of what the program is for [mol]."""
    main = [INDEX[s] for s in ("SiO2", "B2O3", "Na2O", "FeO", "CaO", "Al2O3", "MnO", "ZnO", "PbO", "K2O")]

    def mixed(shares: list[float]) -> Vec:
        n = np.full(SIZE, 2e-3)
        n[main] += shares
        n[main[:2]] += 0.3
        return n

    return st.lists(st.floats(0.0, 1.0), min_size=len(main), max_size=len(main)).map(mixed)
