"""Rules on what the ore is made of: R34, R36, R37, R47, R48."""

from fluxlab.design.cautions.findings import Finding, block, caution, past, past_to, rough, warn
from fluxlab.design.facts import Facts

REFRACTORY = 5.0  # mass % of the ore, judgement
CARBONATE = 10.0  # mass % of the charge, judgement
MANGANESE = 10.0  # mass % of the charge, judgement
UNKNOWN = 10.0  # mass % of the ore, judgement


def refractory(f: Facts) -> Finding:
    """R34: minerals that the slag hardly takes up."""
    if f.refractory_share > REFRACTORY:
        return caution(f"{past(f.refractory_share, REFRACTORY)} % {', '.join(f.refractory)}")
    return None


def carbonate(f: Facts) -> Finding:
    """R36: carbonate gangue that foams in the pot."""
    if f.carbonate_share <= CARBONATE:
        return None
    litres = f", {rough(f.carbonate_litres)} L of carbon dioxide, cold" if f.carbonate_litres else ""
    return caution(f"{past(f.carbonate_share, CARBONATE)} % of the ore charged is carbonate{litres}")


def manganese(f: Facts) -> Finding:
    """R37: manganese oxides that eat reducer and give off oxygen."""
    if f.manganese_share > MANGANESE:
        return caution(f"{past(f.manganese_share, MANGANESE)} % of the ore charged is higher manganese oxide")
    return None


def unknown(f: Facts) -> Finding:
    """R47: an ore that is not known well enough."""
    reasons = []
    if f.unknown_share > UNKNOWN:
        reasons.append(f"{past_to(f.unknown_share, UNKNOWN)} % of the ore is not named")
    if not f.assayed:
        reasons.append("no assay was given")
    return warn("; ".join(reasons)) if reasons else None


def radioactive(f: Facts) -> Finding:
    """R48: radioactive minerals."""
    return block(", ".join(f.radioactive)) if f.radioactive else None
