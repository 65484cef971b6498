"""The described ore as one mix of minerals, whichever of the three descriptions counts."""

from functools import lru_cache

from fluxlab.issue import Issue, error
from fluxlab.materials.minerals import minerals
from fluxlab.ore.as_is import as_it_is
from fluxlab.ore.assay import explained_by_minerals
from fluxlab.ore.mix_types import Entry, Mix, merged_entries
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.reconcile import reconciled
from fluxlab.ore.shares import checked, sum_issue, to_whole


@lru_cache(maxsize=128)
def mix(ore: OreType) -> Mix:
    """The described dry material as minerals [g/g], brought into agreement with its silver and gold grades.

    An ore that cannot be understood gives an empty mix and says why.
    """
    described = described_mix(ore)
    return reconciled(described, ore) if described.entries else described


def described_mix(ore: OreType) -> Mix:
    """The described dry material as minerals [g/g], before the grades are looked at."""
    if ore.known_by == "minerals":
        return by_minerals(ore)
    return as_it_is(ore) if ore.as_is else explained_by_minerals(ore)


def by_minerals(ore: OreType) -> Mix:
    """The mineral shares as typed, scaled to a sum of one [g/g]."""
    where = "ore.minerals"
    good, issues = checked(ore.minerals, where)
    known = minerals()
    entries: list[Entry] = []
    for share in good:
        if share.what not in known:
            issues.append(_unknown(share.what))
            continue
        low, high = (share.likely if end is None else end for end in (share.low, share.high))
        if high > 0.0:
            entries.append(Entry(known[share.what], share.likely / 100, low / 100, high / 100, share.known_from))
    named = sum(entry.likely for entry in entries)
    problem = sum_issue(100.0 * named, where, "mineral shares")
    issues.extend([problem] if problem else [])
    return Mix(to_whole(merged_entries(entries)), missing=max(1.0 - named, 0.0), issues=tuple(issues))


def _unknown(name: str) -> Issue:
    return error("ore.minerals", f"“{name}” is not in the list of minerals; it is left out.", "Pick it from the list.")
