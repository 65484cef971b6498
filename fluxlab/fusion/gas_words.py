"""What the gas of a charge says in words."""

from math import floor

from fluxlab.issue import Issue, warning


def timing_issues(source: str, at: float, rate: float, slower: float, feeds: int) -> tuple[Issue, ...]:
    """What the operator should know of gas that foams over at a temperature [degC], heated at a rate [degC/min].

    At `slower` times the rate it would not, nothing for never; so many `feeds` would keep it in, 0 if no number does.
    """
    sentence = f"Heated at {rate:.0f} °C a minute, gas of {source} would lift the slag over the rim near {at:.0f} °C."
    parts = f"feed in {feeds} parts, " if feeds else ""
    if slower <= 0.0:
        return (warning("fill", sentence, f"Take a larger pot, {parts}or thin the slag."),)
    most = rate * slower
    told = f"{floor(most)}" if most >= 10.0 else f"{floor(10.0 * most) / 10.0:g}"
    return (warning("fill", sentence, f"Heat slower (at most {told} °C a minute), {parts}or thin the slag."),)
