"""What the gas of a charge says in words."""

from math import isfinite

from fluxlab.issue import Issue, warning


def timing_issues(over: bool, source: str, at: float, minutes: float, rate: float, feeds: int) -> tuple[Issue, ...]:
    """What the operator should know of gas that foams over while the charge is liquid, heated at a rate [degC/min];
    so many `feeds` would keep it in, 0 if no number does."""
    if not over:
        return ()
    slower = f"take {minutes:.0f} min or more over it" if isfinite(minutes) else "use a larger pot"
    parts = f"feed in {feeds} parts, " if feeds else ""
    sentence = f"Heated at {rate:.0f} °C a minute, gas of {source} would lift the slag over the rim near {at:.0f} °C."
    return (warning("fill", sentence, f"Heat slower ({slower}), {parts}or thin the slag."),)
