"""Targets as windows of the solver: each a band for a ratio of quantities that are affine in the weights."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from fluxlab import resources
from fluxlab.blend.types import MUST, PHYSICAL, WISH, Functional, Window
from fluxlab.design.charge import Fluxes
from fluxlab.design.melt_law import log_limit, log_tolerance
from fluxlab.design.pot_asks import OxygenAsked
from fluxlab.design.recipe import Convention, Target
from fluxlab.design.row_roles import Agents
from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec
from fluxlab.slag.degree import degree_coefficients
from fluxlab.slag.density import cover_volume_coefficients, volume_coefficients
from fluxlab.slag.indices import (
    basicity_coefficients,
    borate_share_coefficients,
    mass_share_coefficients,
    optical_basicity_coefficients,
)
from fluxlab.vessel.filling import slag_for_cover
from fluxlab.vessel.profile import Profile

LEAST_DEMAND = 0.002
"""Oxygen wanted of the reducers over the charge [g/g], below which nothing is said of it; judgement."""
LITHARGE = "@litharge"
"""The physical row that keeps PbO in the slag from going below nothing."""


@dataclass(frozen=True, slots=True, eq=False)
class Setting:
    """What targets are measured against.

    `charge` [g], `heap` loose volume of the feed [cm3], `gangue` earthy gangue of the charge [g], `metal_volume` silver
    and gold [cm3], `cover_metal` silver, gold, lead and copper of the charge as metal [cm3], `ore_lead` lead that the
    feed and the wall of the pot bring down (negative: keep up) [g], `feeds` the number of parts the charge goes in,
    `agents` what drives the pot in each row and `oxygen` what it asks of its reducers. `temperature` that of the pour
    [degC]. `volume_factor` [cm3/cm3] makes added melt volumes those of the pour; `salt_volume` of sulphate floats on it
    and `under_volume` of base metals, matte and speiss lies under it [cm3]; of the soda of borax `borax_left` [mol/mol]
    is not in that sulphate.
    """

    fluxes: Fluxes
    charge: float
    heap: float
    gangue: float
    metal_volume: float
    cover_metal: float
    ore_lead: float
    sulphur: float
    feeds: int
    pot: Profile | None
    mould: Profile | None
    agents: Agents
    oxygen: OxygenAsked
    temperature: float = 1150.0
    volume_factor: float = 1.0
    salt_volume: float = 0.0
    under_volume: float = 0.0
    borax_left: float = 1.0

    @property
    def metal_and_more(self) -> float:
        """Volume of the melt beside the slag [cm3]: metal, matte, speiss, sulphate."""
        return self.metal_volume + self.salt_volume + self.under_volume

    @property
    def volumes(self) -> Vec:
        """Melt volume per mole of each basis oxide as it is poured [cm3/mol]."""
        return self.volume_factor * volume_coefficients()

    @property
    def cover_volumes(self) -> Vec:
        """The same, lead and copper oxides left out [cm3/mol]."""
        return self.volume_factor * cover_volume_coefficients()


Shape = tuple[Functional, Functional | None]
Maker = Callable[[Setting, Target], Shape | None]


def _u(vector: Vec, s: Setting, v: Vec | None = None, c: float = 0.0) -> Functional:
    return Functional(vector, np.zeros(len(s.fluxes.lines)) if v is None else v, c)


def _v(vector: Vec, c: float = 0.0) -> Functional:
    return Functional(np.zeros(SIZE), vector, c)


def _degree(s: Setting, t: Target) -> Shape:
    convention: Convention = t.convention or "SB"
    acid, base = degree_coefficients(convention)
    # A vector over the oxides cannot tell borax soda from soda ash; under S it is taken off row by row.
    borax = -s.borax_left * s.fluxes.borax_soda if convention == "S" else None
    return _u(acid, s), _u(base, s, borax)


def _borate(s: Setting, t: Target) -> Shape:
    top, bottom = borate_share_coefficients()
    return _u(top, s), _u(bottom, s)


def _basicity(s: Setting, t: Target) -> Shape:
    top, bottom = basicity_coefficients("mass")
    return _u(top, s), _u(bottom, s)


def _optical(s: Setting, t: Target) -> Shape:
    top, bottom = optical_basicity_coefficients()
    return _u(top, s), _u(bottom, s)


def _cap(s: Setting, t: Target) -> Shape:
    top, bottom = mass_share_coefficients(t.key.removeprefix("cap:"))
    return _u(100.0 * top, s), _u(bottom, s)


def _fluorspar(s: Setting, t: Target) -> Shape:
    return _v(100.0 * s.fluxes.content("fluoride")), _v(s.fluxes.is_flux)


def _cover(s: Setting, t: Target) -> Shape | None:
    return None if s.pot is None else (_u(s.cover_volumes, s), None)


def _parts(s: Setting, t: Target) -> Shape | None:
    return None if s.gangue <= 0.0 else (_v(s.fluxes.is_flux / s.gangue), None)


def _flux_to_ore(s: Setting, t: Target) -> Shape | None:
    return None if s.charge <= 0.0 else (_v(s.fluxes.is_flux / s.charge), None)


def _loose(s: Setting, t: Target) -> Shape | None:
    """The fullest heap: the last of equal feeds, lying on the melt of those before it."""
    if s.pot is None:
        return None
    percent, molten = 100.0 / s.pot.brim / s.feeds, s.feeds - 1
    heap = s.heap + molten * s.metal_and_more
    return _u(molten * s.volumes * percent, s, s.fluxes.loose * percent, heap * percent), None


def _melt_in(vessel: Profile | None, s: Setting) -> Shape | None:
    if vessel is None:
        return None
    percent = 100.0 / vessel.brim
    return _u(s.volumes * percent, s, c=s.metal_and_more * percent), None


def _melt_in_pot(s: Setting, t: Target) -> Shape | None:
    return _melt_in(s.pot, s)


def _melt_in_mould(s: Setting, t: Target) -> Shape | None:
    return _melt_in(s.mould, s)


def _soda(s: Setting, t: Target) -> Shape:
    # Soda free to take up sulphur, told as soda ash: what comes with borax is bound.
    soda_ash = 2 * 22.990 + 12.011 + 3 * 15.999
    free = s.fluxes.Y[INDEX["Na2O"]] - s.fluxes.borax_soda
    return _v(free * soda_ash), None


def _litharge_left(s: Setting, t: Target) -> Shape:
    lead_oxide = np.zeros(SIZE)
    lead_oxide[INDEX["PbO"]] = MASS[INDEX["PbO"]]
    return _u(lead_oxide, s), None


def _lead_button(s: Setting, t: Target) -> Shape:
    return _v(s.fluxes.power, s.ore_lead), None


def _iron(s: Setting, t: Target) -> Shape:
    return _v(s.agents.iron), None


def _nitre(s: Setting, t: Target) -> Shape:
    return _v(s.agents.nitre), None


def _budget(s: Setting, t: Target) -> Shape | None:
    """Oxygen that reducers take over what is wanted of them; without a meaning where next to nothing is wanted."""
    asked = s.oxygen.demand
    if asked <= LEAST_DEMAND * s.charge:
        return None
    return _v(s.agents.reducers / asked, s.oxygen.others / asked), None


_MAKERS: dict[str, Maker] = {
    "degree": _degree,
    "borate": _borate,
    "basicity": _basicity,
    "optical": _optical,
    "fluorspar": _fluorspar,
    "cover": _cover,
    "parts": _parts,
    "flux_to_ore": _flux_to_ore,
    "loose_fill": _loose,
    "gas_fill": _loose,
    "melt_fill": _melt_in_pot,
    "mould_fill": _melt_in_mould,
    "mould_room": _melt_in_mould,
    "soda_for_sulphur": _soda,
    "litharge_left": _litharge_left,
    "lead_button": _lead_button,
    "iron_for_sulphur": _iron,
    "nitre_for_sulphur": _nitre,
    "reducer_budget": _budget,
}
_BY_VOLUME = (_cover, _loose, _melt_in_pot, _melt_in_mould)


def shape(s: Setting, t: Target) -> Shape | None:
    """Numerator and denominator of a target's quantity; None where the setting leaves it without meaning."""
    maker = _MAKERS.get(t.key, _cap if t.key.startswith("cap:") else None)
    return maker(s, t) if maker else None


