"""Shares as typed: checked, and brought to a sum of 100 %."""

from collections.abc import Sequence
from math import isfinite

from fluxlab.issue import Issue, error, note, warning
from fluxlab.ore.mix_types import Entry
from fluxlab.ore.ore_types import Share

SILENT = 0.5
"""Shares may miss 100 % by this much [%] without a word; judgement."""
MOST = 120.0
"""Shares that add up to more [%] are refused: the mix is shown scaled down, with an error; judgement."""
LEAST = 80.0
"""Shares that add up to less [%] leave so much unknown that the figures are marked doubtful; judgement."""


def checked(shares: Sequence[Share], where: str) -> tuple[list[Share], list[Issue]]:
    """The shares with a full range low <= likely <= high [mass %], and what was wrong with the others.

    A share that is not a number or negative is left out; a range that does not hold its likely share is not used.
    """
    good: list[Share] = []
    issues: list[Issue] = []
    for share in shares:
        low = share.likely if share.low is None else share.low
        high = share.likely if share.high is None else share.high
        if not all(isfinite(v) for v in (share.likely, low, high)) or share.likely < 0.0:
            sentence = f"{share.what} of {share.likely:g} % is not possible; it is left out."
            issues.append(error(where, sentence, "Give a share between 0 and 100 %."))
            continue
        if not 0.0 <= low <= share.likely <= high:
            sentence = (
                f"The range {low:g} to {high:g} % of {share.what} does not hold {share.likely:g} %; it is not used."
            )
            issues.append(warning(where, sentence, "Give low, likely and high in rising order."))
            low = high = share.likely
        good.append(Share(share.what, share.likely, low, high, share.known_from))
    return good, issues


def sum_issue(total: float, where: str, what: str = "shares") -> Issue | None:
    """What is to be said of shares that add up to `total` [mass %]; None near 100."""
    if not total > 0.0:
        return error(where, f"The {what} are empty: nothing is known of this ore.", "Give at least one share.")
    if total > MOST:
        sentence = (
            f"The {what} add up to {total:.0f} %, more than the whole; the figures shown are of the mix scaled down."
        )
        return error(where, sentence, "Lower the shares until they add up to about 100 %.")
    if total < LEAST:
        sentence = f"The {what} add up to {total:.0f} % only; the rest is taken to be of the same kind."
        return warning(where, sentence, "Name what else is in the ore, or add quartz for what you do not know.")
    if abs(total - 100.0) > SILENT:
        return note(where, f"The {what} add up to {total:.1f} %; they are scaled to 100 %.")
    return None


def to_whole(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """The entries scaled so that their likely shares add up to one [g/g]; raises nothing for an empty mix."""
    total = sum(entry.likely for entry in entries)
    return tuple(entry.scaled(1.0 / total) for entry in entries) if total > 0.0 else ()
