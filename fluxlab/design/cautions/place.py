"""Rules on place, gear and habits, by the workshop card: R40 to R46, R49, R50.

What the card does not state is never taken as safe. R45 stops the ticket where something dangerous is stated, R50 also
until gear is stated on the card or confirmed for the ticket; both say on every ticket what is still to be stated.
"""

from fluxlab.design.cautions.exposure import limit_words
from fluxlab.design.cautions.findings import Finding, block, caution, past_to, warn
from fluxlab.design.facts import Facts

NOT_STATED = "not stated on the workshop card, under Shelf"
OPENED_AFTER = 10.0  # min, judgement
WALL_LEFT = 60.0  # % of new, judgement
LEAN_AIR = 0.9  # of what the gas needs, judgement


def wet_residues(f: Facts) -> Finding:
    """R40: water or acid on what may hold arsenic, antimony or sulphide."""
    if f.workshop is None or not f.workshop.wet_residues:
        return None
    return block(f"the card says that residues are wetted or washed with acid; {limit_words('AsH3')}")


def quench(f: Facts) -> Finding:
    """R41: water on hot slag or a hot mould."""
    if f.workshop is None or not f.workshop.quench:
        return None
    return block("the card says that slag or mould is quenched")


def opened_early(f: Facts) -> Finding:
    """R42: the mould opened while the slag still spalls."""
    after = f.workshop.mould_opened_after if f.workshop else None
    if after is None or after >= OPENED_AFTER:
        return None
    return warn(f"the mould is opened after {past_to(after, OPENED_AFTER)} min")


def worn_pot(f: Facts) -> Finding:
    """R43: a pot that may burn through."""
    w = f.workshop
    if w is None:
        return None
    reasons = []
    if w.pot_wall_left is not None and w.pot_wall_left < WALL_LEFT:
        reasons.append(f"{past_to(w.pot_wall_left, WALL_LEFT)} % of the wall is left")
    reasons += ["the pot is cracked"] if w.pot_cracked else []
    reasons += ["its last melt held sulphide and alkali"] if w.pot_after_sulphide else []
    return warn("; ".join(reasons)) if reasons else None


def scrap(f: Facts) -> Finding:
    """R44: scrap or unknown pieces."""
    return block("scrap is noted in the charge") if f.scrap else None


def propane(f: Facts) -> Finding:
    """R45: gas indoors, without an alarm, or its cylinder near the fire."""
    w = f.workshop
    if w is None or w.fuel in ("electric", "other"):
        return None
    dangers = ["the fire burns indoors"] if w.indoors is True else []
    dangers += ["no carbon monoxide alarm"] if w.co_alarm is False else []
    dangers += ["the cylinder is nearer than 3 m"] if w.cylinder_far is False else []
    if dangers:
        return block(f"{', '.join(dangers)}; {limit_words('CO')}")
    asked = (
        ("the fuel", w.fuel == ""),
        ("indoors or outdoors", w.indoors is None),
        ("carbon monoxide alarm", w.co_alarm is None),
        ("where the cylinder stands", w.cylinder_far is None),
    )
    return _not_stated([words for words, missing in asked if missing])


def lean_burner(f: Facts) -> Finding:
    """R46: a burner short of air."""
    w = f.workshop
    if w is None:
        return None
    reasons = ["the flame is yellow"] if w.yellow_flame else []
    if w.air_ratio is not None and w.air_ratio < LEAN_AIR:
        reasons.append(f"the burner gets {past_to(w.air_ratio, LEAN_AIR, 2)} of its air")
    return warn(f"{', '.join(reasons)}; {limit_words('CO')}") if reasons else None


def disposal(f: Facts) -> Finding:
    """R49: nobody said where slag and dust go."""
    if f.workshop is None or f.workshop.disposal.strip():
        return None
    return caution(NOT_STATED)


def people(f: Facts) -> Finding:
    """R50: somebody under age, no gear, or nobody near."""
    w = f.workshop
    if w is None:
        return None
    dangers = ["somebody under age takes part"] if w.minor is True else []
    dangers += ["the card says that gear is missing"] if w.ppe is False else []
    if w.ppe is None:
        dangers.append(f"gear {NOT_STATED}" if dangers or w.alone else NOT_STATED)
    told = {True: "somebody was told", False: "nobody was told", None: "not stated whether somebody was told"}
    alone = [f"you work alone, {told[w.told_somebody]}"] if w.alone is True else []
    if dangers:
        return block("; ".join(dangers + alone))
    if alone:
        return warn("; ".join(alone))
    asked = (("working alone", w.alone is None), ("age", w.minor is None))
    return _not_stated([words for words, missing in asked if missing])


def _not_stated(what: list[str]) -> Finding:
    return caution(f"{NOT_STATED}: {', '.join(what)}") if what else None
