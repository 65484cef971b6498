"""The Flux place: what to add, how much, and whether it will work."""
