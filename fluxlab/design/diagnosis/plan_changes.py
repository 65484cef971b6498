"""Changes of fire, feeding, charge and roast that a cause asks for."""

from math import ceil

from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.report_types import Mend

COOLEST, HOTTEST, STEP_UP = 1100.0, 1250.0, 50.0  # degC: what a small furnace and its pot stand, from memory; judgement
ENOUGH_HEAT = 150.0  # degC over what the slag needs, above which more fire is no remedy: judgement
LONGEST, WAIT = 20.0, 5.0  # min: judgement
MOST_FEEDS = 6  # judgement: more of them and the pot is open longer than it melts
LARGER = 1.5  # times the charge: judgement
ROAST_FROM, ROAST_TO, ROAST_MORE = 740.0, 780.0, 20.0
"""Finish of a roast that breaks up sulphates, and below that at which lead ore with silica sinters [degC]: from memory;
by how much it is raised: judgement."""
ROAST_WAIT = 30.0  # min: judgement


def roast_first(f: Figures) -> Mend | None:
    """Calcine into the pot, where raw material goes into it now."""
    if f.report.work.recipe.pot_feed == "calcine":
        return None
    return Mend("Roast it first", "set_pot_feed", ("calcine",))


def roast_longer(f: Figures) -> Mend | None:
    """A finish and a time that break up more sulphates; a roast taken as perfect leaves nothing to better."""
    made = f.report.ore.roast
    if made is None or made.perfect:
        return None
    roast = f.report.work.recipe.roast
    finish = min(max(roast.finish_temperature, ROAST_FROM) + ROAST_MORE, ROAST_TO)
    minutes = roast.minutes + ROAST_WAIT
    return Mend(f"Roast to {finish:.0f} °C, {minutes:.0f} min", "plan_roast", (finish, minutes))


def hotter(f: Figures) -> Mend | None:
    """A pour 50 °C hotter, as far as pot and furnace go, where the slag has not heat to spare already."""
    hot, spare = f.report.work.recipe.pour_temperature, f.spare_heat
    if hot >= HOTTEST or (spare is not None and spare >= ENOUGH_HEAT):
        return None
    return _pour(min(hot + STEP_UP, HOTTEST))


def cooler(f: Figures) -> Mend | None:
    """A pour 50 °C cooler, while it is hot enough for that."""
    hot = f.report.work.recipe.pour_temperature
    return None if hot <= COOLEST else _pour(max(hot - STEP_UP, COOLEST))


def _pour(celsius: float) -> Mend:
    return Mend(f"Pour at {celsius:.0f} °C", "set_pour_temperature", (celsius,))


def longer(f: Figures) -> Mend | None:
    """Five minutes more of the quiet melt."""
    hold = f.report.work.recipe.hold
    if hold >= LONGEST:
        return None
    minutes = min(hold + WAIT, LONGEST)
    return Mend(f"Hold {minutes:.0f} min", "set_hold", (minutes,))


def long_enough(f: Figures) -> Mend | None:
    """The hold that the drops of metal want, where it is known."""
    if f.drops is None:
        return longer(f)
    minutes = float(ceil(f.drops.advised))
    return Mend(f"Hold {minutes:.0f} min", "set_hold", (minutes,)) if minutes > f.report.work.recipe.hold else None


def in_parts(f: Figures) -> Mend | None:
    """One part more, or as many as the pot asks for."""
    feeds = f.report.work.recipe.feeds
    wanted = max(feeds + 1, f.report.fill.feeds_needed if f.report.fill else 0)
    return None if wanted > MOST_FEEDS else Mend(f"Feed in {wanted} parts", "set_feeds", (wanted,))


def larger_charge(f: Figures) -> Mend | None:
    """Half as much again, so that more metal runs together."""
    charge = f.report.work.recipe.charge
    if charge <= 0.0:
        return None
    return Mend(f"Charge {charge:.0f} → {LARGER * charge:.0f} g", "set_charge", (LARGER * charge,))