def as_volume(s: Setting, cover: float) -> float:
    """Melt volume that stands a height [mm] over the metal in this pot [cm3]."""
    return 0.0 if s.pot is None else slag_for_cover(s.pot, s.cover_metal, cover)


def words(key: str) -> dict[str, str]:
    """Label, unit, tolerance and sentences of a target; an oxide cap without words of its own gets plain ones."""
    table = resources.toml("targets.toml")
    if key in table:
        found: dict[str, str] = table[key]
        return found
    oxide = key.removeprefix("cap:")
    return dict(table["cap:ZnO"]) | {
        "label": oxide,
        "up": f"Brings {oxide} up to {{lo}} %",
        "down": f"Thins the {oxide} to {{hi}} %",
        "about": f"{oxide} in the slag.",
        "formula": f"{oxide} in the slag [mass %]",
        "source": "your own limit",
    }


def _ends(s: Setting, t: Target) -> tuple[float | None, float | None]:
    """The ends of a target in the unit of its window: a cover in millimetres as the melt that it takes, a viscosity as
    its logarithm."""
    if t.key == "viscosity":
        return None, log_limit(t)
    if t.key != "cover":
        return t.lo, t.hi
    return None if t.lo is None else as_volume(s, t.lo), None if t.hi is None else as_volume(s, t.hi)


