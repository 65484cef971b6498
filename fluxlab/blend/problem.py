"""From a problem in the operator's terms to stacked arrays, checked once and updated in place at each edit."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from fluxlab.blend.system import RowMatrix, System, aim, assemble, objective, row_matrix
from fluxlab.blend.types import MUST, PHYSICAL, Functional, KernelChoice, Mask, Mat, Note, Problem, Vec

_WEIGHTS = {PHYSICAL: 1000.0, MUST: 100.0, 2: 10.0, 3: 1.0}
_REFUSALS = ("not_a_number", "empty_window", "bad_tolerance", "bad_scale")
_UNBOUNDED = 1e4
_LEAST_FILL = 0.05
_FILL = 3.0
# Beyond this a figure is not one: its square would still be finite, and no melt comes near it.
_HUGE = 1e30


class Compiled:
    """A problem as arrays: fixed structure, numbers that `update` changes.

    `GN` and `GD` (windows x components) are numerators and denominators per gram; the constant parts follow from `b`.
    """

    def __init__(self, p: Problem, kernel: KernelChoice) -> None:
        self.problem, self.kernel = p, kernel
        windows = p.windows
        self.count = len(windows)
        one = Functional(np.zeros(len(p.oxides)), np.zeros(len(p.components)), 1.0)
        functionals = [w.num for w in windows] + [w.den or one for w in windows]
        self.U: Mat = np.array([f.u for f in functionals], dtype=float).reshape(2 * self.count, len(p.oxides))
        self.V: Mat = np.array([f.v for f in functionals], dtype=float).reshape(2 * self.count, len(p.components))
        self.C: Vec = np.array([f.c for f in functionals], dtype=float)
        self.tol: Vec = np.array([w.tol for w in windows], dtype=float)
        self.priority = np.array([w.priority for w in windows], dtype=int)
        self.weight: Vec = np.array([_WEIGHTS.get(w.priority, 1.0) * w.weight for w in windows], dtype=float)
        self.index = {w.key: k for k, w in enumerate(windows)}
        self.own_denominator = _first_of_each(np.hstack((self.U, self.V, self.C[:, None]))[self.count :])
        self.b: Vec = np.array(p.b, dtype=float)
        self.cost: Vec = np.array(p.cost, dtype=float)
        self.xl: Vec = np.array(p.lo, dtype=float)
        self.xu: Vec = np.array(p.hi, dtype=float)
        self.ref: Vec = np.array(p.ref, dtype=float)
        self.scale: Vec = np.array(p.scale, dtype=float)
        self.window_lo: Vec = np.array([w.lo for w in windows], dtype=float)
        self.window_hi: Vec = np.array([w.hi for w in windows], dtype=float)
        self._notes: dict[str, tuple[Note, ...]] = {}
        self.notes: tuple[Note, ...] = ()
        self.valid = False
        self.one_each: Vec = np.ones(len(p.components))
        self.nothing_fixed = np.zeros(self.count, dtype=bool)
        self.goal_kind = p.goal.kind
        self._matrix: RowMatrix | None = None
        self._system: System | None = None
        self._fixed_numbers()
        readable = not self._notes["numbers"]
        self.G: Mat = self.U @ p.Y + self.V if readable else np.zeros((2 * self.count, len(p.components)))
        self._amounts()
        self._bounds()
        self._limits()
        self._prices()
        self._settle()

    @property
    def GN(self) -> Mat:
        """Numerators per gram of component (windows x components)."""
        return self.G[: self.count]

    @property
    def GD(self) -> Mat:
        """Denominators per gram of component (windows x components)."""
        return self.G[self.count :]

    def system(self) -> System:
        """The scaled rows for the numbers as they stand; a later update leaves it untouched."""
        if self._system is None:
            if self._matrix is None:
                self._matrix = row_matrix(self)
            self._system = assemble(self, self._matrix)
        return self._system

    def _settle(self) -> None:
        """Gather the notes; `valid` says whether the numbers can be solved at all."""
        self._system = None
        self.notes = tuple(note for group in self._notes.values() for note in group)
        self.valid = not any(note.code in _REFUSALS for note in self.notes)

    def _fixed_numbers(self) -> None:
        p, notes = self.problem, []
        if not _is_number(p.Y).all():
            notes.append(Note("not_a_number", "yields"))
        stacked = np.hstack((self.U, self.V, self.C[:, None]))
        for k in np.flatnonzero(~_is_number(stacked).all(axis=1)).tolist():
            notes.append(Note("not_a_number", p.windows[k % self.count].key))
        for w in p.windows:
            if not (_is_size(w.tol) and _is_size(w.weight)):
                notes.append(Note("bad_tolerance", w.key, w.tol))
        for sizes in (self.scale, p.step):
            for name, size in zip(p.components, sizes.tolist(), strict=True):
                if not _is_size(size):
                    notes.append(Note("bad_scale", name, size))
        self._notes["numbers"] = tuple(notes)

    def _amounts(self) -> None:
        p, b = self.problem, self.b
        self.b = np.maximum(b, 0.0)
        if np.count_nonzero((b >= 0.0) & (b < _HUGE)) == len(b) and np.count_nonzero(b):
            self._notes["amounts"] = ()
            return
        notes = [Note("not_a_number", p.oxides[i]) for i in np.flatnonzero(~_is_number(b)).tolist()]
        for i in np.flatnonzero(b < 0.0).tolist():
            notes.append(Note("negative_amount", p.oxides[i], float(b[i])))
        if not self.b.any():
            notes.append(Note("no_oxides"))
        self._notes["amounts"] = tuple(notes)

    def _bounds(self) -> None:
        """Free components and everything of the rows that depends on bounds, house recipe and scale alone."""
        p = self.problem
        names = p.components
        notes: list[Note] = []
        bad = ~_is_number(self.xl) | np.isnan(self.xu) | (self.xu <= -_HUGE) | ~_is_number(self.ref)
        notes += [Note("not_a_number", names[j]) for j in np.flatnonzero(bad).tolist()]
        for j in np.flatnonzero(self.xl > self.xu).tolist():
            notes.append(Note("more_than_stock", names[j], float(self.xu[j])))
        self._notes["bounds"] = tuple(notes)
        self._matrix = None
        if bad.any() or self._notes["numbers"]:
            return
        self.low = np.minimum(self.xl, self.xu)
        self.high = np.minimum(self.xu, _UNBOUNDED * self.scale + np.abs(self.low))
        self.is_free = self.high > self.low
        self.free = np.flatnonzero(self.is_free)
        self.free_list: list[int] = self.free.tolist()
        self.locked_names = tuple(names[j] for j in np.flatnonzero(~self.is_free).tolist())
        if not len(self.free):
            self._notes["bounds"] += (Note("all_locked"),)
        self.base: Vec = np.where(self.is_free, 0.0, self.low)
        self.locked_part: Vec = self.G @ self.base + self.C
        self.sigma: Vec = self.scale[self.free]
        self.GF: Mat = self.G[:, self.free] * self.sigma
        self.yl: Vec = self.low[self.free] / self.sigma
        self.yu: Vec = self.high[self.free] / self.sigma
        self.yu_list: list[float] = self.yu.tolist()
        self.r: Vec = self.ref[self.free] / self.sigma
        self._typical()
        den = self.GF[self.count :]
        # A denominator less its floor, the oxides' part alone, at or below which it is never, and above which always,
        # more than the floor.
        constant = self.locked_part[self.count :]
        self.den_never: Vec = -constant - np.maximum(den * self.yl, den * self.yu).sum(axis=1)
        always = -constant - np.minimum(den * self.yl, den * self.yu).sum(axis=1)
        self.den_always: Vec = np.where(self.own_denominator, always, -np.inf)
        self._aim()

    def _typical(self) -> None:
        """Denominators at a typical recipe: the house recipe, filled up evenly, more if it is thin, inside the bounds.

        A house recipe that leaves a component out must not leave a denominator without measure.

        Fixed components count like free ones, so that nothing jumps when a component's bounds meet.
        """
        house = self.ref / self.scale
        fill = max(_LEAST_FILL, (_FILL - float(np.abs(house).sum())) / max(1, len(house)))
        x = np.clip(self.ref + fill * self.scale, self.low, self.high)
        self.den_size: Vec = np.abs(self.GD) @ np.abs(x)
        self.den_ref: Vec = self.GD @ x + self.C[self.count :]
        locked = ~self.is_free
        self.GL: Mat | None = self.G[:, locked] * self.scale[locked] if locked.any() else None

    def _row(self, k: int) -> None:
        """What follows from the numerator of one window; nothing else of `_bounds` and `_typical` rests on it."""
        self._matrix = None
        if not hasattr(self, "sigma"):
            return
        self.locked_part = self.G @ self.base + self.C
        # copies, since a system that was made before keeps what it has
        self.GF = self.GF.copy()
        self.GF[k] = self.G[k, self.free] * self.sigma
        if self.GL is not None:
            locked = ~self.is_free
            self.GL = self.GL.copy()
            self.GL[k] = self.G[k, locked] * self.scale[locked]

    def _limits(self) -> None:
        lo, hi, notes = self.window_lo, self.window_hi, []
        for k in np.flatnonzero(np.isnan(lo) | np.isnan(hi) | (lo >= _HUGE) | (hi <= -_HUGE)).tolist():
            notes.append(Note("not_a_number", self.problem.windows[k].key))
        for k in np.flatnonzero(lo > hi).tolist():
            notes.append(Note("empty_window", self.problem.windows[k].key, float(lo[k] - hi[k])))
        self._notes["limits"] = tuple(notes)
        self._matrix = None
        at_lo, at_hi = np.flatnonzero(lo > -_HUGE), np.flatnonzero(hi < _HUGE)
        self.row_window = np.concatenate((at_lo, at_hi))
        self.row_side: Vec = np.concatenate((np.ones(len(at_lo)), -np.ones(len(at_hi))))
        self.row_limit: Vec = np.concatenate((lo[at_lo], hi[at_hi]))
        self.row_hard = self.priority[self.row_window] == PHYSICAL
        self.row_tol: Vec = self.tol[self.row_window]
        self.row_weight: Vec = self.weight[self.row_window]

    def _prices(self) -> None:
        names = self.problem.components
        bad = np.flatnonzero(~_is_number(self.cost)).tolist()
        notes = [Note("not_a_number", names[j]) for j in bad]
        if self.problem.goal.kind == "cost" and not self.cost.any():
            notes.append(Note("no_prices"))
        self._notes["prices"] = tuple(notes)
        self._aim()

    def _aim(self) -> None:
        if hasattr(self, "sigma") and _is_number(self.cost).all():
            self.linear, self.smooth = aim(self)
            self.H: Mat = self.smooth * np.eye(len(self.sigma))
            self.g: Vec = self.linear - self.smooth * self.r
            self.priced: Vec = objective(self, "cost" if self.goal_kind == "cost" else "mass")[self.free] * self.sigma


def _is_number(values: Mat) -> Mask:
    return np.asarray(np.abs(values) < _HUGE)


def _is_size(value: float) -> bool:
    return 1.0 / _HUGE < value < _HUGE


def _first_of_each(rows: Mat) -> Mask:
    """True at the first occurrence of each distinct row."""
    first, seen = np.zeros(len(rows), dtype=bool), set()
    for i, row in enumerate(rows + 0.0):  # plus zero makes -0.0 and 0.0 the same bytes
        key = row.tobytes()
        first[i] = key not in seen
        seen.add(key)
    return first


def compile(p: Problem, kernel: KernelChoice = "auto") -> tuple[Compiled, list[Note]]:
    """The problem as arrays, and a note for every repair.

    `kernel` "numpy" never asks the compiled one. Raises ValueError when shapes disagree or two windows share a key:
    both are faults of the caller, not of the data.
    """
    n, m = len(p.components), len(p.oxides)
    vectors = (p.cost, p.lo, p.hi, p.ref, p.scale, p.step)
    if p.Y.shape != (m, n) or p.b.shape != (m,) or any(v.shape != (n,) for v in vectors):
        raise ValueError("arrays of the problem disagree in shape")
    for w in p.windows:
        if any(f.u.shape != (m,) or f.v.shape != (n,) for f in (w.num, w.den) if f is not None):
            raise ValueError(f"window {w.key} disagrees in shape")
    if len({w.key for w in p.windows}) < len(p.windows):
        raise ValueError("two windows share a key")
    compiled = Compiled(p, kernel)
    return compiled, list(compiled.notes)


def update(
    c: Compiled,
    *,
    b: Vec | None = None,
    limits: Mapping[str, tuple[float, float]] | None = None,
    bounds: tuple[Vec, Vec] | None = None,
    cost: Vec | None = None,
    ref: Vec | None = None,
) -> None:
    """Change numbers of a compiled problem: oxides [mol], limits by window key, bounds and house recipe [g], prices."""
    if b is not None:
        c.b = np.array(b, dtype=float)
        c._amounts()
    if limits is not None:
        c.window_lo, c.window_hi = c.window_lo.copy(), c.window_hi.copy()
        for key, (lo, hi) in limits.items():
            c.window_lo[c.index[key]], c.window_hi[c.index[key]] = lo, hi
        c._limits()
    if bounds is not None:
        c.xl, c.xu = np.array(bounds[0], dtype=float), np.array(bounds[1], dtype=float)
    if ref is not None:
        c.ref = np.array(ref, dtype=float)
    if bounds is not None or ref is not None:
        c._bounds()
    if cost is not None:
        c.cost = np.array(cost, dtype=float)
        c._prices()
    c._settle()


def redefine(c: Compiled, key: str, num: Functional) -> None:
    """Give a window without a denominator another quantity, all of whose figures are numbers; everything else stays."""
    k = c.index[key]
    windows = list(c.problem.windows)
    windows[k] = replace(windows[k], num=num)
    c.problem = replace(c.problem, windows=tuple(windows))
    c.U[k], c.V[k], c.C[k] = num.u, num.v, num.c
    c.G[k] = num.u @ c.problem.Y + num.v
    c._row(k)
    c._settle()
