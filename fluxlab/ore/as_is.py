"""An oxide or element assay used as it is, without looking for minerals."""

from collections.abc import Sequence

from fluxlab.issue import Issue, error, note
from fluxlab.materials.formulas import Formula, formula
from fluxlab.materials.minerals import Mineral, stand_in
from fluxlab.ore.assay import LOSS, readable
from fluxlab.ore.mix_types import Entry, Mix
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.shares import checked, sum_issue, to_whole

_ROCK: dict[str, str] = {
    "Si": "SiO2", "Al": "Al2O3", "Ti": "TiO2", "Ca": "CaO", "Mg": "MgO", "Ba": "BaO", "Sr": "SrO", "Na": "Na2O",
    "K": "K2O", "Li": "Li2O", "P": "P2O5", "Zr": "ZrO2", "Cr": "Cr2O3", "Ce": "CeO2", "B": "B2O3", "Sn": "SnO2",
}  # fmt: skip
"""Elements that are in an ore as oxide, whatever its sulphur."""
_BURNT: dict[str, str] = {
    "Fe": "Fe2O3", "Mn": "Mn2O3", "Cu": "CuO", "Pb": "PbO", "Zn": "ZnO", "Sb": "Sb2O4", "Bi": "Bi2O3", "Cd": "CdO",
    "Co": "Co3O4", "Ni": "NiO", "S": "SO3", "As": "As2O5", "Te": "TeO2", "Mo": "MoO3", "W": "WO3",
}  # fmt: skip
"""Elements that are in a calcine as oxide; in raw material they stand as they were assayed."""
_NEARLY_WHOLE = 98.0
"""Sum from which on nothing is said about the rest [mass %]: within what laboratories leave open."""


def as_it_is(ore: OreType) -> Mix:
    """The assay as a mix of plain oxides and elements [g/g].

    A sum above 100 % is scaled; what is missing from a lower one is `unnamed`, neither slag nor metal.
    """
    where = f"ore.{ore.known_by}"
    shares = ore.oxides if ore.known_by == "oxides" else ore.elements
    named, issues = readable(shares, where)
    entries = [_entry(share, f, ore.stage == "calcine") for share, f in named]
    loss = _loss(shares, where)
    entries.extend(loss)
    if loss:
        issues.append(note(where, "The loss on ignition is counted as water."))
    total = 100.0 * sum(entry.likely for entry in entries)
    if not total > 0.0:
        issues.append(error(where, "The assay is empty.", "Give what the laboratory found."))
        return Mix((), pooled=True, issues=tuple(issues))
    if total <= 100.0:
        if total < _NEARLY_WHOLE:
            issues.append(_unnamed(total, where))
        return Mix(tuple(entries), 1.0 - total / 100.0, pooled=True, issues=tuple(issues))
    problem = sum_issue(total, where, "assayed shares")
    issues.extend([problem] if problem else [])
    return Mix(to_whole(entries), pooled=True, issues=tuple(issues))


def _unnamed(total: float, where: str) -> Issue:
    sentence = f"The assay names {total:.1f} % of the ore; the rest counts as neither slag nor metal."
    return note(where, sentence, "Assay the gangue too, or tick minerals.")


def _entry(share: Share, f: Formula, calcine: bool) -> Entry:
    """One assayed share as the substance that it stands for [g/g]."""
    symbol = f.text
    substance = _ROCK.get(symbol) or (_BURNT.get(symbol) if calcine else None)
    factor = formula(substance).mass / formula(substance).atoms[symbol] / f.mass if substance else 1.0
    mineral = _stand_in(substance or symbol)
    low, high = (share.likely if end is None else end for end in (share.low, share.high))
    return Entry(mineral, share.likely / 100.0, low / 100.0, high / 100.0, "as assayed").scaled(factor)


def _loss(shares: Sequence[Share], where: str) -> list[Entry]:
    good, _ = checked([share for share in shares if share.what in LOSS], where)
    return [
        Entry(_stand_in("H2O"), s.likely / 100.0, (s.low or 0.0) / 100.0, (s.high or 0.0) / 100.0, "as assayed")
        for s in good
    ]


def _stand_in(text: str) -> Mineral:
    """The substance of an assay; SO3 stays what it is, since the assay does not say which base holds it."""
    plain = stand_in(text)
    return Mineral(plain.name, plain.formula, roast="unchanged") if text in ("SO3", "As2O5") else plain
