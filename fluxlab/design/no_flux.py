"""What of the charge is no flux: alkali that sulphur holds as sulphate, iron of the rows that stays metal or sulphide.

Soda that sulphur took floats on the slag as sulphate and neither thins nor balances it: whatever is told of the slag is
told without it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from fluxlab.design.row_roles import Agents
from fluxlab.fusion.melt import ALKALIS, melt_of
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphate import sulphate
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.oxides import INDEX, SIZE, Vec

ALKALI = [INDEX[symbol] for symbol in ALKALIS]
"""Where the alkalis stand in the basis."""
_FERROUS, _IRON = INDEX["FeO"], atomic_mass("Fe")
_SALT = formula("Na2SO4").mass
# CRC Handbook, Density of Molten Elements and Representative Salts, after Janz 1988: at its melting point
_MELTS, _THERE, _FALL = 884.0, 2.069, 0.000483


@dataclass(frozen=True, slots=True, eq=False)
class NoFlux:
    """What is no flux, near the charge for which it was reckoned.

    `held` (oxides) [mol] of that charge's alkali is sulphate, a `share` [mol/mol] of it. Of every mole of alkali more,
    `further` [mol/mol] is held too: `ahead` (oxides) [mol] is what that leaves to be held before anything is added.
    `metal` [g/g] of the metallic iron of the rows does not become oxide. `fuel` [g] is the sulphide of the charge and
    `reach` [g O] the oxygen for it, that of nitre, `nitre` [g O], with it.
    """

    held: Vec
    ahead: Vec
    share: float = 0.0
    further: float = 0.0
    metal: float = 0.0
    fuel: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    reach: float = 0.0
    nitre: float = 0.0

    def left(self, n: Vec) -> Vec:
        """What counts as flux of oxides (oxides, or oxides x rows) [mol] when they are added to what is held ahead."""
        kept = np.array(n)
        kept[ALKALI] *= 1.0 - self.further
        return kept

    def rows(self, Y: Vec, agents: Agents) -> Vec:
        """Yields of the rows (oxides x rows) [mol/g] as far as they are flux."""
        kept = self.left(Y)
        kept[_FERROUS] -= self.metal * agents.iron / _IRON
        return kept

    def slag(self, whole: Vec, iron: float) -> Vec:
        """The slag of the charge for which this was reckoned [mol], with so much metallic iron [g] in its rows."""
        n = np.maximum(whole - self.held, 0.0)
        n[_FERROUS] = max(n[_FERROUS] - self.metal * iron / _IRON, 0.0)
        return n


NONE = NoFlux(np.zeros(SIZE), np.zeros(SIZE))
"""All of the charge is flux."""


def no_flux(redox: Redox, whole: Vec, iron: float) -> NoFlux:
    """What is no flux of a charge of so many oxides [mol] with metallic iron [g] in its rows."""
    melt = melt_of(whole)
    found = sulphate(redox.burnt, melt)
    alkali = np.zeros(SIZE)
    alkali[ALKALI] = whole[ALKALI]
    share = found.alkali / melt.alkali if melt.alkali > 0.0 else 0.0
    further = min(max(found.by_alkali, 0.0), share) if found.alkali > 0.0 else 0.0
    metal = min(redox.iron_left / iron, 1.0) if iron > 0.0 else 0.0
    return NoFlux(
        held=share * alkali,
        ahead=(share - further) * alkali,
        share=share,
        further=further,
        metal=metal,
        fuel={m: g + redox.unburnt.get(m, 0.0) for m, g in redox.burnt.items()},
        reach=redox.reach,
        nitre=redox.given,
    )


def salt_volume(none: NoFlux, temperature: float) -> float:
    """Volume of the sulphate that floats on the slag, as that of sodium, at a temperature [degC] [cm3]."""
    return float(none.held.sum()) * _SALT / salt_density(temperature)


def salt_density(temperature: float) -> float:
    """Density of molten sodium sulphate at a temperature [degC] [g/cm3]; between 884 and 1450 degC, else of the end.

    CRC Handbook of Chemistry and Physics, after G. J. Janz 1988; above 1077 degC carried on, an estimate.
    """
    held = temperature if _MELTS < temperature < 1450.0 else _MELTS if not temperature > _MELTS else 1450.0
    return _THERE - _FALL * (held - _MELTS)
