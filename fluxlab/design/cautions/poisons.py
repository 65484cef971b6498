"""Rules on what poisons by fume, gas or dust: R15 to R21, R38."""

from fluxlab.design.cautions.exposure import air, dilution, limit_words
from fluxlab.design.cautions.findings import Finding, block, past, past_to, rough, warn
from fluxlab.design.cautions.vessels import MOISTURE_LIMIT
from fluxlab.design.facts import Facts
from fluxlab.design.workshop import Workshop

ARSENIC_BLOCK, ARSENIC_WARN = 0.5, 0.05  # g in a batch, judgement
ANTIMONY_WARN, TRACE_WARN = 1.0, 0.1  # g in a batch; tellurium, selenium, cadmium; judgement
SO2_WARN = 5.0  # g in a roast or a melt, judgement
AIR_WARN = 10.0  # m3/min of fresh air indoors, judgement
SO2_MINUTES = 45.0  # the short end of 45 to 120 min for a roast of 100 g, from memory; the same for a melt: judgement
FLUORSPAR_LIMIT = 10.0  # mass % of the flux, judgement
CHLORIDE_FROM = 1000.0  # degC, judgement


def mercury(f: Facts) -> Finding:
    """R15: any mercury."""
    if f.mercury <= 0.0:
        return None
    return block(f"{rough(f.mercury, 3)} g mercury in this batch; {air('Hg', f.mercury)}")


def arsenic(f: Facts) -> Finding:
    """R16: arsenic beyond traces."""
    if f.arsenic <= ARSENIC_WARN:
        return None
    much = f.arsenic > ARSENIC_BLOCK
    told = past(f.arsenic, ARSENIC_BLOCK if much else ARSENIC_WARN)
    because = f"{told} g arsenic in this batch; {air('As', f.arsenic)}{_capture(f.workshop)}"
    return block(because) if much else warn(because)


def other_fume(f: Facts) -> Finding:
    """R17: antimony, tellurium, selenium or cadmium."""
    held = (
        ("Sb", "antimony", f.antimony, ANTIMONY_WARN),
        ("Te", "tellurium", f.tellurium, TRACE_WARN),
        ("Se", "selenium", f.selenium, TRACE_WARN),
        ("Cd", "cadmium", f.cadmium, TRACE_WARN),
    )
    found = [f"{past(grams, limit)} g {name} ({limit_words(key)})" for key, name, grams, limit in held if grams > limit]
    return warn(", ".join(found)) if found else None


def lead(f: Facts) -> Finding:
    """R18: lead in the charge."""
    return warn(f"{rough(f.lead, 3)} g lead in the charge; {limit_words('Pb')}") if f.lead > 0.0 else None


def sulphur_dioxide(f: Facts) -> Finding:
    """R19: what roast and pot give off, out of doors or in; each by itself, for they come at different times."""
    indoors = f.workshop is not None and f.workshop.indoors is True
    told = [
        words for words in (_of_roast(f, indoors), _sulphur_gas("pot", f.pot_so2, f.pot_so2_litres, indoors)) if words
    ]
    if not told:
        return None
    because = "; ".join(told) + _capture(f.workshop)
    return block(f"{because}; the card says indoors") if indoors else warn(because)


def _of_roast(f: Facts, indoors: bool) -> str:
    return _sulphur_gas("roast", f.roast_so2 or 0.0, f.roast_so2_litres or 0.0, indoors, f.roast_minutes or SO2_MINUTES)


def _sulphur_gas(where: str, grams: float, litres: float, indoors: bool, minutes: float = SO2_MINUTES) -> str:
    """Sulphur dioxide of the roast or the pot [g, L at 25 degC] in words; empty where it is no more than the limit."""
    per_minute = dilution("SO2", grams) / minutes
    if not (grams > SO2_WARN or (indoors and per_minute > AIR_WARN)):
        return ""
    volume = f" ({rough(litres)} L)" if litres else ""
    return f"{past(grams, SO2_WARN)} g sulphur dioxide{volume} from the {where}; {air('SO2', grams, minutes)}"


def _capture(card: Workshop | None) -> str:
    """What the card says of a hood with a scrubber: the control that the operator confirms."""
    if card is None:
        return ""
    if card.capture is None:
        return "; a hood with a scrubber is not stated"
    return "; a hood with a scrubber is on the card" if card.capture else "; the card says: no hood with a scrubber"


def fluoride(f: Facts) -> Finding:
    """R20: fluorspar with water or acid, or much of it."""
    if f.fluorspar_share <= 0.0:
        return None
    if f.hydrated_with_fluoride:
        return block(f"fluorspar beside {', '.join(f.hydrated_with_fluoride)}; {limit_words('HF')}")
    if not f.dry or f.moisture > MOISTURE_LIMIT:
        return block(f"fluorspar in a charge that is not confirmed dry; {limit_words('HF')}")
    if f.fluorspar_share > FLUORSPAR_LIMIT:
        return warn(f"{past_to(f.fluorspar_share, FLUORSPAR_LIMIT, 1)} % of the flux is fluorspar; {limit_words('HF')}")
    return None


def chloride(f: Facts) -> Finding:
    """R21: chlorides over silver ore, hot, with neither soda nor reducer enough to keep the silver."""
    hot = f.pour_temperature is not None and f.pour_temperature > CHLORIDE_FROM
    if not (f.chloride > 0.0 and f.silver > 0.0 and hot):
        return None
    if f.soda >= f.chloride_soda or f.reducing >= f.chloride_oxygen:
        return None
    kept = "too little soda and reducer" if f.soda > 0.0 or f.reducing > 0.0 else "no soda and no reducer"
    wanted = f"{rough(f.chloride_soda)} g of soda ash would do"
    return warn(f"{rough(f.chloride)} g chloride beside {rough(f.silver)} g silver, {kept}: {wanted}")


def silica_dust(f: Facts) -> Finding:
    """R38: crystalline silica in the hand, or dry grinding."""
    dry_milling = f.workshop is not None and f.workshop.dry_milling
    found = [", ".join(f.silica)] if f.silica else []
    found += ["the ore is ground dry"] if dry_milling else []
    return warn(f"{'; '.join(found)}; {limit_words('silica')}") if found else None
