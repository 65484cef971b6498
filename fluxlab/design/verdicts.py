"""The five plain answers. What cannot be told says so and shows no answer."""

from collections.abc import Callable, Iterable, Sequence

from fluxlab.design.button_words import mass_words, span_words
from fluxlab.design.cautions.findings import rough
from fluxlab.design.chance_types import ChanceReport
from fluxlab.design.fluid_types import FluidReport
from fluxlab.design.limit_words import in_sentence
from fluxlab.design.odds import by_chance, percent_of
from fluxlab.design.pot_types import PotGasReport, PotReport
from fluxlab.design.recipe import Kind
from fluxlab.design.report_types import (
    Answer,
    Caution,
    FillReport,
    Mend,
    MouldReport,
    RoastReport,
    TargetReport,
    Verdict,
)
from fluxlab.design.rising import SWELL_LIMIT, highest_rise
from fluxlab.design.roast_text import weight_doubt
from fluxlab.design.standing import just_missed
from fluxlab.slag.pouring import WARN_ABOVE_LIQUIDUS
from fluxlab.slag.viscosity import SPAN

RATIO_KEYS = ("degree", "borate", "basicity", "optical")
FIT_KEYS = ("loose_fill", "gas_fill", "melt_fill", "mould_fill", "mould_room")
WAYS_OUT, SAFER = Mend("Ways out", "show_ways_out"), Mend("Make it safer", "make_safer")
WORDS: dict[Answer, str] = {"yes": "Yes", "close": "Close", "no": "No", "unknown": "Not known"}
MELT, FIT = "Will it melt and pour?", "Will it fit?"
METAL, SAFE, SURE = "Will the metal come down?", "Is it safe?", "How sure are we?"


def melt_verdict(targets: Sequence[TargetReport], fluid: FluidReport | None) -> Verdict:
    """By the chance that the melt is thin enough at the pour; a broken ratio or an unmelted slag speaks against it, and
    one that is only just missed against a plain yes."""
    broken = [t for t in targets if _is_ratio(t) and _off(t, "must")]
    if fluid is None or fluid.at_pour is None or fluid.chance is None or fluid.limit is None:
        return _by_ratio(targets, broken)
    at, limit = fluid.at_pour, fluid.limit
    figure = f"< {fluid.floor:.3g} Pa·s" if fluid.below_floor else f"{rough(at.value)} Pa·s"
    ends = f"at most {rough(at.high90)}" if fluid.below_floor else f"likely {rough(at.low90)} to {rough(at.high90)}"
    there = f"at {fluid.pour:.0f} °C, {ends}"
    odds = f"{percent_of(fluid.chance)} that it is under {limit:.10g} Pa·s"
    answer, near = by_chance(fluid.chance), _near(targets, _is_ratio)
    at_limit = any(t.key == "viscosity" and t.state == "at hi" for t in targets)
    if answer == "no" and at_limit:
        # even chances, on whichever side of the limit the last digit of a weight falls
        answer = "close"
    if broken:
        return Verdict("melt", MELT, "no", WORDS["no"], figure, broken[0].sentence, WAYS_OUT)
    if answer == "no":
        return Verdict("melt", MELT, "no", WORDS["no"], figure, f"{there}: {odds}", _hotter(fluid))
    cold = _too_cold(fluid)
    if fluid.liquidus is not None and fluid.pour < fluid.liquidus.low50:
        # three in four that solid is left: a thin liquid between crystals does not pour
        return Verdict("melt", MELT, "no", WORDS["no"], figure, f"{there}: {cold}", _hotter(fluid))
    if answer == "close" or fluid.confidence != "usual" or cold or near:
        why = cold or ("low confidence" if fluid.confidence != "usual" else near)
        reason = "; ".join(part for part in (there, odds, why) if part)
        # hotter, the solver takes less flux and stands on the same limit again
        mend = SAFER if at_limit and not cold else _hotter(fluid)
        return Verdict("melt", MELT, "close", WORDS["close"], figure, reason, mend)
    return Verdict("melt", MELT, "yes", WORDS["yes"], figure, f"{there}; {odds}")


