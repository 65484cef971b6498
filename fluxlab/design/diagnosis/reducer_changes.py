"""Changes of the reducer that a cause asks for, sized by what stands before it in the order of reduction."""

from math import ceil

from fluxlab.design.diagnosis.candidate import MORE, fix, now
from fluxlab.design.diagnosis.figures import BASES, IRON, MANGANESE, Figures
from fluxlab.design.diagnosis.roles import reducer
from fluxlab.design.report_types import Mend
from fluxlab.fusion.currency import LEAD_PER_OXYGEN


def less_reducer(f: Figures) -> Mend | None:
    """A fifth less of it."""
    found = reducer(f.report.work)
    return None if found is None or now(f, found) <= 0.0 else fix(f, found, now(f, found) / MORE)


def less_reducer_for_lead(f: Figures) -> Mend | None:
    """A fifth less of it where no lead is wanted in the button."""
    return None if f.base_wanted else less_reducer(f)


def no_reducer(f: Figures) -> Mend | None:
    """All of it left out."""
    found = reducer(f.report.work)
    return None if found is None or now(f, found) <= 0.0 else fix(f, found, 0.0)


def more_reducer(f: Figures) -> Mend | None:
    """What a lead button still lacks, at least a fifth more; nothing where no base metal is wanted, or the reducer is
    enough for all that there is."""
    found = reducer(f.report.work)
    if found is None or not f.base_wanted or f.report.pot is None or (f.budget or 0.0) >= 1.0 or _beside_nitre(f):
        return None
    redox = f.report.pot.redox
    lacking = redox.reducer_wanted.value if redox.reducer_wanted and redox.reducer_name == found.name else 0.0
    return fix(f, found, max(MORE * now(f, found), now(f, found) + lacking))


def _beside_nitre(f: Figures) -> bool:
    """Whether a reducer would lie beside nitre, with which it can go off."""
    return f.tagged("nitrate") > 0.0


def reduce_iron(f: Figures) -> Mend | None:
    """Reducer for all iron that is left ferric."""
    return _reach(f, IRON)


def reduce_manganese(f: Figures) -> Mend | None:
    """Reducer for all manganese above MnO."""
    return _reach(f, MANGANESE)


def _reach(f: Figures, oxides: frozenset[str]) -> Mend | None:
    """Reducer for what these oxides still give up, with all that is reduced before them.

    Nothing where copper or lead would be brought down on the way and is not wanted: the button would be another.
    """
    found, order = reducer(f.report.work), f.unmet_up_to(oxides)
    if found is None or not order or _beside_nitre(f):
        return None
    if not f.base_wanted and any(name in BASES for name, _ in order):
        return None
    oxygen = sum(grams for _, grams in order)
    return fix(f, found, now(f, found) + ceil(10.0 * oxygen * LEAD_PER_OXYGEN / found.lead_power) / 10.0)
