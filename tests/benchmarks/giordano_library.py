"""Our oxide conversions in the magma viscosity of Giordano, Russell and Dingwell 2008, against the library Thermobar.

    python tests/benchmarks/giordano_library.py

Run by hand, in an environment that has fluxlab and thermobar: the library brings twenty packages, too much for the test
suite. Equation: D. Giordano, J. K. Russell and D. B. Dingwell, Viscosity of magmatic liquids: a model, Earth Planet.
Sci. Lett. 271 (2008) 123 (page from memory); coefficients as found, c11 from memory. Nothing of the library is stored.
"""

import numpy as np
import pandas as pd
import Thermobar

from fluxlab.materials.oxides import INDEX, Vec, from_masses

OXIDES = ("SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "Na2O", "K2O", "P2O5")
TEMPERATURES = (1000.0, 1200.0, 1400.0)
SAMPLES = 200


def giordano(n: Vec, temperature: float) -> float:
    """log10 of the viscosity of a dry magma [mol] [log10 Pa s]."""
    moles = {oxide: n[INDEX[oxide]] for oxide in OXIDES}
    x = {oxide: 100.0 * mole / sum(moles.values()) for oxide, mole in moles.items()}
    network, iron = x["SiO2"] + x["TiO2"], x["FeO"] + x["MnO"]
    alkali = x["Na2O"] + x["K2O"]
    b = 159.6 * network - 173.3 * x["Al2O3"] + 72.1 * (iron + x["P2O5"]) + 75.7 * x["MgO"] - 39.0 * x["CaO"]
    b += -84.1 * x["Na2O"] - 2.43 * network * (iron + x["MgO"]) + 17.6 * x["Al2O3"] * alkali
    b += -0.91 * (network + x["Al2O3"] + x["P2O5"]) * alkali
    c = 2.75 * x["SiO2"] + 15.7 * (x["TiO2"] + x["Al2O3"]) + 8.3 * (iron + x["MgO"]) + 10.2 * x["CaO"]
    c += -12.3 * alkali + 0.30 * (x["Al2O3"] + iron + x["MgO"] + x["CaO"] - x["P2O5"]) * alkali
    return float(-4.55 + b / (temperature + 273.15 - c))


def melts() -> pd.DataFrame:
    """Invented magmas from basic to acid [mass %]."""
    rng = np.random.default_rng(710)
    silica = rng.uniform(42.0, 77.0, SAMPLES)
    basic = (77.0 - silica) / 35.0
    table = {
        "SiO2": silica, "TiO2": 2.5 * basic, "Al2O3": rng.uniform(10.0, 18.0, SAMPLES), "FeO": 1.0 + 11.0 * basic,
        "MnO": 0.2 * basic, "MgO": 0.3 + 12.0 * basic, "CaO": 0.8 + 11.0 * basic,
        "Na2O": rng.uniform(1.0, 6.0, SAMPLES), "K2O": rng.uniform(0.2, 6.0, SAMPLES), "P2O5": 0.4 * basic,
    }  # fmt: skip
    made = pd.DataFrame(table)
    return made.mul(100.0 / made.sum(axis=1), axis=0)


def main() -> None:
    """Print the differences."""
    made = melts()
    theirs_in = made.rename(columns={oxide: f"{oxide}_Liq" for oxide in OXIDES} | {"FeO": "FeOt_Liq"})
    for temperature in TEMPERATURES:
        found = Thermobar.calculate_viscosity_giordano_2008(theirs_in, T=temperature + 273.15, H2O_Liq=0.0)
        theirs = found["logn_melt"].to_numpy(dtype=float)
        ours = np.array([giordano(from_masses(row), temperature) for row in made.to_dict("records")])
        off = ours - theirs
        print(f"{temperature:.0f} degC: n {SAMPLES}, difference median {np.median(off):+.4f}, "
              f"largest {np.abs(off).max():.4f} log10 Pa s")  # fmt: skip


if __name__ == "__main__":
    main()
