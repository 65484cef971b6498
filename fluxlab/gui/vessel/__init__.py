"""Pot and mould drawn to scale."""