def _by_ratio(targets: Sequence[TargetReport], broken: Sequence[TargetReport]) -> Verdict:
    """Where no viscosity can be told, or none is asked for, only ratios speak, and they never say yes."""
    degree = next((t for t in targets if t.key == "degree" and t.value is not None), None)
    figure = "" if degree is None else f"degree {degree.value:.2f}"
    if broken:
        return Verdict("melt", MELT, "no", WORDS["no"], figure, f"{broken[0].sentence} (by ratio only)", WAYS_OUT)
    if degree is None:
        return Verdict("melt", MELT, "unknown", WORDS["unknown"], figure, "no slag to judge yet")
    return Verdict("melt", MELT, "unknown", "By ratio", figure, "by ratio only, no prediction for such a slag")


def _is_ratio(t: TargetReport) -> bool:
    return t.on and (t.key in RATIO_KEYS or t.key.startswith("cap:"))


def _is_fit(t: TargetReport) -> bool:
    return t.key in FIT_KEYS


def _near(targets: Sequence[TargetReport], of_these: Callable[[TargetReport], bool]) -> str:
    """The first must of a kind that is missed by no more than the balance tells, with its figure; else empty."""
    return next((t.sentence for t in targets if of_these(t) and just_missed(t) and _kind(t) == "must"), "")


def _kind(t: TargetReport) -> Kind:
    return t.lo_kind if t.state in ("below", "at lo") else t.hi_kind


def _too_cold(fluid: FluidReport) -> str:
    """Words where the pour is close to the temperature at which the last crystal goes, or below it."""
    if fluid.liquidus is None or fluid.pour >= fluid.liquidus.value + WARN_ABOVE_LIQUIDUS:
        return ""
    left = "are likely" if fluid.pour < fluid.liquidus.low50 else "may be"
    return f"crystals {left} left: the last go near {fluid.liquidus.value:.0f} °C"


