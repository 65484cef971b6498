"""In the pot: gas, swell, redox."""
