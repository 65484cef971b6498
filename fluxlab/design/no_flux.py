"""What of the charge is no slag: alkali that sulphur holds as sulphate, metal in button, matte and speiss.

Soda that sulphur took floats on the slag and neither thins nor balances it, and lead that came down is no litharge:
whatever is told of the slag is told without them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from fluxlab.fusion.melt import melt_of
from fluxlab.fusion.pot_of import ALKALI, kept_oxides
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.sulphate import Sulphate
from fluxlab.fusion.sulphate_left import SulphateLeft
from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import SIZE, Vec

_SALT = formula("Na2SO4").mass
# CRC Handbook, Density of Molten Elements and Representative Salts, after Janz 1988: at its melting point
_MELTS, _THERE, _FALL = 884.0, 2.069, 0.000483


@dataclass(frozen=True, slots=True, eq=False)
class NoFlux:
    """What is no flux, near the charge for which it was reckoned.

    `held` (oxides) [mol] of that charge's alkali is sulphate, a `share` [mol/mol] of it. Of every mole of alkali more,
    `further` [mol/mol] is held too: `ahead` (oxides) [mol] is what that leaves to be held before anything is added.
    `kept` (oxides) [mol/mol] of every other oxide is in the slag. `fuel` [g] is the sulphide of the charge and `reach`
    [g O] the oxygen for it, that of nitre, `nitre` [g O], with it; `salts` [mol] of sulphate may take alkali besides.
    """

    held: Vec
    ahead: Vec
    share: float = 0.0
    further: float = 0.0
    kept: Vec = field(default_factory=lambda: np.ones(SIZE))
    fuel: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    reach: float = 0.0
    nitre: float = 0.0
    salts: float = 0.0

    def left(self, n: Vec) -> Vec:
        """What counts as slag of oxides (oxides, or oxides x rows) [mol] when they are added to what is held ahead."""
        left = (n.T * self.kept).T
        left[ALKALI] *= 1.0 - self.further
        return np.asarray(left)

    def slag(self, whole: Vec) -> Vec:
        """The slag of the charge for which this was reckoned [mol]."""
        return np.maximum(self.kept * whole - self.held, 0.0)


NONE = NoFlux(np.zeros(SIZE), np.zeros(SIZE))
"""All of the charge is flux."""


def no_flux(
    redox: Redox,
    whole: Vec,
    keeps: Mapping[str, float],
    steered: bool,
    burnt: Sulphate,
    salts: SulphateLeft,
) -> NoFlux:
    """What is no slag of a charge of so many oxides [mol], whose slag `keeps` shares of base metals [0..1], by symbol.

    `burnt` sulphide and `salts` hold alkali. Where a lead button is `steered` its lead is taken off elsewhere.
    """
    melt, taken = melt_of(whole), burnt.alkali + salts.alkali
    alkali = np.zeros(SIZE)
    alkali[ALKALI] = whole[ALKALI]
    share = min(taken / melt.alkali, 1.0) if melt.alkali > 0.0 else 0.0
    more = max(burnt.by_alkali, 0.0)
    further = min(more + (1.0 - more) * salts.by_alkali, share) if taken > 0.0 else 0.0
    return NoFlux(
        held=share * alkali,
        ahead=(share - further) * alkali,
        share=share,
        further=further,
        kept=kept_oxides({symbol: share for symbol, share in keeps.items() if not (steered and symbol == "Pb")}),
        fuel={m: g + redox.unburnt.get(m, 0.0) for m, g in redox.burnt.items()},
        reach=redox.reach,
        nitre=redox.given,
        salts=salts.claim,
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
