"""Changes of the flux that a cause asks for."""

from fluxlab.design.diagnosis.candidate import MORE, Mender, fix, now
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.roles import flux_for
from fluxlab.design.report_types import Mend

FLUORSPAR = 0.03  # part of the flux, judgement, below the limit of its target


def more(role: str, least: float = 0.05) -> Mender:
    """A fifth more of a flux, at least `least` [part of the charge] where there is none."""

    def mender(f: Figures) -> Mend | None:
        component = flux_for(f.report.work, role)
        if component is None:
            return None
        return fix(f, component, max(MORE * now(f, component), least * f.report.ore.charge))

    return mender


def less(role: str) -> Mender:
    """A fifth less of a flux."""

    def mender(f: Figures) -> Mend | None:
        component = flux_for(f.report.work, role)
        if component is None or now(f, component) <= 0.0:
            return None
        return fix(f, component, now(f, component) / MORE)

    return mender


def more_litharge(f: Figures) -> Mend | None:
    """A fifth more litharge where there is some: elsewhere it would make another melt of it."""
    return more("litharge")(f) if f.tagged("lead") > 0.0 else None


def no_iron(f: Figures) -> Mend | None:
    """The metallic iron left out."""
    found = flux_for(f.report.work, "iron")
    return None if found is None or now(f, found) <= 0.0 else fix(f, found, 0.0)


def iron_for_matte(f: Figures) -> Mend | None:
    """Iron in all for the sulphur that would go into a matte [g]; none where nitre stands beside it."""
    wanted = None if f.report.pot is None else f.report.pot.sulphur.iron_wanted
    if wanted is None or f.tagged("nitrate") > 0.0:
        return None
    found = flux_for(f.report.work, "iron")
    return None if found is None or now(f, found) > wanted.value else fix(f, found, wanted.value)


def nitre_for_sulphur(f: Figures) -> Mend | None:
    """Nitre for the sulphur that would go into a matte [g], where the charge holds nitre already."""
    wanted = None if f.report.pot is None else f.report.pot.sulphur.nitre_wanted
    found = flux_for(f.report.work, "nitre")
    if wanted is None or found is None or now(f, found) <= 0.0:
        return None
    return fix(f, found, now(f, found) + wanted)


def fluorspar(f: Figures) -> Mend | None:
    """A little fluorspar."""
    found, weight = flux_for(f.report.work, "fluorspar"), FLUORSPAR * f.report.flux_mass
    return None if found is None or now(f, found) >= weight else fix(f, found, weight)


def anhydrous(f: Figures) -> Mend | None:
    """Borax glass in place of hydrated borax: a little over half the weight does the same, Beringer 1904, found."""
    shelf = f.report.work.shelf
    glass = flux_for(f.report.work, "borax")
    wet = [
        line
        for line in f.report.lines
        if (c := shelf.flux(line.flux)) and "hydrated" in c.tags and "orax" in c.name and line.grams > 0.0
    ]
    if glass is None or not wet:
        return None
    weight = round(now(f, glass) + 0.55 * sum(line.grams for line in wet), 1)
    rows = (*((line.flux, 0.0) for line in wet), (glass.uid, weight))
    return Mend(f"{glass.name} in place of hydrated borax", "paste_weights", (rows,))
