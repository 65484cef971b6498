"""What of a charge takes and gives oxygen in the pot, and the balance of it."""

from collections.abc import Iterable
from dataclasses import dataclass

from fluxlab.design.charge import Fluxes
from fluxlab.design.pot_figures import own_wall
from fluxlab.design.recipe import RouteName, Target, Work
from fluxlab.design.row_roles import RowsInPot, add, rows_in_pot
from fluxlab.fusion.burning import FUEL, is_fuel
from fluxlab.fusion.deportment import priors
from fluxlab.fusion.melt import Melt, melt_of
from fluxlab.fusion.redox import redox_balance, wall_of
from fluxlab.fusion.redox_types import Redox, Wall
from fluxlab.fusion.role import metals_of
from fluxlab.fusion.routes import routes
from fluxlab.fusion.sulphur_fate import sulphur_of
from fluxlab.fusion.tables import Tables, shipped_tables
from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import INDEX, MASS, Vec
from fluxlab.ore.feed_types import Feed
from fluxlab.vessel.profile import Profile

_NOT_METAL = FUEL | {"O", "F", "Cl", "Br", "I"}
_FERRIC, _FERROUS = INDEX["Fe2O3"], INDEX["FeO"]


@dataclass(frozen=True, slots=True, eq=False)
class PotOxygen:
    """What of a charge takes and gives oxygen [g]: `rows` of the flux table, and with them `sulphides` and `reducible`
    by formula; `sulphate_sulphur` [g S], `slag` [mol] with every alkali of the charge, the `wall`, the `tables` of
    figures."""

    route: RouteName
    rows: RowsInPot
    sulphides: dict[str, float]
    reducible: dict[str, float]
    sulphate_sulphur: float
    slag: Vec
    wall: Wall
    tables: Tables

    @property
    def melt(self) -> Melt:
        """Alkalis and acids of the whole charge [mol]."""
        return melt_of(self.slag)

    def redox(self, wanted_lead: float | None) -> Redox:
        """The balance of oxygen, a lead button [g Pb] aimed at or not."""
        rows, iron_oxide = self.rows, float(self.slag[_FERRIC] + self.slag[_FERROUS] / 2.0) * float(MASS[_FERRIC])
        ferrous = routes()[self.route].ferrous_first
        return redox_balance(
            self.sulphides,
            self.reducible,
            self.melt,
            rows.reducers,
            rows.nitrates,
            rows.iron,
            self.wall,
            wanted_lead,
            ferrous,
            iron_oxide,
            self.tables,
        )


def pot_oxygen(
    work: Work, feed: Feed, fluxes: Fluxes, x: Vec, pot: Profile | None, tables: Tables | None = None
) -> PotOxygen:
    """What of a charge takes and gives oxygen, with so much of each row [g]; `tables` hold the operator's figures."""
    rows = rows_in_pot(fluxes, work.shelf, x)
    sulphides = {m: g for m, g in feed.fuel.items() if is_fuel(m)}
    sulphate_sulphur = max(feed.sulphur - sulphur_of(sulphides), 0.0)
    reducible = dict(feed.reducible)
    add(sulphides, rows.sulphides, 1.0)
    add(reducible, rows.reducible, 1.0)
    figures = tables or shipped_tables()
    slag, wall = feed.oxides + fluxes.Y @ x, wall_of_pot(work, pot, figures)
    return PotOxygen(work.recipe.route, rows, sulphides, reducible, sulphate_sulphur, slag, wall, figures)


def wall_of_pot(work: Work, pot: Profile | None, tables: Tables) -> Wall:
    """Carbon that the wall of the recipe's pot gives to one melt [g]; `tables` hold the operator's figures."""
    crucible = work.shelf.crucible(work.recipe.crucible)
    return own_wall(wall_of(crucible.material, pot.brim) if crucible and pot else Wall(), tables)


def elements_of(feed: Feed, fluxes: Fluxes, x: Vec) -> dict[str, float]:
    """Elements in the pot that have a share of their own, by symbol [g], with so much of each row [g]."""
    found = {s: g for s, g in feed.elements.items() if s in priors()}
    add(found, metals_of(fluxes.Y @ x), 1.0)
    return found


def native_metals(feed: Feed, fluxes: Fluxes, x: Vec) -> dict[str, float]:
    """Metals that come as metal, in the ore or in a flux, by symbol [g]."""
    native: dict[str, float] = {}
    for text, grams in feed.fuel.items():
        atoms = formula(text)
        if not _NOT_METAL & set(atoms.atoms):
            add(native, atoms.mass_fractions, grams)
    for made, grams in zip(fluxes.yields, x.tolist(), strict=True):
        add(native, made.metal, grams)
    return native


def metal_wanted(targets: Iterable[Target]) -> bool:
    """Whether a recipe asks for base metal: a button of lead, or whatever metal the oxides of the charge hold."""
    return any(t.on and t.key in ("lead_button", "reducer_budget") for t in targets)


def wanted_lead(targets: Iterable[Target]) -> float | None:
    """The lead button that a recipe aims at: the middle of its band [g Pb]; None where none is aimed at."""
    target = next((t for t in targets if t.key == "lead_button" and t.on), None)
    if target is None:
        return None
    ends = [end for end in (target.lo, target.hi) if end is not None]
    return max(sum(ends) / len(ends), 0.0) if ends else None
