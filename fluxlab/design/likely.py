"""Likely ores for a solved recipe: the oxides of each, and what else of a target depends on the ore."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from fluxlab.blend.chance import by_samples
from fluxlab.blend.types import Mat, Vec
from fluxlab.design.balance import Balance
from fluxlab.design.lead_law import burnt_feed, lead_kept_up, lead_thrown_down
from fluxlab.design.lead_miss import errors_of_lead, miss_of_lead
from fluxlab.design.likely_sulphate import as_flux
from fluxlab.design.limit_words import end, target_of
from fluxlab.design.melt_law import VISCOSITY
from fluxlab.design.pour_volume import volume_factors
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import TargetReport
from fluxlab.design.standing import allowances
from fluxlab.design.target_report import target_reports
from fluxlab.design.windows import volume_rows
from fluxlab.fusion.litharge import SulphideLead
from fluxlab.fusion.melt import melt_of
from fluxlab.materials.estimate import NINE_IN_TEN
from fluxlab.materials.formulas import atomic_mass
from fluxlab.materials.minerals import Mineral
from fluxlab.materials.oxides import INDEX, MASS
from fluxlab.ore import pot
from fluxlab.ore.feed import EARTHY
from fluxlab.ore.samples import COUNT, PotSamples, pot_samples
from fluxlab.ore.unit_feed import UnitFeed, unit_feed
from fluxlab.slag.metals import liquid_density
from fluxlab.vessel.filling import slag_for_cover

_PB, _CU = INDEX["PbO"], INDEX["Cu2O"]
_LEAD, _COPPER = atomic_mass("Pb"), 2.0 * atomic_mass("Cu")
_EARTHY_MASS: Vec = MASS * np.array([float(i in {INDEX[s] for s in EARTHY}) for i in range(len(MASS))])
_GRID = 12


@dataclass(frozen=True, slots=True, eq=False)
class Pour:
    """The viscosity that a melt may have at the pour, as a must.

    `log_viscosity` maps slags (a line each) [mol] and a temperature [degC] to log10 Pa s; `half_width` [log10 Pa s] is
    half the 9-in-10 range of its error. `most` [Pa s] at `temperature` [degC].
    """

    log_viscosity: Callable[[Mat, float], Vec]
    half_width: float
    temperature: float
    most: float

    def errors(self, count: int, seed: int) -> Vec:
        """One error for each sample [log10 Pa s], the same for the same seed."""
        draws = np.random.default_rng((seed, 1)).standard_normal(count)
        return np.asarray(self.half_width / NINE_IN_TEN * draws)


@dataclass(frozen=True, slots=True, eq=False)
class Likely:
    """Likely ores for one recipe: `oxides` (samples x oxides) [mol] and `shift` (windows x samples) of its problem.

    `errors` [log10 Pa s] are those of the viscosity and `lead_errors` [g Pb] those of the lead brought down, one per
    sample. `ranged` says whether the ores differ. `allowed` (windows), in the unit of each window, is by how much it is
    missed where that counts as standing on its limit.
    """

    oxides: Mat
    shift: Mat
    errors: Vec
    lead_errors: Vec
    ranged: bool
    allowed: Vec

    @property
    def known(self) -> bool:
        """Whether anything sets one likely melt apart from another."""
        return self.ranged or bool(self.errors.any()) or bool(self.lead_errors.any())


def likely(
    work: Work,
    found: Balance,
    seed: int,
    pour: Pour | None = None,
    count: int = COUNT,
    targets: Iterable[TargetReport] | None = None,
    lead_miss: float | None = None,
) -> Likely:
    """Likely ores for a solved recipe [mol]; sets of different seeds are independent.

    `targets` says where the recipe stands against its targets, if that is known already. `lead_miss` [g Pb] is the
    standard deviation of the lead of a button that is aimed at, by default that of this recipe.
    """
    recipe = work.recipe
    drawn = pot_samples(
        recipe.ore, recipe.pot_feed, found.feed.dry, found.ferric_share, recipe.roast, count=count, seed=seed
    )
    B = drawn.oxides
    unit = unit_feed(recipe.ore, recipe.pot_feed, recipe.roast)
    lead, lead_errors = np.zeros(count), np.zeros(count)
    if steered(found):
        lead_errors = errors_of_lead(miss_of_lead(work, found) if lead_miss is None else lead_miss, count, seed)
        lead = _lead_moves(unit, found, drawn) + lead_errors
    shift = _shift(found, B, lead)
    B, held = as_flux(found, drawn, unit)
    if lead.any():
        B = B.copy()
        B[:, _PB] -= lead / _LEAD
    _swell(shift, found, B)
    _borax(shift, found, B, held)
    errors = np.zeros(count) if pour is None else pour.errors(count, seed)
    if VISCOSITY in found.compiled.index:
        shift[found.compiled.index[VISCOSITY]] = errors
    return Likely(B, shift, errors, lead_errors, drawn.ranged, _allowed(found, targets))


def _allowed(found: Balance, targets: Iterable[TargetReport] | None) -> Vec:
    told = target_reports(found, found.targets, {}) if targets is None else targets
    by_key, index = allowances(found, told), found.compiled.index
    return np.array([by_key.get(key, 0.0) for key in index])


def steered(found: Balance) -> bool:
    """Whether a lead button is aimed at."""
    return any(t.key == "lead_button" and t.on for t in found.targets)


def _shift(found: Balance, B: Mat, lead: Vec) -> Mat:
    """What each sample adds to the numerator of each window besides its oxides (windows x samples)."""
    c = found.compiled
    shift = np.zeros((c.count, len(B)))
    for key, k in c.index.items():
        name, side = end(key)
        limit = float(c.window_lo[k] if side == "lo" else c.window_hi[k])
        if name == "parts" and found.setting.gangue > 0.0:
            # Flux over this ore's gangue against the limit is flux over the likely gangue against a moved limit.
            shift[k] = limit * (1.0 - by_samples(_EARTHY_MASS[None], B)[0] / found.setting.gangue)
        elif name == "cover":
            shift[k] = limit - _cover_limits(found, key, B, lead)
        elif name == "lead_button":
            shift[k] = lead
    return shift


def _swell(shift: Mat, found: Balance, B: Mat) -> None:
    """Add to the rows of melt volume what the melt of each sample takes up more than the likely one at this recipe."""
    s, c = found.setting, found.compiled
    rows = [c.index[key] for key in volume_rows(s, found.targets) if key in c.index]
    if not rows:
        return
    slags = np.maximum(B + c.problem.Y @ found.result.x, 0.0)
    more = volume_factors(slags, s.temperature) / s.volume_factor - 1.0
    shift[rows] += more * (c.U[rows] @ slags.T)


def _borax(shift: Mat, found: Balance, B: Mat, held: Vec) -> None:
    """Add to a degree that leaves the soda of borax out what it differs by for the sulphur of each sample."""
    degree, c = target_of(found, "degree#lo"), found.compiled
    ends = (("degree#lo", c.window_lo), ("degree#hi", c.window_hi))
    rows = [(c.index[key], float(limits[c.index[key]])) for key, limits in ends if key in c.index]
    if degree is None or degree.convention != "S" or not held.any() or not rows:
        return
    # The soda left out stands under the line: more of it counts as so many times the limit less above it.
    more = (held - 1.0 + found.setting.borax_left) * float(found.fluxes.borax_soda @ found.x)
    for k, limit in rows:
        shift[k] -= limit * more


def _cover_limits(found: Balance, key: str, B: Mat, lead: Vec) -> Vec:
    """Melt volume that covers the metal of each sample [cm3]: its copper and its lead, or its lead button, lie under
    the slag; `lead` [g] is what a sample brings down more than the likely ore."""
    target, pot_ = target_of(found, key), found.setting.pot
    height = None if target is None else target.lo if key.endswith("lo") else target.hi
    if pot_ is None or height is None:
        return np.zeros(len(B))
    at = found.setting.temperature
    metal = np.full(len(B), found.setting.cover_metal)
    if steered(found):
        more = np.maximum(found.button + lead, 0.0) - found.button
    else:
        more = (B[:, _PB] - found.feed.oxides[_PB]) * _LEAD
    metal += more / liquid_density("Pb", at)
    metal += (B[:, _CU] - found.feed.oxides[_CU]) * _COPPER / liquid_density("Cu", at)
    metal = np.maximum(metal, 0.0)
    grid = np.linspace(metal.min(), metal.max(), _GRID)
    return np.asarray(np.interp(metal, grid, [slag_for_cover(pot_, float(v), height) for v in grid]))


def _lead_moves(unit: UnitFeed, found: Balance, drawn: PotSamples) -> Vec:
    """Lead that each sample brings down more than the likely ore [g]."""
    each = _lead_per_gram(unit, found)
    moved = drawn.weights - found.feed.dry * np.array(unit.weights)
    return np.asarray(by_samples(each[None], moved)[0])


def _lead_per_gram(unit: UnitFeed, found: Balance) -> Vec:
    """Lead that a raw gram of each entry of the mix brings down, negative: keeps up [g/g]; none after a partial roast,
    which leaves no mineral its own."""
    if unit.roast_of is not None and unit.roast_of.left is not None:
        return np.zeros(len(unit.mix.entries))
    # Sulphur of every ore is held as that of the likely one is: the ores differ little in soda and quartz.
    burning = found.feed.sulphide > 0.0 and unit.roast is None
    burnt = burnt_feed(found.feed, melt_of(found.whole), found.tables) if burning else None
    return np.array([_lead_of(e.mineral, unit.roast is not None, burnt) for e in unit.mix.entries])


def _lead_of(mineral: Mineral, roasted: bool, burnt: SulphideLead | None) -> float:
    piece = pot.calcined(mineral) if roasted else pot.raw(mineral)
    return (lead_thrown_down(mineral.formula, burnt) if burnt else 0.0) - lead_kept_up(piece.reducible)
