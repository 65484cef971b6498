"""What a gram of a flux of one formula or one analysis delivers."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache, lru_cache
from types import MappingProxyType

import numpy as np

from fluxlab import resources
from fluxlab.issue import Issue, Severity, error, note, warning
from fluxlab.materials import oxides
from fluxlab.materials.flux_types import ByAnalysis, ByFormula
from fluxlab.materials.formulas import Formula, atomic_mass, formula, read
from fluxlab.materials.substance import molar_mass, products
from fluxlab.materials.yield_types import Gas, Yield

_OVERSHOOT = 1.5
"""An analysis may pass 100 % by this much [%], the usual rounding of a laboratory, before it is refused; judgement."""
_LOSS_NAMES = frozenset({"LOI", "L.O.I.", "loss"})
_NONE: Mapping[str, float] = MappingProxyType({})


@dataclass(slots=True)
class _Content:
    """What a flux is made of: pure substances [g/g], loose fluorine [mol/g], heating loss [g/g] and its gas."""

    substances: dict[Formula, float] = field(default_factory=dict)
    fluorine: float = 0.0
    loss: float = 0.0
    gas: str = ""
    issues: list[Issue] = field(default_factory=list)


@lru_cache(maxsize=512)
def plain(made_of: ByFormula | ByAnalysis, purity: float, purity_range: float, uid: str) -> Yield:
    """What one gram of the flux delivers [mol/g, g/g]; powers, swell and tags are the component's and not in it."""
    where = f"lines.{uid}"
    content = _by_formula(made_of, where) if isinstance(made_of, ByFormula) else _by_analysis(made_of, where)
    if not 0.0 < purity <= 1.0:
        sentence = f"A purity of {100 * purity:g} % is not possible."
        content.issues.append(error(where, sentence, "Give it between 0 and 100 %."))
    if any(i.severity is Severity.ERROR for i in content.issues):
        return nothing(uid, tuple(content.issues))
    return _delivered(uid, content, purity, purity_range)


def nothing(uid: str, issues: tuple[Issue, ...]) -> Yield:
    """The yield of a flux that cannot be read: its whole mass unaccounted [g/g], with the issues that say why."""
    none = np.zeros(oxides.SIZE)
    return Yield(
        uid,
        none,
        none,
        none,
        0.0,
        0.0,
        (),
        _NONE,
        _NONE,
        1.0,
        0.0,
        0.0,
        (0.0, 0.0),
        1.1,
        {uid: 1.0},
        frozenset(),
        issues,
    )


def _by_formula(made_of: ByFormula, where: str) -> _Content:
    found = read(made_of.formula, where)
    return _Content(issues=[found]) if isinstance(found, Issue) else _Content(substances={found: 1.0})


def _by_analysis(made_of: ByAnalysis, where: str) -> _Content:
    content = _Content(gas=made_of.loss)
    total = 0.0
    for name, percent in made_of.oxides:
        found = None if name in _LOSS_NAMES else read(name, where)
        if percent < 0.0:
            content.issues.append(error(where, f"{name} of {percent:g} % is below nothing.", "Give 0 or more."))
        elif isinstance(found, Issue):
            content.issues.append(found)
        elif found is not None and found.text == "F":
            content.fluorine += percent / 100.0 / atomic_mass("F")
            total += percent / atomic_mass("F") * oxides.MASS[oxides.INDEX["F"]]
        elif found is not None:
            content.substances[found] = content.substances.get(found, 0.0) + percent / 100.0
            total += percent
    if total > 100.0 + _OVERSHOOT:
        sentence = f"The analysis adds up to {total:.1f} %, more than the whole."
        content.issues.append(error(where, sentence, "Correct it to 100 % or less."))
    elif total > 100.0 + 1e-9:
        content.issues.append(warning(where, f"The analysis adds up to {total:.1f} %; it is scaled to 100 %."))
        content.substances = {f: share * 100.0 / total for f, share in content.substances.items()}
        content.fluorine *= 100.0 / total
    elif total <= 0.0:
        content.issues.append(error(where, "The analysis is empty.", "Give at least one oxide."))
    elif made_of.loss:
        content.loss = (100.0 - total) / 100.0
    elif total < 99.5:
        content.issues.append(note(where, f"{100.0 - total:.1f} % of it is not in the analysis and counts as nothing."))
    return content


