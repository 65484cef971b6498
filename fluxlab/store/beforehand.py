"""What a ticket said of its melt, to be kept with what came out."""

from fluxlab.design import edits
from fluxlab.design.pot_figures import own_tables
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Amount, Report
from fluxlab.design.ticket import Ticket
from fluxlab.fusion.tables import Tables
from fluxlab.learn.melt import Beforehand, Melt, Weighing
from fluxlab.materials.estimate import Estimate
from fluxlab.ore.lot_figures import figures_of
from fluxlab.ore.roast_possible import possible_change
from fluxlab.store.rows import PrintedTicket


def as_weighed(work: Work, ticket: Ticket) -> Work:
    """The recipe with every weight fixed as the ticket has it."""
    charge, *fluxes = ticket.rows
    _, work = edits.set_charge(work, charge.grams)
    _, work = edits.paste_weights(work, [(row.what, row.grams) for row in fluxes])
    return work


def beforehand_of(report: Report) -> Beforehand:
    """Metal held [g], its errors [%] and what was predicted, from the report of a recipe."""
    recipe, ore, pot = report.work.recipe, report.ore, report.pot
    whole, figures = recipe.ore.stage == "ore", figures_of(recipe.ore)[0]
    roast = possible_change(recipe.ore, recipe.roast) if recipe.pot_feed == "calcine" else None
    return Beforehand(
        silver=ore.silver if ore.silver_grade_gpt is not None else None,
        gold=ore.gold if ore.gold_grade_gpt is not None else None,
        grade_error=figures.errors.head if whole else figures.errors.concentrate,
        charge_error=figures.charge,
        limit=report.precious_metal_limit,
        button=None if pot is None else _estimate(pot.button.mass, pot.button.source),
        matte=None if pot is None else _estimate(pot.sulphur.matte),
        speiss=None if pot is None else _estimate(pot.sulphur.speiss),
        slag=_slag(report.slag.mass, own_tables(recipe.pot_figures, recipe.route)),
        silver_recovery=None if pot is None else _estimate(pot.button.silver_recovery_percent),
        gold_recovery=None if pot is None else _estimate(pot.button.gold_recovery_percent),
        pour_temperature=recipe.pour_temperature,
        hold=recipe.hold,
        roast_least=None if roast is None else roast[0],
        roast_most=None if roast is None else roast[1],
    )


def blank_melt(uid: str, printed: PrintedTicket, ticket: Ticket, report: Report | None) -> Melt:
    """An entry for the melt of a ticket with nothing in it yet but what the ticket knows."""
    recipe = None if report is None else report.work.recipe
    return Melt(
        uid=uid,
        ore=printed.ore,
        recipe=printed.recipe,
        revision=printed.revision,
        ticket=printed.number,
        poured=printed.printed.astimezone().replace(tzinfo=None),
        weighed=tuple(Weighing(row.what, row.name, row.grams) for row in ticket.rows),
        recipe_name=ticket.recipe,
        ticket_name=ticket.number,
        route="" if recipe is None else recipe.route,
        feed="calcine" if recipe is None else recipe.pot_feed,
        balance_step=10.0**-ticket.decimals if report is None else report.work.shelf.balance_step,
        beforehand=Beforehand() if report is None else beforehand_of(report),
    )


def _estimate(amount: Amount | None, source: str = "") -> Estimate | None:
    """What was predicted, None where no range could be given."""
    if amount is None or amount.low is None or amount.high is None:
        return None
    return Estimate(amount.value, amount.low, amount.high, source)


def _slag(mass: float, tables: Tables) -> Estimate | None:
    """Slag with its likely range [g]: what it takes up of the pot, and what weighings of slag leave unexplained."""
    if not mass > 0.0:
        return None
    row = tables.losses["slag_weighed"]
    off, source = row["unexplained"], f"the oxides of the recipe; {row['source']}"
    return Estimate(mass, mass * (1.0 - off), mass * (1.0 + off) + row["pick_up"], source)
