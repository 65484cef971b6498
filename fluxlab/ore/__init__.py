"""The ore: what it is made of, its grade, and what the roast leaves."""
