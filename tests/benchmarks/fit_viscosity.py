"""Can a refit of the viscosity beat the blend that the program ships? Run by hand with the path of the data's wheel.

    python tests/benchmarks/fit_viscosity.py glasspy-0.4.0-py3-none-any.whl [seeds]

Every candidate is scored in the same folds, grouped by paper, papers published twice kept on one side; screening of bad
papers happens inside the training part alone, scores take all papers. A candidate wins if it beats the blend on
borosilicates with FeO, MnO or ZnO by more than the spread over redrawn papers and loses nowhere else. Takes about
ten minutes on one core; set OPENBLAS_NUM_THREADS=1.

Found: on FeO and MnO no refit beats the blend by more than that spread without losing elsewhere. The nearest, papers
evened and iron terms added, gains 0.007 on ZnO and a sure 0.05 above 15 % FeO, but is worse than the shipped fit above
5 % MnO, and it was the best of some twenty; it is not shipped. The edges of the blend are: moved half outside the box.
"""

import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import numpy as np
from melt_data import Floats, Points, viscosities
from melt_equations import leaning, ray_pal, regression, riboud, shares, terms
from melt_fit import FOLDS, Flags, Task, cross_validated, fit, folds, twins
from numpy.typing import NDArray

from fluxlab import resources
from fluxlab.materials.oxides import INDEX, MASS, OXIDES, model_weight_percent
from fluxlab.slag.viscosity import LEVELS, viscosity

_ROWS = resources.table("slag/viscosity.csv")
SHIPPED = tuple(row["term"] for row in _ROWS)
SHIPPED_C = np.array([[float(row[k]) for row in _ROWS] for k in ("L", "K")])
IRON_TERMS = ("h(FeMn,B)", "h(FeMn,Si)")
FLUORINE = 18.998
REDRAWS = 2000
GAP_SIZE = 1500


class Scene:
    """The points to be scored with what every candidate needs of them."""

    def __init__(self, wheel: Path) -> None:
        found = viscosities(wheel)
        weight = np.array([model_weight_percent(n) for n in found.n])
        kept = (found.temperature >= 650.0) & (found.temperature <= 1450.0)
        kept &= (found.log_viscosity >= -1.0) & (found.log_viscosity <= 5.0)
        kept &= weight[:, [INDEX[s] for s in ("SiO2", "B2O3", "P2O5")]].sum(1) >= 10.0
        self.points = Points(*(getattr(found, name)[kept] for name in Points.__slots__))
        self.weight = weight[kept]
        self.twin = twins(self.points, self.weight)
        self.features = terms(self.points.n, SHIPPED)
        self.riboud = riboud(self.points.n, self.points.temperature)
        self.lean = leaning(self.weight)
        self.classes = _classes(self.weight)
        self.scored = (self.points.temperature >= 800.0) & (self.points.temperature <= 1300.0)
        self.scored &= self.points.log_viscosity <= np.log10(2000.0)
        self.weights = np.where(self.classes["strict"], 5.0, 1.0)
        rich = [self.classes[c] for c in ("FeO+MnO>2 borosilicate", "ZnO>4 borosilicate", "Fe2O3>3 borosilicate")]
        self.weights[np.any(rich, axis=0)] *= 2.5

    def blend(self, own: Floats) -> Floats:
        """Own answer and Riboud's by the smooth weights [log10 Pa s]."""
        return np.asarray(own + self.lean * (self.riboud - own))


def _classes(weight: Floats) -> dict[str, Flags]:
    def w(*oxides: str) -> Floats:
        return np.asarray(weight[:, [INDEX[s] for s in oxides]].sum(1))

    strict = (w("B2O3") > 5.0) & (w("SiO2") > 10.0) & (w("Na2O") > 5.0)
    return {
        "strict": strict,
        "flux-like": strict & (w("SiO2") < 60.0) & (w("B2O3") > 8.0),
        "Fe2O3>3 borosilicate": strict & (w("Fe2O3") > 3.0),
        "FeO+MnO>2 borosilicate": strict & (w("FeO", "MnO") > 2.0),
        "of these FeO>2": strict & (w("FeO") > 2.0),
        "ZnO>4 borosilicate": strict & (w("ZnO") > 4.0),
        "PbO>20": w("PbO") > 20.0,
        "FeO>15": w("FeO") > 15.0,
        "FeO>30, little B or alkali": (w("FeO") > 30.0) & (w("B2O3", "Na2O", "K2O") < 8.0),
        "borates": (w("B2O3") > 15.0) & (w("SiO2") < 10.0),
        "MnO>5": w("MnO") > 5.0,
        "F>2": w("F") > 2.0,
        "alkali silicates": (w("B2O3") < 0.5) & (w("SiO2") > 50.0) & (w("Na2O", "K2O", "Li2O") > 5.0),
        "all": np.ones(len(weight), dtype=bool),
    }


