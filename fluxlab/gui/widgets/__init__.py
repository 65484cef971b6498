"""Small drawn parts that every place uses."""
