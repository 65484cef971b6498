"""What the rules ask of the pot and of the melt as a liquid, out of their reports."""

from dataclasses import replace
from math import inf

from fluxlab.design.facts import Facts
from fluxlab.design.fluid_types import FluidReport
from fluxlab.design.pot_types import BURNT, PotReport
from fluxlab.fusion.gas import ROOM, gas_volume
from fluxlab.materials.formulas import atomic_mass, formula

_WALL = "pot wall"
"""What the balance of oxygen calls the carbon of the pot itself."""


def with_pot(facts: Facts, pot: PotReport, charge: float) -> Facts:
    """The facts with the budget and its band [-], foam [mm], the hold that the drops want [min], the speiss that the
    pot makes [g], the sulphur dioxide that leaves it [g, L], and the sulphur of a charge [g] that stays sulphide.

    Drops that never come down want an endless hold.
    """
    drops, left, speiss = pot.drops, pot.sulphur.sulphide, pot.sulphur.speiss
    takers = {row.name: row.oxygen for row in pot.redox.rows if row.takes}
    wall = takers.pop(_WALL, 0.0)
    burnt = sum(row.sulphur for row in pot.sulphur.rows if row.name == BURNT) / atomic_mass("S")
    return replace(
        facts,
        sulphide_sulphur=min(facts.sulphide_sulphur, left),
        sulphide_left=100.0 * left / charge if charge > 0.0 else 0.0,
        speiss_made=(speiss.value, speiss.value if speiss.high is None else speiss.high),
        pot_so2=burnt * formula("SO2").mass,
        pot_so2_litres=gas_volume(burnt, ROOM),
        reductant_budget=pot.redox.budget,
        wall_budget=wall / pot.redox.demand if pot.redox.demand > 0.0 else 0.0,
        takers=tuple(takers),
        budget_low=pot.redox.budget_low,
        budget_high=pot.redox.budget_high,
        foam_rise=pot.gas.foam,
        free_height=pot.gas.free,
        hold_needed=None if drops is None else inf if drops.wanted is None else drops.wanted,
    )


def with_fluid(facts: Facts, fluid: FluidReport) -> Facts:
    """The facts with the viscosity at the pour [Pa s] and the temperature from which on no crystal is left [degC]."""
    return replace(
        facts,
        viscosity=None if fluid.at_pour is None else fluid.at_pour.value,
        melt_free=None if fluid.melt_free is None else fluid.melt_free.value,
    )
