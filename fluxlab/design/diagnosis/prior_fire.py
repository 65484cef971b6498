"""Priors of causes that show in gas, fume and foam, at the pour, and in the calcine."""

from fluxlab.design.cautions.findings import rough
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.prior import LEAST, NEUTRAL, Prior, Rule, likelier, ramp, told

LONGEST = 20.0
"""Hold beyond which it is no longer the wait that is wrong but the slag [min]; judgement."""


def _boil_over(f: Figures) -> Prior:
    full = f.fill
    gas = f.report.gas_litres or 0.0
    height = NEUTRAL if full is None else ramp(full, 0.3, 0.66, 0.4, 2.0)
    odds = ramp(gas, 2.0, 30.0, 0.4, 2.5) * height
    how = "fill not known" if full is None else f"heap to {100 * full:.0f} % of the pot"
    return told(odds, f"{gas:.0f} L of gas, cold, {how}")


def _tagged(tag: str, what: str, low: float, high: float) -> Rule:
    """By a row with a trade fact [mass % of the charge]."""

    def prior(f: Figures) -> Prior:
        share = f.share(tag)
        if share <= 0.0:
            return told(LEAST, f"no {what} in the charge")
        return told(ramp(share, low, high), f"{share:.1f} % of the charge is {what}")

    return prior


def _damp(f: Figures) -> Prior:
    recipe = f.report.work.recipe
    wet = recipe.ore.moisture
    if wet > 0.5:
        return told(4.0, f"the ore holds {wet:.1f} % moisture")
    return told(0.3, "stated as dried") if recipe.dry else told(1.5, "not confirmed dry")


def _arsenic(f: Figures) -> Prior:
    arsenic, before = f.of_charge(f.report.ore.arsenic), f.arsenic_before
    odds, said = ramp(arsenic, 0.02, 1.0), f"{rough(arsenic)} % arsenic in the charge"
    if f.roast_taken and before > arsenic:
        return told(likelier(odds, ramp(before, 0.1, 5.0, LEAST, 1.0)), f"{said}, {rough(before)} % before the roast")
    return told(odds, said)


def _antimony(f: Figures) -> Prior:
    antimony = f.of_charge(f.report.ore.antimony)
    return told(ramp(antimony, 0.05, 2.0), f"{rough(antimony)} % antimony in the charge")


def _lead(f: Figures) -> Prior:
    return told(ramp(f.lead_share, 1.0, 25.0), f"{f.lead:.0f} g lead in the pot, {f.lead_share:.0f} % of all in it")


def _zinc(f: Figures) -> Prior:
    zinc = f.oxide("ZnO")
    return told(ramp(zinc, 1.0, 12.0), f"{zinc:.1f} % zinc oxide in the slag")


def _cold_start(f: Figures) -> Prior:
    spare = f.spare_heat
    if spare is None:
        hot = f.report.work.recipe.pour_temperature
        return told(ramp(-hot, -1250.0, -1080.0, 0.3, 3.0), f"poured at {hot:.0f} °C")
    return told(ramp(-spare, -200.0, 0.0, LEAST, 3.0), heat_said(f, spare))


def heat_said(f: Figures, spare: float) -> str:
    """The pour against what the slag needs, in words."""
    hot, against = f.report.work.recipe.pour_temperature, "hotter" if spare >= 0.0 else "colder"
    return f"poured at {hot:.0f} °C, {abs(spare):.0f} °C {against} than this slag needs to run"


def _short_wait(f: Figures) -> Prior:
    long, drops = f.report.work.recipe.hold, f.drops
    if drops is None or drops.wanted is None:
        return told(ramp(-long, -20.0, -5.0, 0.3, 3.0), f"held {long:.0f} min")
    odds = ramp(min(drops.wanted, LONGEST) / max(long, 1.0), 0.3, 3.0, LEAST, 3.0)
    return told(odds, f"held {long:.0f} min, the drops want {drops.wanted:.0f}")


def _roast_short(f: Figures) -> Prior:
    roast = f.report.ore.roast
    if roast is None:
        return told(LEAST, "nothing is roasted for this charge")
    if f.roast_taken:
        return told(0.3, "the roast is taken as perfect")
    left = f.of_charge(roast.sulphur_left)
    return told(ramp(left, 0.05, 1.0, 0.2, 3.0), f"the roast is reckoned to leave {rough(left)} % sulphur")


def _roast_hot(f: Figures) -> Prior:
    if f.report.ore.roast is None:
        return told(LEAST, "nothing is roasted for this charge")
    fusible = [name for name in ("stibnite", "realgar", "orpiment", "galena") if name in f.minerals]
    return told(2.5 if fusible else 0.6, f"the ore holds {', '.join(fusible)}" if fusible else "no fusible sulphide")


FIRE: dict[str, Rule] = {
    "gas-formers": _boil_over,
    "hydrated": _tagged("hydrated", "hydrated flux", 1.0, 20.0),
    "nitre": _tagged("nitrate", "nitrate", 1.0, 10.0),
    "damp": _damp,
    "arsenic-fume": _arsenic,
    "antimony-fume": _antimony,
    "lead-fume": _lead,
    "zinc-fume": _zinc,
    "cold-pour": _cold_start,
    "short-hold": _short_wait,
    "roast-short": _roast_short,
    "roast-hot": _roast_hot,
}
