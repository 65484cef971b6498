"""Priors of causes that show in the slag."""

from math import log10

from fluxlab.design.diagnosis.figures import MANGANESE, Figures
from fluxlab.design.diagnosis.prior import Prior, Rule, ramp, told


def _oxide(names: tuple[str, ...], what: str, low: float, high: float) -> Rule:
    """By a slag oxide: unlikely under `low`, likely over `high` [mass %]."""

    def prior(f: Figures) -> Prior:
        value = f.oxide(*names)
        return told(ramp(value, low, high), f"{value:.2g} % {what} in the slag")

    return prior


def _iron(f: Figures) -> Prior:
    return told(ramp(f.iron, 3.0, 20.0), f"{f.iron:.0f} % iron in the slag, as FeO")


def _little_iron(f: Figures) -> Prior:
    return told(ramp(-f.iron, -12.0, -1.0), f"{f.iron:.1f} % iron in the slag, as FeO")


def _ferric(f: Figures) -> Prior:
    ferric = f.oxide("Fe2O3")
    return told(ramp(ferric, 2.0, 15.0), f"{ferric:.1f} % iron left ferric, as Fe₂O₃")


def _manganese(f: Figures) -> Prior:
    oxide, left = f.oxide("MnO"), f.unmet_share(MANGANESE)
    higher = 1.0 if f.tagged("nitrate") > 0.0 else left
    said = f"{100.0 * left:.0f} % of what it can give up is not reached by a reducer"
    return told(
        ramp(oxide, 0.3, 6.0) * ramp(higher, 0.0, 1.0, 0.3, 1.0), f"{oxide:.2g} % manganese oxide in the slag, {said}"
    )


def _degree(above: bool, low: float, high: float) -> Rule:
    def prior(f: Figures) -> Prior:
        if f.degree is None:
            return told(1.0, "no degree for this slag")
        odds = ramp(f.degree, low, high) if above else ramp(-f.degree, -low, -high)
        return told(odds, f"silicate degree {f.degree:.2f}")

    return prior


def _lime_and_alumina(f: Figures) -> Prior:
    alumina, lime = f.oxide("Al2O3"), f.oxide("CaO", "MgO", "BaO")
    return told(ramp(alumina + lime, 8.0, 30.0), f"{alumina:.0f} % alumina and {lime:.0f} % lime, magnesia and baryta")


def _free_lime(f: Figures) -> Prior:
    lime, soda = f.oxide("CaO", "MgO"), f.oxide("Na2O", "K2O")
    odds = ramp(min(lime / 10.0, soda / 30.0), 0.3, 1.2)
    return told(odds, f"{soda:.0f} % soda beside {lime:.0f} % lime and magnesia")


def _unfinished(f: Figures) -> Prior:
    recipe = f.report.work.recipe
    hot, long = recipe.pour_temperature, recipe.hold
    short = ramp(-long, -20.0, -5.0, 0.3, 3.0)
    cold = ramp(-hot, -1200.0, -1050.0, 0.4, 3.0)
    return told(short * cold, f"poured at {hot:.0f} °C after {long:.0f} min")


def _fluidity(f: Figures) -> Prior:
    silica = f.oxide("SiO2", "Al2O3")
    degree = f.degree or 1.5
    if f.viscosity is None or f.viscosity <= 0.0:
        odds = ramp(silica, 25.0, 60.0, 0.2, 3.0) * ramp(degree, 1.0, 3.0, 0.4, 2.0)
        return told(odds, f"{silica:.0f} % silica and alumina, degree {degree:.1f}; viscosity not known")
    odds = ramp(log10(f.viscosity), log10(0.3), 1.0)
    hangs = "" if f.drops is None else f", {f.drops.trapped_percent.value:.0f} % of the metal hangs in it"
    return told(odds, f"about {f.viscosity:.2g} Pa·s at the pour{hangs}")


def _wrong_flux(f: Figures) -> Prior:
    missed = [t.label.lower() for t in f.report.targets if t.on and t.state in ("below", "above")]
    parts = f.report.flux_to_ore
    ratio = 1.0 if parts is None else parts
    odds = ramp(-ratio, -2.0, -0.4, 0.3, 3.0) * (2.0 if missed else 1.0)
    said = f"; missed: {', '.join(missed)}" if missed else ""
    return told(odds, f"{ratio:.2f} parts of flux to ore{said}")


def _quartz_left(f: Figures) -> Prior:
    lead, silica = f.tagged("lead"), f.oxide("SiO2")
    odds = ramp(silica, 15.0, 45.0, 0.2, 2.0) * (2.5 if lead > 0.0 else 1.0)
    return told(odds, f"{silica:.0f} % silica, {lead:.0f} g litharge")


def _litharge_spent(f: Figures) -> Prior:
    left = f.oxide("PbO")
    lead = f.tagged("lead")
    if lead <= 0.0:
        return told(0.05, "no litharge in the charge")
    return told(ramp(-left, -30.0, -2.0), f"{left:.0f} % lead oxide stays in the slag")


def _scour(f: Figures) -> Prior:
    silica, degree = f.oxide("SiO2"), f.degree
    odds = ramp(-silica, -30.0, -8.0, 0.2, 3.0)
    odds *= 1.0 if degree is None else ramp(-degree, -2.0, -0.8, 0.5, 2.0)
    words = "no degree" if degree is None else f"degree {degree:.2f}"
    return told(odds, f"{silica:.0f} % silica in the slag, {words}")


def _milky(f: Figures) -> Prior:
    fluoride, zinc = f.oxide("CaF2"), f.oxide("ZnO")
    held = f.oxide("SnO2", "ZrO2", "P2O5")
    return told(
        ramp(fluoride / 5.0 + zinc / 12.0 + held / 3.0, 0.1, 1.5),
        f"{fluoride:.1f} % fluorspar, {zinc:.1f} % zinc oxide, {held:.1f} % tin, zirconia and phosphate",
    )


def _barite(f: Figures) -> Prior:
    if "barite" not in f.minerals:
        return told(0.15, "no barite is described")
    reducers = f.share("reducer")
    return told(ramp(reducers, 0.0, 3.0, 0.6, 4.0), f"the ore holds barite, {reducers:.1f} % of the charge is reducer")


SLAG: dict[str, Rule] = {
    "little-iron": _little_iron,
    "iron-slag": _iron,
    "ferric-iron": _ferric,
    "copper-slag": _oxide(("Cu2O",), "copper oxide", 0.3, 4.0),
    "cobalt": _oxide(("CoO",), "cobalt oxide", 0.02, 0.5),
    "manganese": _manganese,
    "nickel": _oxide(("NiO",), "nickel oxide", 0.1, 2.0),
    "chromite": _oxide(("Cr2O3",), "chromium oxide", 0.1, 2.0),
    "lead-slag": _oxide(("PbO",), "lead oxide", 5.0, 40.0),
    "unfinished": _unfinished,
    "stiff-slag": _fluidity,
    "wrong-flux": _wrong_flux,
    "quartz-left": _quartz_left,
    "free-lime": _free_lime,
    "lime-alumina": _lime_and_alumina,
    "too-basic": _degree(False, 2.0, 0.8),
    "too-acid": _degree(True, 1.2, 3.0),
    "litharge-spent": _litharge_spent,
    "phosphate": _oxide(("P2O5",), "phosphate", 0.1, 2.0),
    "pot-scour": _scour,
    "milky-solids": _milky,
    "zinc-slag": _oxide(("ZnO",), "zinc oxide", 2.0, 15.0),
    "barite": _barite,
}
