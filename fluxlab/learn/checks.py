"""Whether the figures of a melt can be true, in words."""

from collections.abc import Iterator

from fluxlab import resources
from fluxlab.issue import Issue, error, note, warning
from fluxlab.learn.melt import Melt
from fluxlab.learn.yields import METALS, Metal, recovery_of

SURE = 2.0
"""Standard deviations by which a button may hold more than the charge before it is called impossible; judgement."""
MORE_THAN_THERE_IS = "R39"
"""The caution rule that only the record of a melt can answer; its words stand with those of the others."""
MUCH = 0.5
"""A weight that differs by more than this part from what was asked for is likely a slip of the pen; judgement."""
LOST = 0.005
"""What may come out over what went in, as part of it, for the slag's pick-up of pot and air; judgement."""


def checks(melt: Melt) -> tuple[Issue, ...]:
    """What speaks against the figures of a melt, the gravest first."""
    if melt.struck:
        return ()
    found = [*_metals(melt), *_masses(melt), *_slips(melt)]
    return tuple(sorted(found, key=lambda issue: ("error", "warning", "note").index(issue.severity)))


def _metals(melt: Melt) -> Iterator[Issue]:
    for metal in METALS:
        yield from _metal(melt, metal)
    fine = melt.fineness
    if fine is not None and (fine.silver or 0.0) + (fine.gold or 0.0) > 100.0:
        yield error("fineness", "Silver and gold together are over 100 % of the button.", "Correct the fineness.")


def _metal(melt: Melt, metal: Metal) -> Iterator[Issue]:
    found = recovery_of(melt, metal)
    if found.value is not None and found.got is not None and found.held is not None:
        most = found.held * (1.0 + SURE * found.value.error)
        if found.got > most:
            rule = resources.toml("cautions.toml")[MORE_THAN_THERE_IS]
            yield error(
                "button",
                f"{rule['title']}: the button would hold {found.got:.3g} g {metal}, but by the assay the charge holds "
                f"{found.held:.3g} g; no button holds more than the charge.",
                str(rule["sentence"]),
            )
        return
    if metal == "silver" and found.at_most is not None and found.at_most > 100.0 * (1.0 + SURE * _grade_error(melt)):
        most_share = 10000.0 / found.at_most
        yield note(
            "button",
            f"The button weighs more than all silver of the charge by its assay: at most {most_share:.3g} % of it "
            "can be silver. The rest is lead, copper or other metal, or the assay is not of this charge.",
            "Have the button assayed.",
        )


def _grade_error(melt: Melt) -> float:
    return melt.beforehand.grade_error / 100.0


def _masses(melt: Melt) -> Iterator[Issue]:
    parts = [melt.button, melt.matte, melt.slag, melt.speiss, melt.prills]
    out = sum(part for part in parts if part is not None)
    if melt.total > 0.0 and out > melt.total * (1.0 + LOST):
        yield error(
            "slag",
            f"{out:.1f} g came out of the pot, but only {melt.total:.1f} g went in.",
            "Look at the units and at what was on the pan; slag with pieces of the pot weighs too much.",
        )
    said = melt.beforehand.slag
    if melt.slag is not None and said is not None and not said.low <= melt.slag <= said.high:
        way = "less" if melt.slag < said.low else "more"
        yield note(
            "slag",
            f"The slag weighs {melt.slag:.1f} g, {way} than the {said.low:.0f} to {said.high:.0f} g expected.",
            "Pot taken up, slag left in the pot, or a weight that was read wrong.",
        )
    before, after = melt.roast_before, melt.roast_after
    if before is not None and after is not None and before > 0.0 and after > 1.4 * before:
        yield error("roast", f"The roast grew from {before:.1f} to {after:.1f} g: no ore does that.", "Weigh again.")


def _slips(melt: Melt) -> Iterator[Issue]:
    for weighing in melt.weighed:
        if weighing.read is not None and abs(weighing.read - weighing.asked) > MUCH * weighing.asked:
            yield warning(
                "weighed",
                f"{weighing.name}: {weighing.read:g} g was read where {weighing.asked:g} g was asked for.",
                "Correct it if it is a slip of the pen.",
            )
