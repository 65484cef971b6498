"""The solver: how much of each flux."""
