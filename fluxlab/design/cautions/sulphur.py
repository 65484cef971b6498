"""Rules on sulphur, arsenic, the reducing budget and the roast: R22 to R25, R27 to R30, R35."""

from collections.abc import Iterator

from fluxlab.design.cautions.exposure import limit_words
from fluxlab.design.cautions.findings import Finding, block, caution, past, past_to, rough, warn
from fluxlab.design.facts import Facts

MATTE_WARN, MATTE_BLOCK = 0.5, 2.0  # mass % of the charge, judgement
SPEISS_PER_ARSENIC = 2.863  # g Fe5As2 to a gram of arsenic, computed; that it is Fe5As2: Collins, p. 144, found
SULPHATE_SULPHUR = 0.3  # mass % of the charge, judgement
SINTERS, CLOTS = (
    800.0,
    450.0,
)  # degC: lead ore with silica, Ingalls (ed.), found; start with fusible sulphides, judgement
SULPHATE_GANGUE = 3.0  # mass % of the charge, judgement
NO_LAYER = 0.05  # g of speiss that make no layer to speak of, judgement


def matte(f: Facts) -> Finding:
    """R22: a little sulphide sulphur that nothing in the charge takes, nor its own oxides burn in the pot."""
    if f.residual_sulphur is None or f.residual_sulphur > MATTE_BLOCK:
        return None  # R23 says it of more
    left = f.residual_sulphur if f.sulphide_left is None else min(f.residual_sulphur, f.sulphide_left)
    if left <= MATTE_WARN:
        return None
    return warn(f"{past(left, MATTE_WARN)} % of the ore charged is sulphide sulphur that no iron and no oxidiser takes")


def much_matte(f: Facts) -> Finding:
    """R23: so much of it that a button alone is no plan."""
    if f.residual_sulphur is None or f.residual_sulphur <= MATTE_BLOCK:
        return None
    because = f"{past(f.residual_sulphur, MATTE_BLOCK)} % of the ore charged is sulphide sulphur that nothing takes"
    kept = f.workshop is not None and f.workshop.matte_kept
    return warn(f"{because}; the matte is kept") if kept else block(because)


def sulphide_slag(f: Facts) -> Finding:
    """R24: sulphide sulphur beside free soda, with less iron than takes it from there."""
    # Soda that is all taken up by acids makes no sulphide slag, so without free soda the rule has nothing to say.
    wanted = f.iron_asked * f.sulphide_sulphur
    short = max(1.0 - f.iron / wanted, 0.0) if wanted > 0.0 else 1.0
    most, free = f.soda_slag * f.soda, f.sulphide_sulphur * short
    if f.soda <= 0.0 or free <= most:
        return None
    iron = "no iron" if f.iron <= 0.0 else f"beyond what {rough(f.iron)} g iron takes"
    because = f"{past(free, most)} g sulphide sulphur beside {rough(f.soda, 3)} g free soda, {iron}"
    return warn(f"{because}; when wet, hydrogen sulphide: {limit_words('H2S')}")


def speiss(f: Facts) -> Finding:
    """R25: arsenic that iron, nickel or cobalt turns to speiss."""
    if f.arsenic_share is None or f.arsenic_share <= f.speiss_from or not f.speiss_metals:
        return None
    because = f"{past(f.arsenic_share, f.speiss_from)} % arsenic beside {', '.join(f.speiss_metals)}"
    return warn("; ".join((because, *_booked(f))))


def _booked(f: Facts) -> Iterator[str]:
    """Speiss of iron as the pot makes it, or as all arsenic would; and the most that nickel and cobalt could add."""
    made = 0.0
    if f.speiss_made is None:
        if f.speiss is not None:
            yield f"up to {rough(f.speiss)} g speiss, booked as Fe₅As₂"
    elif f.speiss_made[1] < NO_LAYER:
        yield "the pot books no Fe₅As₂, for it counts no iron as free"
    else:
        made, most = f.speiss_made
        yield f"the pot makes about {rough(made)} g speiss, {rough(most)} g at most, booked as Fe₅As₂"
    if f.nickel_cobalt > 0.0 and f.speiss_made is not None:
        rest = max(f.arsenic_left - made / SPEISS_PER_ARSENIC, 0.0)
        yield f"speiss of nickel or cobalt is not reckoned: up to {rough(rest + f.nickel_cobalt)} g more"


def under_reduced(f: Facts) -> Finding:
    """R27: too little reducer for the lead or copper that is wanted."""
    if f.base_metal_wanted and f.reductant_budget is not None and f.reductant_budget < f.budget_low:
        share = past_to(100.0 * f.reductant_budget, 100.0 * f.budget_low)
        return warn(f"the reducers reach {share} % of what the oxides ask")
    return None


def over_reduced(f: Facts) -> Finding:
    """R28: much more reducer than the oxides ask, be it of the flux table or the sulphides of the ore."""
    budget, high = f.reductant_budget, f.budget_high
    if budget is None or budget <= high:
        return None
    if f.wall_budget > high and budget - f.wall_budget <= high:
        return None  # the wall of a graphite pot alone is no reducer that could be taken out
    names = [*f.takers, "the wall of the pot"] if f.wall_budget > 0.0 else f.takers
    told = f"{past(budget, high)} times what the charge gives up, where {rough(high)} at most is wanted"
    return warn(f"{' and '.join(names) or 'reducers'}: {told}")


def sulphate_left(f: Facts) -> Finding:
    """R29: lead sulphate that turns back to matte."""
    if f.lead_sulphate_sulphur is not None and f.lead_sulphate_sulphur > SULPHATE_SULPHUR:
        share = past(f.lead_sulphate_sulphur, SULPHATE_SULPHUR)
        return warn(f"{share} % of the ore charged is sulphur in lead sulphate")
    return None


def clotting_roast(f: Facts) -> Finding:
    """R30: a roast that sinters or clots."""
    reasons = []
    if f.lead_with_silica and f.roast_finish is not None and f.roast_finish > SINTERS:
        reasons.append(f"lead and silica roasted at {past_to(f.roast_finish, SINTERS)} °C")
    if f.clotting and f.roast_start is not None and f.roast_start > CLOTS:
        reasons.append(f"{', '.join(f.clotting)} roasted from {past_to(f.roast_start, CLOTS)} °C on")
    return warn("; ".join(reasons)) if reasons else None


def sulphate_gangue(f: Facts) -> Finding:
    """R35: barite, gypsum or anhydrite beside carbon."""
    if f.sulphate_share <= SULPHATE_GANGUE or not f.carbon:
        return None
    told = past(f.sulphate_share, SULPHATE_GANGUE)
    return caution(f"{told} % barite and calcium sulphate beside {', '.join(f.carbon)}")
