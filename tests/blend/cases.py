"""The ten verified cases of tests/data/solver_cases.json as problems."""

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from fluxlab.blend.types import Functional, Goal, Problem, Window

PATH = Path(__file__).parent.parent / "data" / "solver_cases.json"


@cache
def all_cases() -> dict[str, dict[str, Any]]:
    return {case["id"]: case for case in json.loads(PATH.read_text(encoding="utf-8"))["cases"]}


def case(name: str) -> dict[str, Any]:
    return all_cases()[name]


def functional(window: dict[str, Any], which: str) -> Functional | None:
    if window[f"{which}_u"] is None:
        return None
    return Functional(np.array(window[f"{which}_u"]), np.array(window[f"{which}_v"]), window[f"{which}_0"])


def problem(data: dict[str, Any], goal: Goal) -> Problem:
    windows = []
    for w in data["windows"]:
        numerator = functional(w, "num")
        assert numerator is not None
        windows.append(
            Window(
                key=w["name"],
                label=w["name"],
                unit=w["unit"],
                lo=-np.inf if w["lo"] is None else w["lo"],
                hi=np.inf if w["hi"] is None else w["hi"],
                num=numerator,
                den=functional(w, "den"),
                tol=w["tolerance"],
                priority=w["priority"],
                decimals=3,
            )
        )
    n = len(data["components"])
    return Problem(
        oxides=tuple(data["oxides"]),
        components=tuple(data["components"]),
        Y=np.array(data["Y_mol_per_g"]),
        b=np.array(data["b_mol"]),
        cost=np.array(data["cost_per_g"]),
        lo=np.array(data["x_min"]),
        hi=np.array(data["x_max"]),
        ref=np.array(data["ref"]),
        scale=np.array(data["sigma"]),
        step=np.full(n, 0.1),
        windows=tuple(windows),
        goal=goal,
        oxide_mass=np.array(data["molar_mass"]),
    )
