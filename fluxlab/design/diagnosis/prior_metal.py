"""Priors of causes that show in the button and in the layers under and over the slag."""

from fluxlab.design.cautions.findings import rough
from fluxlab.design.diagnosis.figures import Figures
from fluxlab.design.diagnosis.prior import LEAST, Odds, Prior, Rule, likelier, ramp, told

TAKEN = ", the roast is taken as perfect"
"""Said where sulphur, sulphate or arsenic of the calcine rests on a roast that nobody reckoned or weighed."""
_LEADEN = 2.5
"""By how much lead, whose sulphate outlives the roast, makes sulphate likelier [-]; judgement."""


def _matte(f: Figures) -> Prior:
    share, off = f.of_charge(f.matte), f.roasted_off("SO2")
    odds, said = ramp(share, 0.2, 5.0), f"{rough(f.matte)} g of matte is to be expected, {share:.1f} % of the charge"
    if not f.roast_taken or off <= 0.0:
        return told(odds, said)
    return told(likelier(odds, ramp(off, 1.0, 40.0, LEAST, 0.2)), said + TAKEN)


def _sulphate(f: Figures) -> Prior:
    left, lead = f.sulphate_sulphur, f.of_charge(f.report.ore.lead)
    odds, said = (
        ramp(left, 0.05, 1.0, LEAST / _LEADEN),
        f"{rough(left)} % sulphate sulphur, {lead:.0f} % lead in the charge",
    )
    if f.roast_taken and f.roasted_off("SO2") > 0.0:
        odds, said = likelier(odds, ramp(f.roasted_off("SO2"), 1.0, 20.0, LEAST / _LEADEN, 0.3)), said + TAKEN
    return told(odds * ramp(lead, 2.0, 20.0, 0.7, _LEADEN), said)


def _speiss(f: Figures) -> Prior:
    """By the speiss that is to be expected; arsenic and antimony of which the pot makes none speak for it less."""
    share, bad = f.of_charge(f.speiss), f.of_charge(f.report.ore.arsenic + f.report.ore.antimony)
    iron, before = f.tagged("iron"), f.arsenic_before
    odds = likelier(ramp(share, 0.2, 4.0), ramp(bad, 0.1, 3.0, LEAST, 1.0))
    said = f"{rough(f.speiss)} g of speiss is to be expected, {rough(bad)} % arsenic and antimony in the charge"
    if f.roast_taken and before > bad:
        odds, said = likelier(odds, ramp(before, 0.5, 10.0, LEAST, 0.6)), f"{said}, {rough(before)} % before the roast"
    odds *= ramp(f.of_charge(iron), 0.0, 10.0, 0.8, 1.6)
    return told(odds, f"{said}, {iron:.1f} g metallic iron" if iron > 0.0 else said)


def _base_button(f: Figures) -> Prior:
    """By the base metal that is reckoned to come down; what stays in the slag speaks for it but a little."""
    ore = f.report.ore
    there, down, before = f.of_charge(ore.copper + ore.antimony + ore.arsenic), f.hardeners, f.arsenic_before
    odds = likelier(ramp(f.of_button(down), 2.0, 25.0), ramp(there, 0.3, 6.0, LEAST, 0.3))
    said = f"{rough(down)} g copper, antimony and the like is to come down, {f.of_button(down):.0f} % of the button"
    said += f"; the charge holds {there:.1f} % of them"
    if f.roast_taken and before > f.of_charge(ore.arsenic):
        odds, said = (
            likelier(odds, ramp(before, 0.5, 10.0, LEAST, 0.6)),
            f"{said}, {rough(before)} % arsenic before the roast",
        )
    return told(odds, said)


def _lead_button(f: Figures) -> Prior:
    """By the lead that is reckoned to come down; lead that stays in the slag speaks for it less. Lead that is wanted is
    no fault."""
    down = f.in_button("Pb")
    said = f"{rough(down, 3)} g lead is reckoned to come down, of {f.lead:.0f} g in the pot"
    if f.base_wanted:
        return told(LEAST, f"{said}, and is wanted")
    odds = ramp(f.of_button(down), 2.0, 40.0, 0.2, 2.5) * ramp(f.of_charge(down), 0.1, 5.0, 0.25, 2.0)
    odds = likelier(odds, ramp(f.lead_share, 1.0, 20.0, LEAST, 1.2))
    return told(odds, said)


def _sulphur_in_button(f: Figures) -> Prior:
    raw = f.sulphide_sulphur
    odds = likelier(ramp(f.sulphide_left, 0.1, 2.0), ramp(raw, 0.3, 6.0, LEAST, 0.7)) * _iron_holds(f)
    said = f"{rough(f.sulphide_left)} % sulphur of the charge stays sulphide, of {rough(raw)} % that went in as such"
    return told(odds, f"{said}, {f.tagged('iron'):.1f} g iron")


def _iron_holds(f: Figures) -> Odds:
    """Iron keeps sulphur from metal and soda, the more of it there is of what the sulphur asks for."""
    return ramp(-f.iron_met, -1.0, 0.0, 0.3, 1.0)