def _refit(scene: Scene, fold: NDArray[np.int64], extra: tuple[str, ...] = (), weights: Floats | None = None) -> Floats:
    features = np.hstack([scene.features, terms(scene.points.n, extra)]) if extra else scene.features
    task = Task(SHIPPED + extra, features, scene.weights if weights is None else weights)
    return cross_validated(scene.points, task, scene.twin, SHIPPED, fold)


def _by_paper(scene: Scene) -> Floats:
    """Weights that let a paper count with the root of its points only."""
    _, paper, count = np.unique(scene.points.source, return_inverse=True, return_counts=True)
    weights = scene.weights / np.sqrt(count[paper])
    return np.asarray(weights * scene.weights.mean() / weights.mean())


def _evened(scene: Scene) -> Floats:
    """Weights that let a paper count with the root of its points among the borosilicates only, their sum kept."""
    strict = scene.classes["strict"]
    paper = np.unique(scene.points.source, return_inverse=True)[1]
    root = np.sqrt(np.maximum(np.bincount(paper, strict)[paper], 1.0))
    weights = np.where(strict, scene.weights / root, scene.weights)
    kept = scene.weights[strict].sum() / weights[strict].sum()
    return np.where(strict, kept * weights, weights)


def _for_borates(scene: Scene, weights: Floats, times: float) -> Floats:
    """Weights that heed melts of borates so many times as much."""
    return np.where(scene.classes["borates"], times, 1.0) * weights


def _taught(scene: Scene, fold: NDArray[np.int64], strength: float) -> Floats:
    """Refit that Riboud's equation teaches where data lack: measured glasses with iron or manganese added."""
    rng = np.random.default_rng(7)
    base = np.flatnonzero(scene.classes["strict"] & (scene.lean == 0.0))
    base = rng.choice(base[scene.weight[base][:, [INDEX["FeO"], INDEX["MnO"]]].sum(1) < 1.0], GAP_SIZE)
    share = rng.uniform(0.03, 0.35, GAP_SIZE)
    weight = scene.weight[base] * (1.0 - share)[:, None]
    metal = np.where(rng.random(GAP_SIZE) < 0.65, INDEX["FeO"], INDEX["MnO"])
    weight[np.arange(GAP_SIZE), metal] += 100.0 * share
    n = weight / np.where([s == "F" for s in OXIDES], FLUORINE, MASS)
    temperature = rng.choice([900.0, 1000.0, 1100.0, 1200.0], GAP_SIZE)
    lesson = riboud(n, temperature)
    used = (lesson > -1.0) & (lesson < 3.5) & (leaning(weight) > 0.5)
    m = int(used.sum())
    p = scene.points
    points = replace(
        p,
        n=np.vstack([p.n, n[used]]),
        temperature=np.r_[p.temperature, temperature[used]],
        log_viscosity=np.r_[p.log_viscosity, lesson[used]],
        source=np.r_[p.source, -1 - np.arange(m)],
    )
    task = Task(SHIPPED, terms(points.n, SHIPPED), np.r_[scene.weights, np.full(m, strength)])
    twin = np.r_[scene.twin, scene.twin.max() + 1 + np.arange(m)]
    in_no_fold = np.full(m, -1)
    return cross_validated(points, task, twin, SHIPPED, np.r_[fold, in_no_fold])[: len(fold)]


def _offset_columns(scene: Scene, own: Floats) -> Floats:
    share = shares(scene.points.n)
    smooth = (np.ones(len(own)), share["FeMn"], share["B"], scene.riboud - own)
    return np.stack([scene.lean * each for each in smooth], axis=1)


