"""Charges for the tests of the pot, put together from minerals and fluxes by weight."""

from collections.abc import Mapping

import numpy as np

from fluxlab.fusion.burning import is_fuel
from fluxlab.fusion.gas_timing import FoamSlag
from fluxlab.fusion.heat import default_furnace
from fluxlab.fusion.losses import SlagColumn
from fluxlab.fusion.pot_types import FusionCharge
from fluxlab.fusion.redox import wall_of
from fluxlab.fusion.redox_types import Reducer
from fluxlab.fusion.routes import RouteName
from fluxlab.materials.formulas import formula
from fluxlab.materials.minerals import Mineral, minerals
from fluxlab.materials.oxides import MASS, SIZE, Vec, from_masses, split_iron
from fluxlab.ore import pot

BY_FORMULA: Mapping[str, Mineral] = {m.formula: m for m in minerals().values()}
FLUX = {"SiO2": 25.0, "B2O3": 18.0, "Na2O": 25.0}
COLUMN = SlagColumn(1.0, 0.4, 3.0, 2.8, 35.0, 9.2)


def fusion_charge(
    raw: Mapping[str, float],
    route: RouteName = "roast and melt",
    charcoal: float = 0.0,
    nitre: float = 0.0,
    iron: float = 0.0,
    litharge: float = 0.0,
    wanted_lead: float | None = None,
    metal_wanted: bool = False,
    full: bool = False,
) -> FusionCharge:
    """A charge of raw minerals [g, by formula] under 68 g of borax, soda and quartz, and what is asked besides."""
    slag: Vec = np.zeros(SIZE)
    elements: dict[str, float] = {}
    reducible: dict[str, float] = {}
    for text, grams in raw.items():
        piece = pot.raw(BY_FORMULA[text])
        slag += grams * piece.slag
        _add(elements, piece.elements, grams)
        _add(reducible, piece.reducible, grams)
    sulphides = {text: g for text, g in raw.items() if is_fuel(text)}
    sulphate = sum(g * formula(t).mass_fractions.get("S", 0.0) for t, g in raw.items() if t not in sulphides)
    slag = split_iron(slag, 0.5) + from_masses(FLUX | {"K2O": nitre * 0.4658, "PbO": litharge})
    lead = litharge * formula("PbO").mass_fractions["Pb"]
    elements["Pb"] = elements.get("Pb", 0.0) + lead
    elements["Fe"] = elements.get("Fe", 0.0) + iron
    reducible["PbO"] = reducible.get("PbO", 0.0) + litharge
    return FusionCharge(
        route=route,
        charge=sum(raw.values()),
        elements=elements,
        slag=slag,
        sulphides=sulphides,
        sulphate_sulphur=sulphate,
        reducible=reducible,
        flux_lead=lead,
        reducers=(Reducer("charcoal", charcoal, 22.6, 20.0, 30.0),),
        nitrates={"KNO3": nitre},
        iron=iron,
        native={text: grams for text, grams in raw.items() if set(formula(text).atoms) == {text}},
        wall=wall_of("clay-graphite", 200.0) if route == "roast and melt" else wall_of("clay", 200.0),
        wanted_lead=wanted_lead,
        metal_wanted=metal_wanted,
        minerals={text: (text, grams) for text, grams in raw.items()},
        fluxes=(("soda ash", "Na2CO3", 43.0),),
        column=COLUMN if full else None,
        foam=FoamSlag(1.0, 2.8, 50.0, 40.0) if full else None,
        furnace=default_furnace(0.5) if full else None,
    )


def slag_mass(charge: FusionCharge) -> float:
    """Mass of the slag oxides [g]."""
    return float(MASS @ charge.slag)


def _add(total: dict[str, float], part: Mapping[str, float], grams: float) -> None:
    for name, amount in part.items():
        total[name] = total.get(name, 0.0) + grams * amount
