"""What happens in the pot, for the report: will the metal come down, what stays behind, when does it foam."""

from collections.abc import Mapping

from fluxlab import resources
from fluxlab.design.balance import Balance
from fluxlab.design.pot_charge import fusion_charge
from fluxlab.design.pot_figure_rows import figure_rows
from fluxlab.design.pot_figures import sensible, with_figures
from fluxlab.design.pot_heat_report import drops_report, gas_report, heat_report
from fluxlab.design.pot_metal_report import button_report, cupel_report, silver_rows, sulphur_report
from fluxlab.design.pot_redox_report import redox_report
from fluxlab.design.pot_text import about
from fluxlab.design.pot_types import ButtonReport, PotReport, SilverRow
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Amount, Answer, FillReport
from fluxlab.design.target_report import as_asked
from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.pot_words import grams
from fluxlab.fusion.routes import routes
from fluxlab.fusion.tables import Tables

LEAST_BUTTON = 5e-4
"""Metal that counts as none at all: it would be told as nothing in whole milligrams [g]."""
_TELLING = 0.01


def pot_report(
    work: Work,
    found: Balance,
    fill: FillReport | None,
    viscosity: Amount | None = None,
    figures: Mapping[str, float] | None = None,
) -> PotReport:
    """Everything between the charge and the pour. Never raises for odd input.

    `viscosity` is that of the slag at the pour with its range, nine in ten [Pa s]; None where it is not known, and then
    no drops and no foam are reckoned and the loss as drops takes its usual range. `figures` are the operator's own in
    place of shipped ones, by key and in the unit of `pot_figures`.
    """
    own, refused = sensible(figures or {}, work.recipe.route)
    charge = with_figures(fusion_charge(work, found, fill, viscosity), own)
    pot = in_the_pot(charge)
    lead = None if charge.wanted_lead is None else pot.redox.lead
    button, silver = (
        button_report(pot.bullion, charge.tables, lead),
        silver_rows(pot.bullion, charge.tables, charge.step),
    )
    answer, figure, reason = _answer(button, silver, pot.bullion.layers.matte.value, charge.tables)
    route = routes()[charge.route]
    return PotReport(
        answer=answer,
        figure=figure,
        reason=reason,
        state=pot.judgement.state,
        route_source=route.source,
        watch=tuple(str(resources.toml("cautions.toml")[rule]["title"]) for rule in route.cautions),
        redox=redox_report(work, charge, pot, found.feed.charge + float(found.x.sum()), as_asked(found, "lead_button")),
        sulphur=sulphur_report(pot, charge),
        button=button,
        silver=silver,
        drops=drops_report(charge, pot.settling),
        gas=gas_report(charge, pot),
        heat=heat_report(pot, charge, work.shelf.workshop.fuel in ("", "propane")),
        cupel=cupel_report(pot.cupel),
        retreat=_retreat(silver) if pot.retreat else "",
        figures=figure_rows(charge, pot, own),
        issues=(*refused, *pot.issues),
    )


def _answer(
    button: ButtonReport, silver: tuple[SilverRow, ...], matte: float, tables: Tables
) -> tuple[Answer, str, str]:
    """Will the metal come down: answer, figure and reason."""
    recovery = button.silver_recovery_percent or button.gold_recovery_percent
    figure = f"button {about(button.mass)}" if (button.mass.high or button.mass.value) >= LEAST_BUTTON else ""
    if recovery is None:
        return "unknown", figure, "no silver or gold grade given"
    row = tables.losses["comes_down"]
    whose = "silver" if button.silver_recovery_percent else "gold"
    low = recovery.value if recovery.low is None else recovery.low
    told = f"{recovery.value:.0f} % of the {whose} in it ({low:.0f} to {recovery.high or recovery.value:.0f} %)"
    if button.mass.value < LEAST_BUTTON:
        why = f"{grams(matte)} of matte takes the silver" if _is_matte(matte, silver) else "a collector is wanting"
        return "no", figure, f"no metal comes down: {why}"
    worst = _worst(silver)
    reason = told if worst is None else f"{told}; most of the rest: {worst.place}"
    if recovery.value >= row["yes"] and low >= row["yes_low"]:
        return "yes", figure, reason
    return ("close" if recovery.value >= row["close"] else "no"), figure, reason


def _is_matte(matte: float, silver: tuple[SilverRow, ...]) -> bool:
    """Whether the matte [g] is more than the silver's own sulphide, which gathers to no layer."""
    held = sum(row.grams.value for row in silver if row.place == "matte")
    return matte > 2.0 * held


def _worst(silver: tuple[SilverRow, ...]) -> SilverRow | None:
    """The place that holds most silver outside the button."""
    lost = [row for row in silver[1:] if row.percent > _TELLING]
    return max(lost, key=lambda row: row.percent, default=None)


def _retreat(silver: tuple[SilverRow, ...]) -> str:
    """Why slag and matte are worth another melt."""
    aside = ("fume", "pot, mould and tools", "speiss")
    held = [row for row in silver[1:] if row.place not in aside]
    worth = [row for row in held if row.percent >= 0.05 * sum(each.percent for each in held)]
    return f"Worth another melt for their silver: {', '.join(f'{row.place} {about(row.grams)}' for row in worth)}."
