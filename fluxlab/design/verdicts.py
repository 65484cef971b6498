"""The five plain answers. What is not predicted yet says so and shows no answer."""

from collections.abc import Iterable, Sequence

from fluxlab.design.report_types import (
    Answer,
    Caution,
    FillReport,
    Mend,
    MouldReport,
    TargetReport,
    Verdict,
)

RATIO_KEYS = ("degree", "borate", "basicity", "optical")
FIT_KEYS = ("loose_fill", "gas_fill", "melt_fill", "mould_fill", "mould_room")
WORDS: dict[Answer, str] = {"yes": "Yes", "close": "Close", "no": "No", "unknown": "Not known"}
MELT, FIT = "Will it melt and pour?", "Will it fit?"
METAL, SAFE, SURE = "Will the metal come down?", "Is it safe?", "How sure are we?"


def melt_verdict(targets: Sequence[TargetReport]) -> Verdict:
    """By ratio only: no viscosity and no liquidus are predicted, so there is no yes."""
    asked = [t for t in targets if t.on and (t.key in RATIO_KEYS or t.key.startswith("cap:"))]
    degree = next((t for t in targets if t.key == "degree" and t.value is not None), None)
    figure = "" if degree is None else f"degree {degree.value:.2f}"
    broken = [t for t in asked if _off(t, "must")]
    if broken:
        return Verdict("melt", MELT, "no", WORDS["no"], figure, f"{broken[0].sentence} (by ratio only)")
    if not asked or degree is None:
        return Verdict("melt", MELT, "unknown", WORDS["unknown"], figure, "no slag to judge yet")
    return Verdict("melt", MELT, "unknown", "By ratio", figure, "by ratio only, no prediction")


def fit_verdict(targets: Sequence[TargetReport], fill: FillReport | None, mould: MouldReport | None) -> Verdict:
    """Loose charge and melt against the pot, the pour against the mould."""
    if fill is None:
        return Verdict("fit", FIT, "unknown", WORDS["unknown"], "", "choose a crucible on the shelf")
    figure = f"{100 * fill.loose_fraction:.0f} % full"
    where = "loose, in one feed" if len(fill.stages) <= 1 else f"loose, in {len(fill.stages)} feeds"
    free = "no mould chosen" if mould is None else f"mould keeps {mould.freeboard:.0f} mm free"
    broken = [t for t in targets if t.key in FIT_KEYS and _off(t, "must")]
    wished = [t for t in targets if t.key in FIT_KEYS and _off(t, "wish")]
    if broken or (mould is not None and mould.freeboard < 0):
        return Verdict("fit", FIT, "no", WORDS["no"], figure, _first(broken, f"{free}"), _fit_mend(fill))
    if wished:
        return Verdict("fit", FIT, "close", WORDS["close"], figure, wished[0].sentence, _fit_mend(fill))
    return Verdict("fit", FIT, "yes", WORDS["yes"], figure, f"{where}; {free}")


def _fit_mend(fill: FillReport) -> Mend | None:
    if fill.melts_needed <= 1 and fill.feeds_needed > fill.feeds:
        return Mend(f"Feed in {fill.feeds_needed} parts", "set_feeds", (fill.feeds_needed,))
    return None


def metal_verdict(limit: float | None) -> Verdict:
    """The button is not predicted; the assay sets its upper bound."""
    if limit is None:
        return Verdict("metal", METAL, "unknown", WORDS["unknown"], "", "no silver or gold grade given")
    return Verdict("metal", METAL, "unknown", WORDS["unknown"], f"at most {limit:.3g} g", "silver + gold by the assay")


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


def sure_verdict() -> Verdict:
    """Nothing is known of the chances yet."""
    return Verdict("sure", SURE, "unknown", WORDS["unknown"], "", "the chance is not worked out in this version")


def _off(target: TargetReport, kind: str) -> bool:
    if not target.on:
        return False
    below = target.state == "below" and target.lo_kind == kind
    return below or (target.state == "above" and target.hi_kind == kind)


def _first(broken: Sequence[TargetReport], otherwise: str) -> str:
    return broken[0].sentence if broken else otherwise
