"""Priors of causes that show in the button, the layers under the slag, the fume, the pot and the roast."""

from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.prior import NEUTRAL, Odds, Prior, Rule, likelier, ramp, told


def _matte(f: Figures) -> Prior:
    share = f.of_charge(f.matte)
    return told(ramp(share, 0.2, 5.0), f"{f.matte:.2g} g of matte is to be expected, {share:.1f} % of the charge")


def _sulphate(f: Figures) -> Prior:
    left, lead = f.sulphate_sulphur, f.of_charge(f.report.ore.lead)
    odds = ramp(left, 0.05, 1.0) * ramp(lead, 2.0, 20.0, 0.7, 2.0)
    return told(odds, f"{left:.2g} % sulphate sulphur, {lead:.0f} % lead in the charge")


def _speiss(f: Figures) -> Prior:
    share, bad = f.of_charge(f.speiss), f.of_charge(f.report.ore.arsenic + f.report.ore.antimony)
    iron = f.tagged("iron")
    odds = likelier(ramp(share, 0.2, 4.0), ramp(bad, 0.1, 2.0)) * ramp(f.of_charge(iron), 0.0, 10.0, 0.8, 1.6)
    said = f"{f.speiss:.2g} g of speiss is to be expected, {bad:.2g} % arsenic and antimony in the charge"
    return told(odds, f"{said}, {iron:.1f} g metallic iron" if iron > 0.0 else said)


def _base_button(f: Figures) -> Prior:
    ore = f.report.ore
    base = f.of_charge(ore.copper + ore.antimony + ore.arsenic)
    return told(ramp(base, 0.3, 6.0), f"{base:.1f} % copper, antimony and arsenic in the charge")


def _sulphur_in_button(f: Figures) -> Prior:
    odds = ramp(f.sulphide_left, 0.1, 2.0) * _iron_holds(f)
    return told(odds, f"{f.sulphide_left:.2g} % sulphur of the charge stays sulphide, {f.tagged('iron'):.1f} g iron")


def _iron_holds(f: Figures) -> Odds:
    """Iron keeps sulphur from metal and soda, the more of it there is of what the sulphur asks for."""
    return ramp(-f.iron_met, -1.0, 0.0, 0.3, 1.0)


def _under_reduced(f: Figures) -> Prior:
    reducers = f.share("reducer")
    hungry = f.oxide("PbO", "Cu2O", "Fe2O3")
    if f.budget is None:
        return told(0.2, "nothing in the pot asks for a reducer")
    odds = ramp(-f.budget, -1.2, -0.3, 0.2, 2.0) * ramp(hungry, 5.0, 40.0, 0.5, 2.5)
    said = f"{_times(f.budget)} of what is to be reduced, {hungry:.0f} % lead, copper and ferric oxide in the slag"
    return told(odds, f"{reducers:.1f} % reducer, with sulphide and pot wall {said}")


def _over_reduced(f: Figures) -> Prior:
    raw, reducers = f.sulphide_sulphur, f.share("reducer")
    odds = ramp(raw, 0.1, 3.0, 0.2, 3.0) * ramp(reducers, 1.0, 6.0, 0.5, 2.0)
    odds *= 1.0 if f.budget is None else ramp(f.budget, 0.5, 2.0, 0.5, 2.0)
    said = "" if f.budget is None else f", {_times(f.budget)} of what is to be reduced"
    return told(odds, f"{raw:.2g} % sulphide sulphur and {reducers:.1f} % reducer{said}")


def _times(budget: float) -> str:
    return f"enough for {100.0 * budget:.0f} %"


def _small_collector(f: Figures) -> Prior:
    metal = f.button
    if metal is None:
        return told(1.0, "no silver or gold grade is given")
    return told(ramp(-metal, -10.0, -0.3), f"a button of {metal:.2g} g is to be expected")


def _soda_slag(f: Figures) -> Prior:
    left, soda, iron = f.sulphide_left, f.oxide("Na2O", "K2O"), f.tagged("iron")
    odds = ramp(left, 0.1, 2.0) * ramp(soda, 10.0, 30.0, 0.5, 2.0) * _iron_holds(f)
    said = f"{left:.2g} % sulphur of the charge stays sulphide, {soda:.0f} % soda in the slag, {iron:.1f} g iron"
    return told(odds, said)


def _alkali_sulphate(f: Figures) -> Prior:
    nitre, sulphur = f.tagged("nitrate"), f.sulphide_sulphur + f.sulphate_sulphur
    odds = ramp(nitre, 0.5, 10.0, 0.3, 3.0) * ramp(sulphur, 0.1, 3.0, 0.4, 2.5)
    return told(odds, f"{nitre:.1f} g nitrate, {sulphur:.2g} % sulphur in the charge")


