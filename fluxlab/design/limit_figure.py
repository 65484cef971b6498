"""A limit of a target as a figure, the same on screen, in sentences and in the report."""


def limit_figure(value: float, decimals: int) -> str:
    """A limit with no more places than it has, and one more than its target's at most; a plain ratio keeps one.

    A limit that is worked out, as that of a lead button, has no end of places: it shows as many as the target does.
    """
    places = decimals + 1
    if decimals > 0 and abs(value - round(value, places)) > 1e-9 * max(abs(value), 1.0):
        places = decimals
    whole, _, part = f"{value:.{places}f}".partition(".")
    part = part.rstrip("0") or ("0" if decimals >= 2 else "")
    return f"{whole}.{part}".rstrip(".")
