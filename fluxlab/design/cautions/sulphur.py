"""Rules on sulphur, arsenic, the reducing budget and the roast: R22 to R25, R27 to R30, R35."""

from fluxlab.design.cautions.exposure import limit_words
from fluxlab.design.cautions.findings import Finding, block, caution, rough, warn
from fluxlab.design.facts import Facts

MATTE_WARN, MATTE_BLOCK = 0.5, 2.0  # mass % of the charge, judgement
SODA_SULPHUR = 0.02  # g sulphide sulphur to a gram of free soda, judgement
ARSENIC_SHARE = 0.3  # mass % of the charge, judgement
SPEISS_PER_ARSENIC = 2.863  # g Fe5As2 to a gram of arsenic, computed; that it is Fe5As2: Collins, p. 144, found
SULPHATE_SULPHUR = 0.3  # mass % of the charge, judgement
SINTERS, CLOTS = (
    800.0,
    450.0,
)  # degC: lead ore with silica, Ingalls (ed.), found; start with fusible sulphides, judgement
SULPHATE_GANGUE = 3.0  # mass % of the charge, judgement


def matte(f: Facts) -> Finding:
    """R22: a little sulphide sulphur that nothing in the charge takes, nor its own oxides burn in the pot."""
    if f.residual_sulphur is None or f.residual_sulphur > MATTE_BLOCK:
        return None  # R23 says it of more
    left = f.residual_sulphur if f.sulphide_left is None else min(f.residual_sulphur, f.sulphide_left)
    if left <= MATTE_WARN:
        return None
    return warn(f"{rough(left)} % of the charge is sulphide sulphur that no iron and no oxidiser takes")


def much_matte(f: Facts) -> Finding:
    """R23: so much of it that a button alone is no plan."""
    if f.residual_sulphur is None or f.residual_sulphur <= MATTE_BLOCK:
        return None
    because = f"{rough(f.residual_sulphur)} % of the charge is sulphide sulphur that nothing takes"
    kept = f.workshop is not None and f.workshop.matte_kept
    return warn(f"{because}; the matte is kept") if kept else block(because)


def sulphide_slag(f: Facts) -> Finding:
    """R24: sulphide sulphur beside free soda without iron."""
    # Soda that is all taken up by acids makes no sulphide slag, so without free soda the rule has nothing to say.
    if f.soda > 0.0 and f.iron <= 0.0 and f.sulphide_sulphur > SODA_SULPHUR * f.soda:
        because = f"{rough(f.sulphide_sulphur)} g sulphide sulphur beside {rough(f.soda, 3)} g free soda, no iron"
        return warn(f"{because}; when wet, hydrogen sulphide: {limit_words('H2S')}")
    return None


def speiss(f: Facts) -> Finding:
    """R25: arsenic that iron, nickel or cobalt turns to speiss."""
    if f.arsenic_share is None or f.arsenic_share <= ARSENIC_SHARE or not f.speiss_metals:
        return None
    booked = "" if f.speiss is None else f"; up to {rough(f.speiss)} g speiss, booked as Fe₅As₂"
    return warn(f"{rough(f.arsenic_share)} % arsenic beside {', '.join(f.speiss_metals)}{booked}")


def under_reduced(f: Facts) -> Finding:
    """R27: too little reducer for the lead or copper that is wanted."""
    if f.base_metal_wanted and f.reductant_budget is not None and f.reductant_budget < f.budget_low:
        return warn(f"the reducers reach {100 * f.reductant_budget:.0f} % of what the oxides ask")
    return None


def over_reduced(f: Facts) -> Finding:
    """R28: much more reducer than the oxides ask."""
    # The wall of a graphite pot alone is no reducer that could be taken out.
    if f.reducers and f.reductant_budget is not None and f.reductant_budget > f.budget_high:
        times = f"{rough(f.reductant_budget)} times what the oxides ask"
        return warn(f"{', '.join(f.reducers)} and whatever else reduces are {times}")
    return None


def sulphate_left(f: Facts) -> Finding:
    """R29: lead sulphate that turns back to matte."""
    if f.lead_sulphate_sulphur is not None and f.lead_sulphate_sulphur > SULPHATE_SULPHUR:
        return warn(f"{rough(f.lead_sulphate_sulphur)} % of the charge is sulphur in lead sulphate")
    return None


def clotting_roast(f: Facts) -> Finding:
    """R30: a roast that sinters or clots."""
    reasons = []
    if f.lead_with_silica and f.roast_finish is not None and f.roast_finish > SINTERS:
        reasons.append(f"lead and silica roasted at {f.roast_finish:.0f} °C")
    if f.clotting and f.roast_start is not None and f.roast_start > CLOTS:
        reasons.append(f"{', '.join(f.clotting)} roasted from {f.roast_start:.0f} °C on")
    return warn("; ".join(reasons)) if reasons else None


def sulphate_gangue(f: Facts) -> Finding:
    """R35: barite, gypsum or anhydrite beside carbon."""
    if f.sulphate_share > SULPHATE_GANGUE and f.reducers:
        return caution(f"{rough(f.sulphate_share)} % barite and calcium sulphate beside {', '.join(f.reducers)}")
    return None
