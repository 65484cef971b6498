"""Crucibles and moulds by their measured inside dimensions, as plain values."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Crucible:
    """A pot, inside dimensions [mm].

    `bottom` "flat", "cap" (spherical cap of depth `bottom_depth` below the frustum), "ellipsoid" (same,
    semi-ellipsoid) or "barrel" (bilge pot: `bilge_radius` at mid height).
    `measured_volume` [cm3] is a brimful that was measured; it scales the computed profile.
    """

    uid: str
    name: str
    bottom_radius: float
    rim_radius: float
    depth: float
    wall: float = 8.0
    base: float = 10.0
    bottom: Literal["flat", "cap", "ellipsoid", "barrel"] = "flat"
    bottom_depth: float = 0.0
    bilge_radius: float = 0.0
    measured_volume: float | None = None
    material: Literal["clay-graphite", "clay", "silicon carbide", "other"] = "clay-graphite"
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Mould:
    """A conical mould, inside dimensions [mm], `half_angle` [degrees]; `shape` "cone", "frustum" or "paraboloid"."""

    uid: str
    name: str
    half_angle: float = 20.0
    depth: float = 100.0
    tip_radius: float = 5.0
    rim_radius: float = 0.0
    wall: float = 8.0
    shape: Literal["cone", "frustum", "paraboloid"] = "cone"
    material: str = "cast iron"
    notes: str = ""