def _hotter(fluid: FluidReport) -> Mend | None:
    wanted = fluid.pour_wanted
    if wanted is None or not fluid.pour < wanted.value <= SPAN.high:
        return None
    hotter = float(-(-wanted.value // 10) * 10)
    return Mend(f"Pour at {hotter:.0f} °C", "set_pour_temperature", (hotter,))


def fit_verdict(
    targets: Sequence[TargetReport], fill: FillReport | None, mould: MouldReport | None, gas: PotGasReport | None = None
) -> Verdict:
    """Loose charge, swelling heap, melt and its foam against the pot, the pour against the mould."""
    if fill is None:
        return Verdict("fit", FIT, "unknown", WORDS["unknown"], "", "choose a crucible on the shelf")
    figure = f"{100 * fill.loose_fraction:.0f} % full"
    where = "loose, in one feed" if len(fill.stages) <= 1 else f"loose, in {len(fill.stages)} feeds"
    free = "no mould chosen" if mould is None else f"mould keeps {mould.freeboard:.0f} mm free"
    broken = [t for t in targets if t.key in FIT_KEYS and _off(t, "must")]
    wished = [t for t in targets if t.key in FIT_KEYS and _off(t, "wish")]
    if broken or (mould is not None and mould.freeboard < 0):
        return Verdict("fit", FIT, "no", WORDS["no"], figure, _first(broken, f"{free}"), _fit_mend(fill) or WAYS_OUT)
    if fill.swollen_fraction > SWELL_LIMIT + 1e-9:
        over = f"the heap swells to {100 * fill.swollen_fraction:.0f} % of the pot"
        return Verdict("fit", FIT, "no", WORDS["no"], figure, f"{over}; {free}", _fit_mend(fill))
    told = wished[0].sentence if wished else _near(targets, _is_fit)
    if told:
        return Verdict("fit", FIT, "close", WORDS["close"], figure, told, _fit_mend(fill))
    if gas is not None and gas.foam is not None and gas.free is not None and gas.foam > gas.free:
        over = f"the foam may stand {gas.foam:.0f} mm high on the melt, {gas.free:.0f} mm are free"
        mend = _fit_mend(fill, gas.feeds_needed)
        return Verdict("fit", FIT, "close", WORDS["close"], figure, f"{over}; {free}", mend)
    return Verdict("fit", FIT, "yes", WORDS["yes"], figure, f"{where}; {highest_rise(fill, gas).words}; {free}")


def _fit_mend(fill: FillReport, for_foam: int = 1) -> Mend | None:
    """So many feeds that heap, swelling and, where it is the trouble, foam stay in the pot."""
    feeds = max(fill.feeds_needed, for_foam) if fill.feeds_needed and for_foam else 0
    if fill.melts_needed <= 1 and feeds > fill.feeds:
        return Mend(f"Feed in {feeds} parts", "set_feeds", (feeds,))
    return None


def metal_verdict(
    pot: PotReport, limit: float | None, roast: RoastReport | None = None, targets: Sequence[TargetReport] = ()
) -> Verdict:
    """What the balance of the pot says; the assay sets the upper bound where that has no answer.

    A lead button that misses what is asked of it is never a plain yes.

    A roast weight that no roast explains leaves the state of the charge open, and with it what comes down.
    """
    mass, doubt = pot.button.mass, weight_doubt(roast)
    if doubt:
        figure = "" if limit is None else f"at most {rough(limit, 3)} g"
        plan = f"by the plan, {pot.reason}" if pot.answer == "no" else "no roast of this ore does that"
        reason = f"the roast weight cannot be right: {doubt}; {plan}"
        return Verdict("metal", METAL, "unknown", WORDS["unknown"], figure, reason)
    if pot.answer == "unknown" or mass.low is None or mass.high is None:
        figure = pot.figure if limit is None else f"at most {rough(limit, 3)} g"
        return Verdict("metal", METAL, pot.answer, WORDS[pot.answer], figure, pot.reason)
    span = span_words(mass)
    reason = f"likely {span}; {pot.reason}" if span else pot.reason
    figure, missed = f"{mass_words(mass.value)} button", _lead_missed(targets)
    if missed and pot.answer in ("yes", "close"):
        return Verdict("metal", METAL, "close", WORDS["close"], figure, f"{missed}; {reason}")
    return Verdict("metal", METAL, pot.answer, WORDS[pot.answer], figure, reason)


def _lead_missed(targets: Sequence[TargetReport]) -> str:
    """By how much the lead button misses what is asked of it, in words; empty where it does not."""
    missed = (t for t in targets if t.key == "lead_button" and t.on and t.state in ("below", "above"))
    return next((in_sentence(t.sentence) for t in missed), "")


def safe_verdict(cautions: Iterable[Caution], gas_litres: float | None) -> Verdict:
    """The gravest caution decides; a quiet plan is answered by its gas."""
    found = tuple(cautions)
    gas = (
        "" if gas_litres is None else f"{gas_litres:.0f} L of gas" if gas_litres >= 1 else f"{gas_litres:.1f} L of gas"
    )
    blocks = [c for c in found if c.level == "block"]
    warns = [c for c in found if c.level == "warn"]
    if blocks:
        mend = Mend("Show the cautions", "show_cautions")
        return Verdict("safe", SAFE, "no", WORDS["no"], gas, f"{blocks[0].title}: {blocks[0].because}", mend)
    if warns:
        return Verdict("safe", SAFE, "close", WORDS["close"], gas, f"{warns[0].title}: {warns[0].because}")
    return Verdict("safe", SAFE, "yes", WORDS["yes"], gas, "no rule speaks against it; usual care with hot metal")


def sure_verdict(
    chances: ChanceReport, targets: Sequence[TargetReport] = (), roast: RoastReport | None = None
) -> Verdict:
    """The chance that every must holds for the ores that this one may be; no plain yes where one is just missed, nor
    where the weights of the roast fit no roast of the ore as described."""
    if chances.musts is None:
        return Verdict("sure", SURE, "unknown", WORDS["unknown"], "", chances.sentence)
    figure = percent_of(chances.musts)
    answer, near = by_chance(chances.musts, chances.samples), _near(targets, lambda _: True)
    doubt = weight_doubt(roast)
    if answer == "yes" and doubt:
        reason = f"if the ore is as described; the roast weight denies it: {doubt}"
        return Verdict("sure", SURE, "close", WORDS["close"], figure, reason)
    if answer == "yes" and near:
        return Verdict("sure", SURE, "close", WORDS["close"], figure, near, SAFER)
    weakest = next((row.words for row in chances.limits if row.limit == chances.weakest), "")
    reason = f"that every must holds; weakest: {in_sentence(weakest)}" if weakest else "that every must holds"
    mend = None if answer == "yes" else SAFER
    return Verdict("sure", SURE, answer, WORDS[answer], figure, reason, mend)


def _off(target: TargetReport, kind: str) -> bool:
    if not target.on:
        return False
    return target.state in ("below", "above") and _kind(target) == kind


def _first(broken: Sequence[TargetReport], otherwise: str) -> str:
    return broken[0].sentence if broken else otherwise
