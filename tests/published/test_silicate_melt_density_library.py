"""Our oxide conversions and melt densities against DensityX, a geochemistry library for silicate melts (tests only).

K. Iacovino and C. B. Till, DensityX: a program for calculating the densities of magmatic liquids up to 1,627 degC and
30 kbar, Volcanica 2 (2019) 1-10. It adds the partial molar volumes of Lange 1997, Lange and Carmichael 1987, Guo et al.
2014 and Liu and Lange 2006; borates, zinc and lead are not in it. It is compared at 1500 degC and 1 bar, the reference
of those volumes: away from it version 1.2.0 divides by molar masses where its own paper has volumes, 4 % off at 1200.
"""

import densityx
import numpy as np
import pandas as pd
import pytest

from fluxlab.materials.oxides import INDEX, MASS, SIZE, Vec, from_masses
from fluxlab.slag.hot_density import density_at

OXIDES = ("SiO2", "TiO2", "Al2O3", "Fe2O3", "FeO", "MgO", "CaO", "Na2O", "K2O")
REFERENCE = 1773.0 - 273.15
ONE_BAR = 1.0
HOT = 1400.0
# invented melts [mass %]: basalt-like, rhyolite-like, soda-lime, fayalite slag, lime slag, potash feldspar with soda
MELTS = (
    {"SiO2": 50.0, "TiO2": 1.5, "Al2O3": 15.0, "Fe2O3": 2.0, "FeO": 8.5, "MgO": 8.0, "CaO": 12.0, "Na2O": 3.0},
    {"SiO2": 75.0, "TiO2": 0.2, "Al2O3": 13.0, "Fe2O3": 0.5, "FeO": 1.3, "CaO": 1.0, "Na2O": 4.0, "K2O": 5.0},
    {"SiO2": 72.0, "Al2O3": 1.5, "MgO": 4.0, "CaO": 8.5, "Na2O": 14.0},
    {"SiO2": 32.0, "Al2O3": 3.0, "FeO": 60.0, "MgO": 1.0, "CaO": 4.0},
    {"SiO2": 38.0, "Al2O3": 12.0, "MgO": 8.0, "CaO": 41.0, "K2O": 1.0},
    {"SiO2": 60.0, "Al2O3": 15.0, "Na2O": 15.0, "K2O": 10.0},
)  # fmt: skip


def table() -> pd.DataFrame:
    rows = [{oxide: melt.get(oxide, 0.0) for oxide in OXIDES} | {"H2O": 0.0} for melt in MELTS]
    return pd.DataFrame(rows)


def mole_fractions(n: Vec) -> Vec:
    """Ours, in the library's order."""
    moles = np.array([n[INDEX[oxide]] for oxide in OXIDES])
    return np.asarray(moles / moles.sum())


def test_mole_fractions_of_oxides_are_those_of_the_library():
    theirs = densityx.MoleFraction(table())[list(OXIDES)].to_numpy()
    for melt, expected in zip(MELTS, theirs, strict=True):
        assert mole_fractions(from_masses(melt)) == pytest.approx(expected, abs=5e-5)


def volumes_at(temperature: float) -> Vec:
    """Published partial volumes of the basis at a temperature [degC], from the library's tables [cm3/mol]."""
    volumes = np.zeros(SIZE)
    for oxide in OXIDES:
        above = temperature + 273.15 - densityx.reference_temperature[oxide]
        volumes[INDEX[oxide]] = densityx.molar_volume[oxide] + densityx.dVdT[oxide] * above
    return volumes


def test_masses_and_volumes_of_our_moles_give_the_density_of_the_library():
    rows = table()
    rows["Sample_ID"], rows["P"], rows["T"] = "melt", ONE_BAR, REFERENCE
    theirs = densityx.Density(rows)["density_g_per_cm"].to_numpy()
    volumes = volumes_at(REFERENCE)
    for melt, expected in zip(MELTS, theirs, strict=True):
        n = from_masses(melt)
        assert MASS @ n / (volumes @ n) == pytest.approx(expected, rel=2e-3)


def test_the_fitted_density_holds_the_published_volumes_in_its_range():
    volumes = volumes_at(HOT)
    for melt in MELTS:
        n = from_masses(melt)
        told, additive = density_at(n, HOT), MASS @ n / (volumes @ n)
        print(f"told {told.value:.3f}, by published volumes {additive:.3f} g/cm3")
        assert told.low90 <= additive <= told.high90
