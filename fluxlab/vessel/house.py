"""The pots and moulds that a new shelf starts with."""

from fluxlab import resources
from fluxlab.vessel.vessel_types import Crucible, Mould


def house_crucibles() -> tuple[Crucible, ...]:
    """Generic pots, smallest first, inside dimensions [mm]."""
    return tuple(Crucible(**row) for row in resources.toml("vessels.toml")["crucible"])


def house_moulds() -> tuple[Mould, ...]:
    """Generic moulds, inside dimensions [mm]."""
    return tuple(Mould(**row) for row in resources.toml("vessels.toml")["mould"])
