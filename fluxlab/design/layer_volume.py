"""Volumes of what lies under the slag while it is hot."""

from collections.abc import Mapping
from typing import Any

from fluxlab import resources
from fluxlab.fusion.bullion import bullion_data
from fluxlab.slag.metals import METALS, liquid_metal_volume


def metal_volume(masses: Mapping[str, float], at: float) -> float:
    """Volume of liquid metals [g] by symbol at a temperature [degC] [cm3], each adding its own."""
    solid: Mapping[str, Any] = bullion_data()["density"]
    shrink = float(resources.toml("layers.toml")["other_metals"]["shrink"])
    told = liquid_metal_volume({s: g for s, g in masses.items() if s in METALS}, at).volume.value
    others = [g / (shrink * float(solid[s])) for s, g in masses.items() if s not in METALS and s in solid]
    return float(told + sum(others))


def layer_volume(layer: str, mass: float) -> float:
    """Volume of a layer of "matte" or "speiss" [g] [cm3]."""
    return mass / float(resources.toml("layers.toml")[layer]["density"])
