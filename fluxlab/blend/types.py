"""The solver's values: what is asked of a blend, and what comes back. Oxides and components are labels only."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from fluxlab.blend.system import Trace

Vec = NDArray[np.float64]
Mat = NDArray[np.float64]
Index = NDArray[np.intp]
Mask = NDArray[np.bool_]
KernelChoice = Literal["auto", "numpy"]
Side = Literal["lo", "hi"]
Status = Literal["ok", "relaxed", "impossible", "undefined", "invalid"]
State = Literal["inside", "at_lo", "at_hi", "below", "above", "undefined", "fixed"]
Method = Literal["nearest", "corner", "shrunk", "guard", "moves", "search", "failed"]

PHYSICAL, MUST, WISH = 0, 1, 2

# What holds a component when no window does; the names cannot be mistaken for window keys.
LOCKED, LEAST, STOCK, UNUSED, HOUSE = "@locked", "@least", "@stock", "@unused", "@house"
# Before a window key: the window keeps the component down instead of up.
KEPT_DOWN = "<"


@dataclass(frozen=True, slots=True, eq=False)
class Functional:
    """A quantity that is affine in the recipe: u.n + v.x + c, n [mol] the oxides of the melt, x [g] the components.

    `u` has one entry per oxide, `v` one per component.
    """

    u: Vec
    v: Vec
    c: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """A band for num/den in the window's own unit; -inf and +inf leave an end open.

    `tol` is the size of a change the operator would just notice. `priority`: 0 physical, 1 must, 2 wish, 3 unused.
    A target with a must end and a wish end is two windows. `is_log` says that the value is a logarithm to ten, which
    the operator sees as the figure itself.
    """

    key: str
    label: str
    unit: str
    lo: float
    hi: float
    num: Functional
    den: Functional | None
    tol: float
    priority: int = WISH
    weight: float = 1.0
    decimals: int = 2
    is_log: bool = False


@dataclass(frozen=True, slots=True)
class Goal:
    """What to make least: money, mass, or the distance from the house recipe.

    `smooth` keeps the answer unique and free of jumps; 0 asks for the exact minimum, ties broken towards the house
    recipe. `then` are further goals, each taken while the ones before may lose the share `give` of their best value.
    """

    kind: Literal["cost", "mass", "closest"] = "mass"
    smooth: float = 1e-2
    then: tuple["Goal", ...] = ()
    give: float = 0.01


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """One blend to be found, as arrays.

    `Y` [mol/g] is oxides x components, `b` [mol] the oxides that are there before any component. `cost` [money/g];
    `lo`, `hi`, `ref` (house recipe), `scale` and `step` (balance) [g] have one entry per component; lo = hi locks it.
    `oxide_mass` [g/mol] lets effects be told per gram of oxide instead of per mole.
    """

    oxides: tuple[str, ...]
    components: tuple[str, ...]
    Y: Mat
    b: Vec
    cost: Vec
    lo: Vec
    hi: Vec
    ref: Vec
    scale: Vec
    step: Vec
    windows: tuple[Window, ...]
    goal: Goal = field(default_factory=Goal)
    oxide_mass: Vec | None = None


@dataclass(frozen=True, slots=True)
class Note:
    """One repair or refusal made before solving; `words` turns it into a sentence."""

    code: Literal[
        "not_a_number",
        "empty_window",
        "bad_tolerance",
        "bad_scale",
        "negative_amount",
        "more_than_stock",
        "undefined",
        "fixed",
        "fixed_outside",
        "no_oxides",
        "no_prices",
        "all_locked",
    ]
    subject: str = ""
    value: float = 0.0


@dataclass(frozen=True, slots=True)
class WindowState:
    """Where a recipe stands in one window. `off_by` in the window's unit, `off_tol` in tolerances.

    `price` is what one tolerance of the binding limit costs: money when money is made least, else grams of the charge.
    """

    key: str
    value: float
    lo: float
    hi: float
    state: State
    off_by: float = 0.0
    off_tol: float = 0.0
    price: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Effect:
    """How the recipe answers one change: `dx` [g] and `dcost` [money] per unit `per` of the cause.

    Exact for the next `holds_for` units, after which another limit takes over.
    """

    cause: str
    per: str
    dx: Vec
    dcost: float
    holds_for: float


@dataclass(frozen=True, slots=True)
class Relief:
    """The limit of one window that alone would end a conflict, every other window kept."""

    window: str
    side: Side
    asked: float
    needed: float


@dataclass(frozen=True, slots=True)
class Conflict:
    """A smallest set of windows that cannot hold together; `more` tells of a second, independent conflict."""

    windows: tuple[str, ...]
    reliefs: tuple[Relief, ...]
    more: bool


@dataclass(frozen=True, slots=True, eq=False)
class Result:
    """The recipe `x` [g] with its cost [money] and mass [g], the state of every window, and how it was found.

    `opened` are the windows that gave way, `at_stock` the components used up to their upper bound. `residual` is the
    largest violation of the optimality conditions, in units of normalised rows.
    """

    status: Status
    x: Vec
    cost: float
    mass: float
    windows: tuple[WindowState, ...]
    opened: tuple[WindowState, ...]
    at_stock: tuple[str, ...]
    locked: tuple[str, ...]
    notes: tuple[Note, ...]
    residual: float
    kernel: str
    solves: int
    micros: float
    trace: "Trace | None" = field(default=None, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Rounded:
    """A recipe on the balance's grid [g].

    `kept_all`: every window that the unrounded recipe keeps still holds; `kept_musts`: the musts and the physical ones.
    `broken` are the windows that rounding broke, `too_coarse` the one with the least room on this grid when it failed.
    """

    x: Vec
    method: Method
    kept_all: bool
    kept_musts: bool
    broken: tuple[WindowState, ...]
    cost: float
    mass: float
    too_coarse: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Minerals:
    """Shares of the minerals with their ranges and the oxides [mol] that a share of 1 delivers (minerals x oxides)."""

    low: Vec
    likely: Vec
    high: Vec
    oxides: Mat


@dataclass(frozen=True, slots=True, eq=False)
class Chance:
    """Chances [0..1] over samples of the ore: every window, every must (and physical one), and each window alone.

    `weakest` is the window that fails most often, among the musts as long as they fail at all.
    """

    all: float
    musts: float
    windows: Vec
    weakest: str
    samples: int
