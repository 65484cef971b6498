"""Priors of causes that show in the slag."""

from math import log10

from fluxlab.design.cautions.findings import rough
from fluxlab.design.diagnosis.charge_figures import must_missed
from fluxlab.design.diagnosis.figures import MANGANESE, Figures
from fluxlab.design.diagnosis.prior import LEAST, Prior, Rule, likelier, ramp, told
from fluxlab.design.diagnosis.prior_fire import heat_said

COPPER_OXIDE = 1.126
"""Copper oxide, Cu2O, that copper makes [g/g]; computed."""


def _oxide(names: tuple[str, ...], what: str, low: float, high: float) -> Rule:
    """By a slag oxide: unlikely under `low`, likely over `high` [mass %]."""

    def prior(f: Figures) -> Prior:
        value = f.oxide(*names)
        return told(ramp(value, low, high), f"{rough(value)} % {what} in the slag")

    return prior


def _iron(f: Figures) -> Prior:
    return told(ramp(f.iron, 2.0, 15.0), f"{f.iron:.0f} % iron in the slag, as FeO")


def _little_iron(f: Figures) -> Prior:
    return told(ramp(-f.iron, -12.0, -1.0), f"{f.iron:.1f} % iron in the slag, as FeO")


def _copper(f: Figures) -> Prior:
    """By the copper oxide of the slag; copper that is to come down may stay in it all the same."""
    left, all_of_it = f.oxide("Cu2O"), f.of_slag(COPPER_OXIDE * f.report.ore.copper)
    odds = likelier(ramp(left, 0.1, 2.0), ramp(all_of_it, 0.5, 10.0, LEAST, 1.5))
    return told(odds, f"{rough(left)} % copper oxide in the slag, {rough(all_of_it)} % if none of the copper came down")


def _ferric(f: Figures) -> Prior:
    ferric = f.oxide("Fe2O3")
    return told(ramp(ferric, 2.0, 15.0), f"{ferric:.1f} % iron left ferric, as Fe₂O₃")


def _manganese(f: Figures) -> Prior:
    oxide, left = f.oxide("MnO"), f.unmet_share(MANGANESE)
    higher = 1.0 if f.tagged("nitrate") > 0.0 else left
    said = f"{rough(oxide)} % manganese oxide in the slag"
    odds = ramp(oxide, 0.3, 6.0) * ramp(higher, 0.0, 1.0, 0.3, 1.0)
    return told(odds, f"{said}, {100.0 * left:.0f} % of what it can give up is not reached by a reducer")


def _too_basic(f: Figures) -> Prior:
    if f.degree is None:
        return told(1.0, "no degree for this slag")
    return told(ramp(-f.degree, -2.0, -0.8), f"silicate degree {f.degree:.2f}")


def _too_acid(f: Figures) -> Prior:
    """By the degree, and by whether the slag is as stiff as an acid one: much borax makes it acid and thin."""
    if f.degree is None:
        return told(1.0, "no degree for this slag")
    odds, said = ramp(f.degree, 1.8, 3.3), f"silicate degree {f.degree:.2f}"
    if f.viscosity is None or f.viscosity <= 0.0:
        return told(odds, said)
    thick = ramp(log10(f.viscosity), -1.0, 0.3, 0.1, 1.0)
    return told(odds * thick, f"{said}, about {rough(f.viscosity)} Pa·s at the pour")


def _lead_silicate(f: Figures) -> Prior:
    left, given = f.oxide("PbO"), f.share("lead")
    odds = likelier(ramp(left, 5.0, 40.0), ramp(given, 5.0, 40.0, LEAST, 2.0))
    said = f"{left:.0f} % lead oxide in the slag"
    return told(odds, f"{said}, {given:.0f} % of all in the pot is litharge" if given > 0.0 else said)


def _lime_and_alumina(f: Figures) -> Prior:
    alumina, lime = f.oxide("Al2O3"), f.oxide("CaO", "MgO", "BaO")
    return told(ramp(alumina + lime, 8.0, 30.0), f"{alumina:.0f} % alumina and {lime:.0f} % lime, magnesia and baryta")


def _free_lime(f: Figures) -> Prior:
    lime, soda = f.oxide("CaO", "MgO"), f.oxide("Na2O", "K2O")
    odds = ramp(min(lime / 10.0, soda / 30.0), 0.3, 1.2)
    return told(odds, f"{soda:.0f} % soda beside {lime:.0f} % lime and magnesia")


def _unfinished(f: Figures) -> Prior:
    recipe, spare = f.report.work.recipe, f.spare_heat
    hot, long = recipe.pour_temperature, recipe.hold
    short = ramp(-long, -15.0, -3.0, 0.4, 3.0)
    if spare is None:
        return told(short * ramp(-hot, -1200.0, -1050.0, 0.4, 3.0), f"poured at {hot:.0f} °C after {long:.0f} min")
    return told(short * ramp(-spare, -250.0, 0.0, 0.4, 3.0), f"{heat_said(f, spare)}, after {long:.0f} min")


