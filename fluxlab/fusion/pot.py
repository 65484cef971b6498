"""In the pot: everything that happens between the charge and the pour, in one value.

Oxygen first (`redox`), then sulphur (`sulphur_fate`, `matte`), then the metals (`where`, `bullion`), then drops, gas
and heat. Every step is continuous in what goes in.
"""

from dataclasses import replace

from fluxlab.fusion.aim import judge, wants_metal
from fluxlab.fusion.aim_words import aim_issues
from fluxlab.fusion.brought_down import bare_iron, free_metals
from fluxlab.fusion.bullion import Bullion, bullion
from fluxlab.fusion.cupel import cupel_advice
from fluxlab.fusion.deportment import PotState, pot_state
from fluxlab.fusion.gas import GasRow
from fluxlab.fusion.gas_timing import gas_timing
from fluxlab.fusion.heat import Heat, heat
from fluxlab.fusion.heating import haste_issues, heating
from fluxlab.fusion.losses import Settling, prills_of, settling, worth_retreating
from fluxlab.fusion.melt import melt_of
from fluxlab.fusion.ore_gas import ANY, mineral_gas_rows, oxygen_of, row
from fluxlab.fusion.pot_of import kept_oxides, pot_of, shipped_knobs, slag_keeps, without_salt
from fluxlab.fusion.pot_types import FusionCharge, InThePot, SulphurFate
from fluxlab.fusion.pot_words import pot_issues
from fluxlab.fusion.redox import redox_balance
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.redox_words import left_over
from fluxlab.fusion.routes import routes
from fluxlab.fusion.sulphate import sulphate
from fluxlab.fusion.sulphate_left import sulphate_left
from fluxlab.fusion.sulphur_fate import dioxide_moles, sulphur_fate, sulphur_of
from fluxlab.fusion.sulphur_wanted import iron_in_all, iron_wanted
from fluxlab.fusion.where_types import layer_masses
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.oxides import INDEX, MASS

NOTHING = Estimate(0.0, 0.0, 0.0)
_SPLIT, _SPLITS = "sulphate that splits", "PbSO4"
"""Sulphate as a source of gas, and the one whose temperatures count for all."""
_FERRIC, _FERROUS = INDEX["Fe2O3"], INDEX["FeO"]


def in_the_pot(charge: FusionCharge) -> InThePot:
    """What the pot makes of a charge: oxygen, sulphur, button, drops, gas, heat. Always an answer."""
    melt, route, tables = melt_of(charge.slag), routes()[charge.route], charge.tables
    redox = redox_balance(
        charge.sulphides,
        charge.reducible,
        melt,
        charge.reducers,
        charge.nitrates,
        charge.iron,
        charge.wall,
        charge.wanted_lead,
        route.ferrous_first,
        float(charge.slag[_FERRIC] + charge.slag[_FERROUS] / 2.0) * float(MASS[_FERRIC]),
        tables,
    )
    copper = charge.elements.get("Cu", 0.0)
    wanted = iron_wanted(redox.unburnt, charge.sulphate_sulphur, copper)
    burnt = sulphate(redox.burnt, melt, tables.sulphate)
    salts = sulphate_left(charge.reducible, redox, melt, burnt, charge.pour, tables.sulphur)
    state = pot_state(redox, charge.charge, wanted, tables.deportment)
    drops = _drops(charge, redox, wanted)
    found = _button(charge, redox, wanted, burnt.alkali + salts.alkali, state, drops)
    in_matte = sum(sulphur_of({sulphide: g}) for sulphide, g in found.ends.matte.sulphides.items())
    iron = iron_in_all(redox, charge.iron, charge.sulphate_sulphur, copper, tables)
    fate = sulphur_fate(
        redox, burnt, salts, charge.sulphate_sulphur, melt, in_matte, found.layers.matte.value, iron, tables
    )
    judgement = judge(charge, redox, state, fate, wanted)
    rows = _gases(charge, redox, fate)
    of_a_feed = tuple(_part(r, 1.0 / charge.feeds) for r in rows) if charge.feeds > 1 else rows
    warmth = _heat(charge, found, redox, rows)
    warming = heating(charge.pour, warmth, charge.rate, tables.foam)
    gas = gas_timing(of_a_feed, warming, charge.foam, tables.foam, charge.feeds)
    silver = found.ends.elements.get("Ag")
    held = silver.slag + silver.drops + silver.matte if silver else 0.0
    return InThePot(
        redox=redox,
        state=state,
        judgement=judgement,
        sulphur=fate,
        bullion=found,
        settling=drops,
        gases=rows,
        gas=gas,
        heating=warming,
        heat=warmth,
        cupel=cupel_advice({part.symbol: part.grams.value for part in found.parts}) if route.collects else None,
        retreat=worth_retreating(held, charge.elements.get("Ag", 0.0), charge.step, tables.losses),
        issues=(
            *redox.issues,
            *(left_over(redox) if wants_metal(charge) else ()),
            *aim_issues(charge, redox, fate, judgement),
            *pot_issues(charge, redox, fate, found, melt),
            *(drops.issues if drops else ()),
            *gas.issues,
            *haste_issues(warmth, charge.rate),
        ),
    )


