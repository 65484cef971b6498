"""Rules on dryness, mould and room: R01 to R08."""

from fluxlab.design.cautions.findings import Finding, block, past, past_to, rough, warn
from fluxlab.design.facts import Facts
from fluxlab.design.rising import SWELL_LIMIT

MOISTURE_LIMIT = 0.5  # mass %, judgement
MOULD_COLD, MOULD_HOT = (
    120.0,
    350.0,
)  # degC, judgement: moisture is off the wall above the one, metal welds above the other
MOULD_FULL, MOULD_ROOM, FREEBOARD = 0.90, 0.67, 10.0  # of the brim, of the brim, mm; judgement
HEAP_LIMIT = 2 / 3  # of the brim, judgement
GAS_HEAP_LIMIT = 0.5  # of the brim, judgement


def damp(f: Facts) -> Finding:
    """R01: moisture in the charge, or dryness not confirmed."""
    if f.moisture > MOISTURE_LIMIT:
        bursts = f": {rough(f.water, 3)} g, {rough(f.steam)} L of steam at pour heat" if f.steam else ""
        return block(f"the ore charged holds {past(f.moisture, MOISTURE_LIMIT, 3)} % moisture{bursts}")
    return None if f.dry else block("not confirmed dry")


def mould(f: Facts) -> Finding:
    """R02: the mould cold, or its heat not confirmed."""
    if f.mould_preheat is None:
        return block("the mould's temperature is not confirmed")
    if f.mould_preheat < MOULD_COLD:
        return block(f"the mould is planned at {past_to(f.mould_preheat, MOULD_COLD)} °C")
    return None


def hot_mould(f: Facts) -> Finding:
    """R03: the mould so hot that metal may weld to it."""
    if f.mould_preheat is not None and f.mould_preheat > MOULD_HOT:
        return warn(f"the mould is planned at {past_to(f.mould_preheat, MOULD_HOT)} °C")
    return None


def mould_room(f: Facts) -> Finding:
    """R04: the pour too much for the mould."""
    if f.mould_fraction is None or f.mould_freeboard is None:
        return None
    full, low = f.mould_fraction > MOULD_FULL + 1e-9, f.mould_freeboard < FREEBOARD - 1e-9
    if not (full or low or f.mould_fraction > MOULD_ROOM + 1e-9):
        return None
    share = past_to(100 * f.mould_fraction, 100 * (MOULD_FULL if full else MOULD_ROOM))
    room = past_to(f.mould_freeboard, FREEBOARD) if low else f"{f.mould_freeboard:.0f}"
    free = f"{room} mm free" if f.mould_freeboard >= 0.0 else f"{-f.mould_freeboard:.0f} mm too shallow"
    because = f"the pour fills {share} % of the mould, {free}"
    return block(because) if full or low else warn(because)


def heap(f: Facts) -> Finding:
    """R05: the loose charge too high in the pot."""
    if f.heap_fraction is not None and f.heap_fraction > HEAP_LIMIT + 1e-9:
        return block(f"the heap fills {past_to(100 * f.heap_fraction, 100 * HEAP_LIMIT)} % of the pot")
    return None


def gassy_heap(f: Facts) -> Finding:
    """R06: more than half a pot with something in it that gives off gas."""
    if f.gas_formers and f.heap_fraction is not None and f.heap_fraction > GAS_HEAP_LIMIT + 1e-9:
        share = past_to(100 * f.heap_fraction, 100 * GAS_HEAP_LIMIT)
        return warn(f"the heap fills {share} % of the pot and gives off gas")
    return None


def swollen_heap(f: Facts) -> Finding:
    """R07: the heap swells to more than the pot has, while it is still solid."""
    if f.swollen_fraction is not None and f.swollen_fraction > SWELL_LIMIT + 1e-9:
        return block(f"the heap swells to {past_to(100 * f.swollen_fraction, 100 * SWELL_LIMIT)} % of the pot")
    return None


def hot_foam(f: Facts) -> Finding:
    """R08: gas through a stiff melt lifts it as foam over the rim."""
    if f.foam_rise is not None and f.free_height is not None and f.foam_rise > f.free_height:
        foam = past_to(f.foam_rise, f.free_height)
        return warn(f"the foam may stand {foam} mm high on the melt, {f.free_height:.0f} mm are free")
    return None
