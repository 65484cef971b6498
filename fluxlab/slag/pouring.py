"""How thick a melt may be and how far from freezing it is poured: plain figures, for who loads no arithmetic."""

LEAVES_POT = 10.0
"""Thickest melt that still leaves a pot [Pa s]; judgement."""
ABOVE_LIQUIDUS = 30.0
"""How far above the liquidus a melt is poured at least [degC]; judgement."""
WARN_ABOVE_LIQUIDUS = 50.0
"""Nearer to the liquidus than this, a pour is warned of [degC]; judgement."""