def _delivered(uid: str, content: _Content, purity: float, purity_range: float) -> Yield:
    n = np.zeros(oxides.SIZE)
    n[oxides.INDEX["F"]] = content.fluorine
    gases: list[Gas] = []
    apart: dict[str, float] = {}
    metal: dict[str, float] = {}
    oxygen = 0.0
    for substance, share in content.substances.items():
        made = products(substance)
        moles = share / substance.mass
        n += moles * made.oxides
        oxygen += moles * made.oxygen * atomic_mass("O")
        for name, amount in made.apart.items():
            apart[name] = apart.get(name, 0.0) + purity * moles * amount * molar_mass(name)
        for symbol, amount in made.metal.items():
            metal[symbol] = metal.get(symbol, 0.0) + purity * moles * amount * atomic_mass(symbol)
        for species, amount in made.gases.items():
            gases.extend(_gases(substance, species, purity * moles * amount))
    if content.loss > 0.0:
        gases.append(_gas(content.gas, purity * content.loss / molar_mass(content.gas), "on heating"))
    n = oxides.join_fluorspar(n)
    n_weighed = purity * n
    given_off = sum(gas.grams for gas in gases)
    loss = given_off - purity * oxygen
    boron, soda = n_weighed[oxides.INDEX["B2O3"]], n_weighed[oxides.INDEX["Na2O"]]
    return Yield(
        flux=uid,
        oxides=_kept(n_weighed),
        low=_kept(max(0.0, purity - purity_range) * n),
        high=_kept(min(1.0, purity + purity_range) * n),
        loss=loss,
        oxygen=purity * oxygen,
        gases=tuple(gases),
        apart=MappingProxyType(apart),
        metal=MappingProxyType(metal),
        unaccounted=1.0 - loss - float(oxides.MASS @ n_weighed) - sum(apart.values()),
        borax_soda=float(min(boron / 2.0, soda)),
        lead_power=0.0,
        lead_power_range=(0.0, 0.0),
        swell=1.1,
        amounts=MappingProxyType({uid: 1.0}),
        tags=frozenset(),
        issues=(*content.issues, *_remarks(uid, metal, apart)),
    )


def _remarks(uid: str, metal: Mapping[str, float], apart: Mapping[str, float]) -> list[Issue]:
    where = f"lines.{uid}"
    remarks = [note(where, f"Its {symbol} counts as oxide in the slag if it is oxidised.") for symbol in metal]
    return remarks + [note(where, f"Its {name} is not in the slag model.") for name in apart]


def _gases(substance: Formula, species: str, moles: float) -> list[Gas]:
    known = [row for row in _windows().get(_key(substance), ()) if row["species"] == species]
    if not known:
        return [_gas(species, moles, "on heating")]
    return [_gas(species, moles * float(row["share"]), row["words"], *_ends(row), row["whose"]) for row in known]


def flux_window(text: str, species: str) -> tuple[float, float, str, str] | None:
    """When a flux gives off a gas [degC], low and high, in words, with the source; None where that is not known."""
    rows = _windows().get(_key(formula(text)), ())
    found = next((row for row in rows if (row["species"], row["whose"]) == (species, row["formula"])), None)
    return None if found is None else (*_ends(found), found["words"], found["source"])


def _ends(row: Mapping[str, str]) -> tuple[float, float]:
    return float(row["low_degc"]), float(row["high_degc"])


def _gas(
    species: str, moles: float, window: str, low: float | None = None, high: float | None = None, of: str = ""
) -> Gas:
    return Gas(species, moles * molar_mass(species), moles, window, low, high, of)


def _key(substance: Formula) -> frozenset[tuple[str, float]]:
    return frozenset(substance.atoms.items())


@cache
def _windows() -> Mapping[frozenset[tuple[str, float]], list[dict[str, str]]]:
    """The table of release temperatures by the atoms of the substance."""
    windows: dict[frozenset[tuple[str, float]], list[dict[str, str]]] = {}
    for row in resources.table("gas_windows.csv"):
        windows.setdefault(_key(formula(row["formula"])), []).append(row)
    return windows


def _kept(vector: oxides.Vec) -> oxides.Vec:
    vector.setflags(write=False)
    return vector