def _fluidity(f: Figures) -> Prior:
    silica = f.oxide("SiO2", "Al2O3")
    degree = f.degree or 1.5
    if f.viscosity is None or f.viscosity <= 0.0:
        odds = ramp(silica, 25.0, 60.0, 0.2, 3.0) * ramp(degree, 1.0, 3.0, 0.4, 2.0)
        return told(odds, f"{silica:.0f} % silica and alumina, degree {degree:.1f}; viscosity not known")
    odds = ramp(log10(f.viscosity), log10(0.2), log10(5.0))
    hangs = "" if f.drops is None else f", {f.drops.trapped_percent.value:.0f} % of the metal hangs in it"
    return told(odds, f"about {rough(f.viscosity)} Pa·s at the pour{hangs}")


def _wrong_flux(f: Figures) -> Prior:
    """By how little flux there is, whether the slag runs at the pour, and the limits of the slag that had to hold."""
    missed = [t.label.lower() for t in f.report.targets if _of_slag(t.key) and must_missed(t)]
    parts, spare = f.report.flux_to_ore, f.spare_heat
    ratio = 1.0 if parts is None else parts
    odds = ramp(-ratio, -2.0, -0.4, 0.3, 3.0) * (2.0 if missed else 1.0)
    odds *= 1.0 if spare is None else ramp(-spare, -250.0, 50.0, 0.2, 2.0)
    said = f"{ratio:.2f} parts of flux to ore" + ("" if spare is None else f", {heat_said(f, spare)}")
    return told(odds, f"{said}; missed: {', '.join(missed)}" if missed else said)


def _of_slag(key: str) -> bool:
    """Whether a target is one of the slag itself, which another flux would mend."""
    return key in ("degree", "borate", "basicity", "optical", "viscosity", "fluorspar") or key.startswith("cap:")


def _quartz_left(f: Figures) -> Prior:
    silica = f.oxide("SiO2")
    odds = ramp(silica, 5.0, 35.0, LEAST, 2.0) * ramp(f.lead_share, 2.0, 20.0, 1.0, 2.5)
    return told(odds, f"{silica:.0f} % silica in the slag, {f.lead:.0f} g lead in the pot, whose oxide runs first")


def _litharge_spent(f: Figures) -> Prior:
    left = f.oxide("PbO")
    lead = f.tagged("lead")
    if lead <= 0.0:
        return told(LEAST, "no litharge in the charge")
    return told(ramp(-left, -30.0, -2.0), f"{left:.0f} % lead oxide stays in the slag")


def _scour(f: Figures) -> Prior:
    silica, iron, degree = f.oxide("SiO2"), f.iron, f.degree
    odds = ramp(-silica, -30.0, -8.0, 0.2, 3.0) * ramp(iron, 10.0, 35.0, 1.0, 3.0)
    odds *= 1.0 if degree is None else ramp(-degree, -2.0, -0.8, 0.5, 2.0)
    words = "no degree" if degree is None else f"degree {degree:.2f}"
    return told(odds, f"{silica:.0f} % silica and {iron:.0f} % iron in the slag, as FeO, {words}")


def _milky(f: Figures) -> Prior:
    fluoride, held = f.oxide("CaF2"), f.oxide("SnO2", "ZrO2")
    return told(
        ramp(fluoride / 5.0 + held / 3.0, 0.1, 1.5), f"{fluoride:.1f} % fluorspar, {held:.1f} % tin oxide and zirconia"
    )


def _barite(f: Figures) -> Prior:
    if "barite" not in f.minerals:
        return told(LEAST, "no barite is described")
    reducers = f.share("reducer")
    return told(ramp(reducers, 0.0, 1.5, 0.6), f"the ore holds barite, {reducers:.1f} % of the charge is reducer")


SLAG: dict[str, Rule] = {
    "little-iron": _little_iron,
    "iron-slag": _iron,
    "ferric-iron": _ferric,
    "copper-slag": _copper,
    "cobalt": _oxide(("CoO",), "cobalt oxide", 0.02, 0.5),
    "manganese": _manganese,
    "nickel": _oxide(("NiO",), "nickel oxide", 0.1, 2.0),
    "chromite": _oxide(("Cr2O3",), "chromium oxide", 0.1, 2.0),
    "lead-slag": _lead_silicate,
    "unfinished": _unfinished,
    "stiff-slag": _fluidity,
    "wrong-flux": _wrong_flux,
    "quartz-left": _quartz_left,
    "free-lime": _free_lime,
    "lime-alumina": _lime_and_alumina,
    "too-basic": _too_basic,
    "too-acid": _too_acid,
    "litharge-spent": _litharge_spent,
    "phosphate": _oxide(("P2O5",), "phosphate", 0.1, 2.0),
    "pot-scour": _scour,
    "milky-solids": _milky,
    "zinc-slag": _oxide(("ZnO",), "zinc oxide", 2.0, 15.0),
    "barite": _barite,
}