def _button(
    charge: FusionCharge, redox: Redox, wanted: float, salt: float, state: PotState, drops: Settling | None
) -> Bullion:
    pot, sulphur, dissolves = pot_of(
        charge.elements,
        charge.charge,
        without_salt(charge.slag, salt),
        redox,
        wanted,
        state,
        flux_lead=charge.flux_lead,
        native=charge.native,
        sulphate_sulphur=charge.sulphate_sulphur,
        sulphide_doubt=charge.sulphide_doubt,
        tables=charge.tables,
    )
    return bullion(pot, shipped_knobs(state, sulphur, dissolves, drops, charge.figures, charge.tables))


def _drops(charge: FusionCharge, redox: Redox, wanted: float) -> Settling | None:
    if charge.column is None:
        return None
    silver = charge.elements.get("Ag", 0.0)
    rain = free_metals(redox, charge.native, wanted)["Pb"].value
    tables = charge.tables
    sizes = prills_of(charge.carrier, rain / silver if silver > 0.0 else 0.0, charge.prill, tables.losses)
    return settling(charge.column, charge.hold, sizes, tables.losses)


def _gases(charge: FusionCharge, redox: Redox, fate: SulphurFate) -> tuple[GasRow, ...]:
    """All gases of the charge; oxygen only as far as nothing took it, each source's in proportion."""
    own, (burnt, split) = charge.tables.windows, dioxide_moles(fate)
    found = (*charge.flux_gases, *mineral_gas_rows(charge.minerals, charge.pour, own))
    told = sum(r.grams for r in found if r.species == "O2")
    kept = max(1.0 - _oxygen_taken(charge, redox) / told, 0.0) if told > 0.0 else 1.0
    of_sulphur = (
        ("burnt sulphide", "SO2", burnt, ANY),
        (_SPLIT, "SO2", split, _SPLITS),
        (_SPLIT, "O2", split / 2.0, _SPLITS),
    )
    sulphur = (row(name, gas, n, charge.pour, mineral, own) for name, gas, n, mineral in of_sulphur if n > 0.0)
    return (*(_part(r, kept) if r.species == "O2" else r for r in found), *sulphur)


def _oxygen_taken(charge: FusionCharge, redox: Redox) -> float:
    """Oxygen that nitre and oxides would give off by themselves and that something in the pot takes [g O]."""
    met: dict[str, float] = {}
    for step in redox.met:
        met[step.demand.substance] = met.get(step.demand.substance, 0.0) + step.oxygen
    of_oxides = sum(min(met.get(text, 0.0), g * oxygen_of(text)) for text, g in charge.reducible.items())
    of_nitre = sum(g * oxygen_of(salt) for salt, g in charge.nitrates.items())
    return of_oxides + max(of_nitre - redox.escapes - redox.surplus, 0.0)


def _part(r: GasRow, kept: float) -> GasRow:
    return replace(r, grams=r.grams * kept, moles=r.moles * kept, cold=r.cold * kept, hot=r.hot * kept)


def _heat(charge: FusionCharge, found: Bullion, redox: Redox, rows: tuple[GasRow, ...]) -> Heat | None:
    """Heat of the charge as it stands at the pour: a metal counts once, as oxide, as metal or in a layer."""
    if charge.furnace is None:
        return None
    ends = found.ends
    metals = {symbol: w.button + w.drops + w.handling for symbol, w in ends.elements.items() if w.button > 0.0}
    slag = charge.slag * kept_oxides(slag_keeps(ends.elements, bare_iron(redox)))
    layers = ends.matte.dissolved + sum(layer_masses(ends.elements, ends.matte, ends.speiss))
    furnace, table = charge.furnace, charge.tables.heat
    return heat(slag, metals, layers, rows, charge.fluxes, charge.water, charge.pour, furnace, table, charge.rate)
