"""The expected button in a few words, for the run, the drawings and the ticket."""

from fluxlab.design.pot_types import PotReport
from fluxlab.design.report_types import Amount, Report

LEAD_ROUTE = "lead collection"
_LEAST = 0.0005


def mass_words(grams: float, mark: str = ".") -> str:
    """A mass [g] with as many places as it is worth, such as "18.5 g"."""
    return f"{figure_words(grams, mark)} g"


def span_words(amount: Amount, mark: str = ".") -> str:
    """The likely range of a mass [g], such as "6.22 to 42.7 g"; empty where there is none to tell."""
    if amount.low is None or amount.high is None:
        return ""
    low, high = figure_words(amount.low, mark), figure_words(amount.high, mark)
    return "" if low == high else f"{low} to {high} g"


def expected_button(pot: PotReport | None) -> Amount | None:
    """Mass of the button [g] with its range; None where it is not known, or no metal comes down."""
    if pot is None or not pot.button.metals or pot.button.mass.value < _LEAST:
        return None
    return pot.button.mass


def button_name(report: Report) -> str:
    """What the metal is called: a lead button is collected lead."""
    return "lead" if report.work.recipe.route == LEAD_ROUTE else "button"


def places_of(amount: float) -> int:
    """Decimal places that a mass [g] or volume [mL] is worth [-]; everything that shows one goes by this."""
    return 0 if amount >= 99.5 else 1 if amount >= 9.95 else 2 if amount >= 0.0995 else 3 if amount >= 0.0005 else 0


def figure_words(amount: float, mark: str = ".") -> str:
    """A mass [g] or volume [mL] as a figure with as many places as it is worth."""
    return f"{amount:.{places_of(amount)}f}".replace(".", mark)