def _offset(scene: Scene, own: Floats, fold: NDArray[np.int64]) -> Floats:
    """Own answer with a smooth offset learned by ridge from residuals of inner folds [log10 Pa s]."""
    p, task = scene.points, Task(SHIPPED, scene.features, scene.weights)
    out = own.copy()
    columns = _offset_columns(scene, own)
    for k in range(FOLDS):
        test = fold == k
        inner = np.full(len(own), np.nan)
        for part_out in ((fold + j) % 3 == 0 for j in range(3)):
            held = part_out & ~test
            c = fit(p, task, ~test & ~held & ~np.isin(p.source, p.source[held]), SHIPPED)
            inner[held] = regression(scene.features[held], c, p.temperature[held])
        use = ~test & (scene.lean > 0.0)
        x, r = _offset_columns(scene, inner)[use], (p.log_viscosity - inner)[use]
        each_paper = 1.0 / np.sqrt(np.unique(p.source[use], return_inverse=True, return_counts=True)[2])
        w = each_paper[np.unique(p.source[use], return_inverse=True)[1]]
        ridge = np.linalg.solve((x * w[:, None]).T @ x + np.diag([1.0, 0.1, 0.1, 0.5]), (x * w[:, None]).T @ r)
        out[test] += columns[test] @ ridge
    return out


def candidates(scene: Scene, seed: int) -> dict[str, Floats]:
    """log10 viscosity by each candidate, every refit in the folds of `seed` [log10 Pa s]."""
    fold = folds(scene.points, seed)
    own = _refit(scene, fold)
    iron_terms = _refit(scene, fold, IRON_TERMS)
    iron_borates = _refit(scene, fold, IRON_TERMS, _for_borates(scene, scene.weights, 4.0))
    evened = _refit(scene, fold, IRON_TERMS, _evened(scene))
    evened_borates = _refit(scene, fold, IRON_TERMS, _for_borates(scene, _evened(scene), 3.0))
    products = _refit(scene, fold, ("Fe2*B", "Mn*B", "Zn*B"))
    by_paper = _refit(scene, fold, weights=_by_paper(scene))
    taught = _taught(scene, fold, 1.0)
    return {
        "own": own,
        "blend": scene.blend(own),
        "half blend": own + 0.5 * scene.lean * (scene.riboud - own),
        "blend inside": own + leaning(scene.weight, outside=0.0) * (scene.riboud - own),
        "blend outside": own + leaning(scene.weight, outside=5.0) * (scene.riboud - own),
        "early blend": own + leaning(scene.weight, (0.0, 3.0)) * (scene.riboud - own),
        "iron terms": iron_terms,
        "iron terms, blend": scene.blend(iron_terms),
        "iron terms and borates, blend": scene.blend(iron_borates),
        "evened, iron terms, blend": scene.blend(evened),
        "evened, iron terms and borates, blend": scene.blend(evened_borates),
        "products": products,
        "products, blend": scene.blend(products),
        "by paper": by_paper,
        "by paper, blend": scene.blend(by_paper),
        "taught": taught,
        "taught, blend": scene.blend(taught),
        "offset": _offset(scene, own, fold),
    }


def table_half_width(scene: Scene) -> Floats:
    """Half width of 90 % by the table of leverages alone [log10 Pa s]."""
    matrix = np.loadtxt(resources.path("slag/viscosity_leverage.csv"), delimiter=",")
    rows = resources.table("slag/viscosity_interval.csv")
    leverage = ((scene.features @ matrix) * scene.features).sum(1)
    edges = np.array([float(row["lev_lo"]) for row in rows])
    wide = np.maximum.accumulate([float(row["p90"]) for row in rows])
    return np.asarray(wide[np.searchsorted(edges, leverage, side="right") - 1])


def _scores(scene: Scene, class_: Flags, answers: list[Floats]) -> tuple[float, float]:
    errors = [(a - scene.points.log_viscosity)[class_ & scene.scored] for a in answers]
    return (
        float(np.mean([np.sqrt(np.nanmean(e**2)) for e in errors])),
        float(np.mean([np.nanmedian(np.abs(e)) for e in errors])),
    )


