"""What is worked out only when somebody asks: ways out, stand-ins, reasons, and the safer recipe."""

from typing import TYPE_CHECKING

from fluxlab.design.decimal_mark import told
from fluxlab.gui.widgets.fields import decimal_mark

if TYPE_CHECKING:
    from fluxlab.design.chance_types import SaferReport
    from fluxlab.design.offer_types import Offer
    from fluxlab.design.recipe import Work
    from fluxlab.design.why_types import WhyReport


def ways_out(work: "Work") -> "tuple[Offer, ...]":
    """Every single change that lets the targets hold, and what can stand in for an empty jar."""
    from fluxlab.design.balance import balance
    from fluxlab.design.offers import offers
    from fluxlab.design.swaps import swap_offers

    found = balance(work)
    return told((*swap_offers(work, found), *offers(work, found)), decimal_mark())


def reasons(work: "Work") -> "WhyReport":
    """Why the recipe is as it is: flux by flux, oxide by oxide, limit by limit."""
    from fluxlab.design.balance import balance
    from fluxlab.design.why_report import why_report

    return told(why_report(work, balance(work)), decimal_mark())


def surer(work: "Work") -> "SaferReport":
    """The recipe whose chance that every must holds is great enough, or the surest one."""
    from fluxlab.design.balance import balance
    from fluxlab.design.safer import safer

    return told(safer(work, balance(work)), decimal_mark())