def limits(s: Setting, targets: tuple[Target, ...]) -> dict[str, tuple[float, float]]:
    """The limits of the windows by key, as the setting has them now; for windows that are made already."""
    found = {}
    for t in targets:
        lo, hi = _ends(s, t)
        if lo is not None:
            found[f"{t.key}#lo"] = (lo, np.inf)
        if hi is not None:
            found[f"{t.key}#hi"] = (-np.inf, hi)
    return found


def volume_rows(s: Setting, targets: tuple[Target, ...]) -> dict[str, Functional]:
    """The quantities that the volume of the melt enters, by the key of their windows."""
    on = [t for t in targets if t.on and _MAKERS.get(t.key) in _BY_VOLUME]
    made = ((t.key, shape(s, t)) for t in on)
    return {f"{key}#{end}": each[0] for key, each in made if each is not None for end in ("lo", "hi")}


def windows(s: Setting, targets: tuple[Target, ...]) -> tuple[Window, ...]:
    """One window per end of every target that is on and has a meaning, keyed "degree#lo", "degree#hi"."""
    found: list[Window] = []
    for t in targets:
        made = _window_shape(s, t) if t.on else None
        if made is None:
            continue
        text = words(t.key)
        tol, unit = float(text["tolerance"]), text["unit"]
        if t.key == "viscosity" and t.hi is not None:
            tol = log_tolerance(t.hi, tol)
        if t.key == "cover" and s.pot is not None:
            at = s.pot.level(s.cover_metal) + (t.lo or t.hi or 0.0)
            tol, unit = tol * np.pi * s.pot.radius(at) ** 2 / 1000.0, "cm³ of melt"
        kinds = {"lo": t.lo_kind, "hi": t.hi_kind}
        for key, (lo, hi) in limits(s, (t,)).items():
            found.append(
                Window(
                    key=key,
                    label=text["label"],
                    unit=unit,
                    lo=lo,
                    hi=hi,
                    num=made[0],
                    den=made[1],
                    tol=tol,
                    priority=MUST if kinds[key.partition("#")[2]] == "must" else WISH,
                    decimals=int(text["decimals"]),
                    is_log=t.key == "viscosity",
                )
            )
    if any(t.key == "lead_button" and t.on for t in targets):
        found.append(litharge_row(s))
    return tuple(found)


def _window_shape(s: Setting, t: Target) -> Shape | None:
    """Numerator and denominator of a target's window.

    A viscosity is no ratio of the weights; its window starts empty and is filled with a tangent when it is solved.
    """
    if t.key != "viscosity":
        return shape(s, t)
    most = log_limit(t)
    return None if most is None else (_u(np.zeros(SIZE), s, c=most - 1.0), None)


def litharge_row(s: Setting) -> Window:
    """Lead cannot be brought down from litharge that is not there."""
    lead_oxide = np.zeros(SIZE)
    lead_oxide[INDEX["PbO"]] = MASS[INDEX["PbO"]]
    num = _u(lead_oxide, s)
    return Window(LITHARGE, "Litharge", "g", 0.0, np.inf, num, None, tol=0.1, priority=PHYSICAL, decimals=1)
