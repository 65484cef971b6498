"""What one gram of a flux delivers, as a plain value."""

from collections.abc import Mapping
from dataclasses import dataclass

from fluxlab.issue import Issue
from fluxlab.materials.oxides import Vec


@dataclass(frozen=True, slots=True)
class Gas:
    """A gas that a flux gives off [g and mol per g of flux], in words when, and between which temperatures [degC].

    `of` is the formula of the substance that the temperatures are told for; empty where none are known.
    """

    species: str
    grams: float
    moles: float
    window: str = ""
    low: float | None = None
    high: float | None = None
    of: str = ""


@dataclass(frozen=True, slots=True)
class Yield:
    """What one gram of a flux as weighed delivers.

    `oxides` [mol/g] with `low` and `high` (9 in 10, from purity and the ranges of a jar); `loss` [g/g] leaves the pot
    (negative: the flux takes up oxygen, `oxygen` [g/g]); `apart` [g/g] are substances outside slag and gas, by formula;
    `unaccounted` [g/g] is the impure remainder; so that oxides + apart + unaccounted + loss = 1 and
    gases - oxygen = loss. `metal` [g/g] is what comes as metal and is in `oxides` as if oxidised. `borax_soda` [mol/g]
    is the Na2O that belongs to borax. `lead_power` [g Pb/g] with its range. `swell` [-] is the swell factor.
    `amounts` [g/g] are the plain fluxes in a jar by their ids, `tags` those of all of them.
    """

    flux: str
    oxides: Vec
    low: Vec
    high: Vec
    loss: float
    oxygen: float
    gases: tuple[Gas, ...]
    apart: Mapping[str, float]
    metal: Mapping[str, float]
    unaccounted: float
    borax_soda: float
    lead_power: float
    lead_power_range: tuple[float, float]
    swell: float
    amounts: Mapping[str, float]
    tags: frozenset[str]
    issues: tuple[Issue, ...] = ()