def _chloride(f: Figures) -> Prior:
    grams = f.tagged("chloride")
    return told(ramp(grams, 0.1, 20.0, 0.1, 3.0), f"{grams:.1f} g chloride flux")


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
            return told(0.05, f"no {what} in the charge")
        return told(ramp(share, low, high), f"{share:.1f} % of the charge is {what}")

    return prior


def _damp(f: Figures) -> Prior:
    recipe = f.report.work.recipe
    wet = recipe.ore.moisture
    if wet > 0.5:
        return told(4.0, f"the ore holds {wet:.1f} % moisture")
    return told(0.3, "stated as dried") if recipe.dry else told(1.5, "not confirmed dry")


def _arsenic(f: Figures) -> Prior:
    arsenic = f.of_charge(f.report.ore.arsenic)
    return told(ramp(arsenic, 0.02, 1.0), f"{arsenic:.2g} % arsenic in the charge")


def _antimony(f: Figures) -> Prior:
    antimony = f.of_charge(f.report.ore.antimony)
    return told(ramp(antimony, 0.05, 2.0), f"{antimony:.2g} % antimony in the charge")


def _lead(f: Figures) -> Prior:
    lead = f.of_charge(f.report.ore.lead)
    return told(ramp(lead, 1.0, 30.0), f"{lead:.0f} % lead in the charge")


def _zinc(f: Figures) -> Prior:
    zinc = f.oxide("ZnO")
    return told(ramp(zinc, 1.0, 12.0), f"{zinc:.1f} % zinc oxide in the slag")


def _iron_in_bullion(f: Figures) -> Prior:
    metal, reducers = f.tagged("iron"), f.share("reducer")
    odds = ramp(reducers, 1.0, 6.0, 0.3, 2.0) * ramp(f.iron, 5.0, 25.0, 0.5, 2.5) * (2.5 if metal > 0.0 else 1.0)
    return told(odds, f"{metal:.1f} g metallic iron, {reducers:.1f} % reducer, {f.iron:.0f} % iron in the slag")


def _cold_start(f: Figures) -> Prior:
    hot = f.report.work.recipe.pour_temperature
    return told(ramp(-hot, -1250.0, -1080.0, 0.3, 3.0), f"poured at {hot:.0f} °C")


def _short_wait(f: Figures) -> Prior:
    long, drops = f.report.work.recipe.hold, f.drops
    if drops is None or drops.wanted is None:
        return told(ramp(-long, -20.0, -5.0, 0.3, 3.0), f"held {long:.0f} min")
    odds = ramp(drops.wanted / max(long, 1.0), 0.5, 3.0, 0.3, 3.0)
    return told(odds, f"held {long:.0f} min, the drops want {drops.wanted:.0f}")


def _roast_short(f: Figures) -> Prior:
    roast = f.report.ore.roast
    if roast is None:
        return told(0.3, "nothing is roasted for this charge")
    left = f.of_charge(roast.sulphur_left)
    return told(ramp(left, 0.05, 1.0, 0.4, 3.0), f"the roast is reckoned to leave {left:.2g} % sulphur")


def _roast_hot(f: Figures) -> Prior:
    if f.report.ore.roast is None:
        return told(0.2, "nothing is roasted for this charge")
    fusible = [name for name in ("stibnite", "realgar", "orpiment", "galena") if name in f.minerals]
    return told(2.5 if fusible else 0.6, f"the ore holds {', '.join(fusible)}" if fusible else "no fusible sulphide")


METAL: dict[str, Rule] = {
    "matte": _matte,
    "sulphate-left": _sulphate,
    "speiss": _speiss,
    "base-button": _base_button,
    "sulphur-button": _sulphur_in_button,
    "under-reduced": _under_reduced,
    "over-reduced": _over_reduced,
    "small-collector": _small_collector,
    "soda-sulphide": _soda_slag,
    "alkali-sulphate": _alkali_sulphate,
    "chloride-cover": _chloride,
    "gas-formers": _boil_over,
    "hydrated": _tagged("hydrated", "hydrated flux", 1.0, 20.0),
    "nitre": _tagged("nitrate", "nitrate", 1.0, 10.0),
    "damp": _damp,
    "arsenic-fume": _arsenic,
    "antimony-fume": _antimony,
    "lead-fume": _lead,
    "zinc-fume": _zinc,
    "iron-bullion": _iron_in_bullion,
    "cold-pour": _cold_start,
    "short-hold": _short_wait,
    "roast-short": _roast_short,
    "roast-hot": _roast_hot,
    "lead-button": _lead,
}
