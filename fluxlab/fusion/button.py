"""Lead buttons: flour for one, nitre against too much, litharge to have enough."""

from fluxlab.fusion.currency import LITHARGE_PER_LEAD
from fluxlab.issue import Issue, error


def flour_for_button(button: float, kept_up: float, power: float) -> float:
    """Reducer that brings down a lead button [g].

    `button` [g Pb] is what is wanted, `kept_up` [g Pb] what the oxidisers of the charge keep up (less what its own
    reducers throw down), `power` [g Pb per g] that of the reducer. Negative where the charge reduces too much already.
    """
    return (button + kept_up) / power


def nitre_for_excess(thrown_down: float, button: float, power: float) -> float:
    """Nitre that keeps a lead button from growing over the wanted one [g].

    `thrown_down` [g Pb] is what the charge alone would give, `power` [g Pb per g] what nitre keeps up, as a positive
    figure. Negative where the charge gives too little.
    """
    return (thrown_down - button) / power


def power_by_trial(lead: float, ore: float) -> float:
    """Reducing power of an ore from a trial fusion in litharge: lead [g] from a mass of ore [g] [g Pb per g]."""
    return lead / ore


def litharge_for(button: float, left: float) -> float:
    """Litharge that gives a button [g Pb] and leaves so much in the slag [g PbO] [g]."""
    return button * LITHARGE_PER_LEAD + left


def lead_button(thrown_down: float, litharge: float) -> tuple[float, tuple[Issue, ...]]:
    """Lead that comes down [g] when the charge could throw down so much [g Pb] from so much litharge [g].

    No more comes down than the litharge holds; what reducers are left over then is said.
    """
    most = litharge / LITHARGE_PER_LEAD
    if thrown_down <= most:
        return max(thrown_down, 0.0), ()
    sentence = f"The charge would throw down {thrown_down:.0f} g of lead, but its litharge holds {most:.0f} g."
    return most, (error("lines", sentence, "Add litharge, take less reducer, or add nitre; the button would be foul."),)