def _under_reduced(f: Figures) -> Prior:
    reducers = f.share("reducer")
    hungry = f.oxide("PbO", "Cu2O", "Fe2O3")
    if f.budget is None:
        return told(LEAST, "nothing in the pot asks for a reducer")
    odds = ramp(-f.budget, -1.2, -0.3, 0.2, 2.0) * ramp(hungry, 5.0, 40.0, 0.5, 2.5) * (1.0 if f.metal_asked else 0.3)
    said = f"{_times(f.budget)} of what is to be reduced, {hungry:.0f} % lead, copper and ferric oxide in the slag"
    asked = "" if f.metal_asked else "; no metal is asked for from oxides"
    return told(odds, f"{reducers:.1f} % reducer, with sulphide and pot wall {said}{asked}")


def _over_reduced(f: Figures) -> Prior:
    raw, reducers, over = f.sulphide_sulphur, f.share("reducer"), f.too_much_lead
    odds = ramp(raw, 0.1, 3.0, 0.2, 3.0) * ramp(reducers, 1.0, 6.0, 0.5, 2.0)
    odds *= 1.0 if f.budget is None else ramp(f.budget, 0.5, 2.0, 0.5, 2.0)
    odds *= 4.0 if over > 0.0 else 1.0
    said = "" if f.budget is None else f", {_times(f.budget)} of what is to be reduced"
    said += f", {over:.0f} g lead more than asked for" if over > 0.0 else ""
    return told(odds, f"{rough(raw)} % sulphide sulphur and {reducers:.1f} % reducer{said}")


def _times(budget: float) -> str:
    return f"enough for {100.0 * budget:.0f} %"


def _iron_in_bullion(f: Figures) -> Prior:
    """Iron comes down last: it takes metallic iron that finds no sulphur, or reducer beyond all other oxides."""
    spare, reached, given = f.spare_iron, f.budget or 0.0, f.share("reducer")
    beyond = ramp(reached, 0.7, 1.5, LEAST, 2.0) * ramp(given, 0.0, 3.0, LEAST, 1.0) * ramp(f.iron, 5.0, 25.0, 0.3, 1.5)
    odds = likelier(ramp(f.of_charge(spare), 0.5, 8.0), beyond)
    odds = likelier(odds, ramp(f.of_button(f.in_button("Fe")), 0.3, 5.0))
    said = f"{spare:.1f} g metallic iron that no sulphur takes, {given:.1f} % reducer"
    if f.budget is not None:
        said += f", {_times(f.budget)} of what comes down before iron"
    return told(odds, f"{said}, {f.iron:.0f} % iron in the slag")


def _small_collector(f: Figures) -> Prior:
    metal = f.button
    if metal is None:
        return told(1.0, "no silver or gold grade is given")
    return told(ramp(-metal, -10.0, -0.3), f"a button of {rough(metal)} g is to be expected")


def _soda_slag(f: Figures) -> Prior:
    left, soda, iron, off = f.sulphide_left, f.oxide("Na2O", "K2O"), f.tagged("iron"), f.roasted_off("SO2")
    odds = ramp(left, 0.1, 2.0)
    said = f"{rough(left)} % sulphur of the charge stays sulphide, {soda:.0f} % soda in the slag, {iron:.1f} g iron"
    if f.roast_taken and off > 0.0:
        odds, said = likelier(odds, ramp(off, 1.0, 40.0, LEAST, 0.2)), said + TAKEN
    return told(odds * ramp(soda, 10.0, 30.0, 0.5, 2.0) * _iron_holds(f), said)


def _alkali_sulphate(f: Figures) -> Prior:
    nitre, sulphur, made = f.share("nitrate"), f.sulphide_sulphur + f.sulphate_sulphur, f.alkali_sulphate
    odds = likelier(ramp(made, 0.5, 10.0), ramp(nitre, 0.5, 10.0, LEAST, 1.5))
    odds = likelier(odds, ramp(sulphur, 0.1, 5.0, LEAST, 1.0))
    said = f"{made:.1f} % of the charge is reckoned to become alkali sulphate"
    return told(odds, f"{said}, {nitre:.1f} % nitrate, {rough(sulphur)} % sulphur")


def _chloride(f: Figures) -> Prior:
    grams = f.tagged("chloride")
    return told(ramp(grams, 0.1, 20.0, LEAST, 3.0), f"{grams:.1f} g chloride flux")


METAL: dict[str, Rule] = {
    "matte": _matte,
    "sulphate-left": _sulphate,
    "speiss": _speiss,
    "base-button": _base_button,
    "lead-button": _lead_button,
    "sulphur-button": _sulphur_in_button,
    "under-reduced": _under_reduced,
    "over-reduced": _over_reduced,
    "iron-bullion": _iron_in_bullion,
    "small-collector": _small_collector,
    "soda-sulphide": _soda_slag,
    "alkali-sulphate": _alkali_sulphate,
    "chloride-cover": _chloride,
}
