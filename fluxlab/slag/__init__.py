"""The slag: its indices, density and volume."""