def _gain(scene: Scene, class_: Flags, before: list[Floats], after: list[Floats]) -> tuple[float, float, float]:
    """Fall of the RMS error over redrawn papers: mean, 5 % and 95 % quantile [log10 Pa s]."""
    rows = class_ & scene.scored
    y = scene.points.log_viscosity[rows]
    papers, paper = np.unique(scene.points.source[rows], return_inverse=True)
    count = np.bincount(paper)
    old, new = (
        np.bincount(paper, np.mean([(a[rows] - y) ** 2 for a in answers], axis=0)) for answers in (before, after)
    )
    drawn = np.random.default_rng(1).integers(0, len(papers), (REDRAWS, len(papers)))
    fall = np.sqrt(old[drawn].sum(1) / count[drawn].sum(1)) - np.sqrt(new[drawn].sum(1) / count[drawn].sum(1))
    return float(fall.mean()), float(np.quantile(fall, 0.05)), float(np.quantile(fall, 0.95))


def _print_scores(scene: Scene, answers: Mapping[str, list[Floats]]) -> None:
    print("| class | n | papers | " + " | ".join(answers) + " |\n|" + "---|" * (len(answers) + 3))
    for name, class_ in scene.classes.items():
        rows = class_ & scene.scored
        cells = ["{:.3f} / {:.3f}".format(*_scores(scene, class_, each)) for each in answers.values()]
        print(f"| {name} | {rows.sum()} | {len(set(scene.points.source[rows]))} | " + " | ".join(cells) + " |")


def _print_gains(scene: Scene, answers: Mapping[str, list[Floats]]) -> None:
    rivals = [name for name in answers if name not in ("own as shipped", "program", "Riboud", "Ray-Pal", "blend")]
    print("\nFall of the RMS error against the blend, mean [5 %, 95 %] over redrawn papers:")
    print("| class | " + " | ".join(rivals) + " |\n|" + "---|" * (len(rivals) + 1))
    for name, class_ in scene.classes.items():
        cells = [
            "{:+.3f} [{:+.3f}, {:+.3f}]".format(*_gain(scene, class_, answers["blend"], answers[r])) for r in rivals
        ]
        print(f"| {name} | " + " | ".join(cells) + " |")


def _print_coverage(scene: Scene, answers: Mapping[str, list[Floats]], stated: Floats) -> None:
    """Coverage of the interval that the program states, and of the table alone, for errors of unseen papers too."""
    table = table_half_width(scene)
    columns = {
        "program, as stated": ("program", stated),
        "blend of refit, as stated": ("blend", stated),
        "blend of refit, table alone": ("blend", table),
    }
    print("\nShare of points inside the 90 % interval (mean half width), where the program tells a viscosity:")
    print("| class | n | " + " | ".join(columns) + " |\n|" + "---|" * (len(columns) + 2))
    for name, class_ in scene.classes.items():
        rows = class_ & scene.scored & ~np.isnan(stated)
        cells = []
        for key, half in columns.values():
            errors = [np.abs(a - scene.points.log_viscosity) for a in answers[key]]
            inside = np.mean([np.mean((e <= half)[rows]) for e in errors])
            cells.append(f"{100.0 * inside:.0f} % ({half[rows].mean():.2f})")
        print(f"| {name} | {rows.sum()} | " + " | ".join(cells) + " |")


def main(wheel: Path, seeds: int) -> None:
    """Print the scores, the gains and the coverage."""
    scene = Scene(wheel)
    p = scene.points
    print(f"{len(p.log_viscosity)} points of {len(set(p.source))} papers; RMS / median error [log10 Pa s]\n")
    shipped = regression(scene.features, SHIPPED_C, p.temperature)
    told = viscosity(p.n, p.temperature)
    answers: dict[str, list[Floats]] = {
        "own as shipped": [shipped],
        "program": [told.log10],
        "Riboud": [scene.riboud],
        "Ray-Pal": [ray_pal(p.n, p.temperature)],
    }
    for seed in range(seeds):
        for name, each in candidates(scene, seed).items():
            answers.setdefault(name, []).append(each)
    _print_scores(scene, answers)
    _print_gains(scene, answers)
    _print_coverage(scene, answers, told.half_widths[LEVELS.index(90)])


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 3)
