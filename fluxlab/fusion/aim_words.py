"""What is said of the oxygen in a pot and of its state: all of it follows from one judgement."""

from collections.abc import Iterator

from fluxlab.fusion.aim import ferric_left
from fluxlab.fusion.pot_types import FusionCharge, Judgement, SulphurFate
from fluxlab.fusion.pot_words import grams
from fluxlab.fusion.redox_types import Redox
from fluxlab.fusion.routes import routes
from fluxlab.issue import Issue, warning

_TELLING = 0.05
"""Amounts below this [g] are not spoken of."""


def aim_issues(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Judgement) -> Iterator[Issue]:
    """What is to be done where the pot is not as it is wanted; matte and surplus nitre are told by themselves."""
    remedy = _remedy(charge, redox, found)
    if remedy:
        yield warning("lines", first_sentence(charge, redox, fate, found), remedy)


def aim_sentence(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Judgement) -> str:
    """How far the reducers, the nitre or the iron go, and whether the pot is as it is wanted."""
    return f"{first_sentence(charge, redox, fate, found)} {_state(charge, found)}"


def asked_words(found: Judgement) -> str:
    """The budget that goes with what is wanted."""
    low, high = (f"{end:.2f}".rstrip("0").rstrip(".") for end in found.band)
    if found.metal or found.means == "iron":
        return f"{low} to {high} wanted"
    told = f"{low} to {high}" if found.band[0] > 0.0 else f"up to {high}"
    return f"{told} by your own figure" if not found.wanted else f"{told} leaves the pot {_either(found)}"


def sulphides_reduce(redox: Redox) -> bool:
    """Whether most of the reducing is done by the sulphides of the ore."""
    return redox.by_source.get("sulphides", 0.0) > 0.5 * redox.supply


def first_sentence(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Judgement) -> str:
    """How far the reducers, the nitre or the iron go."""
    if found.by_budget:
        return _by_budget(redox, found)
    if found.means == "iron":
        return _of_iron(charge, redox, fate, found)
    return _of_nitre(redox, found) if found.means == "nitre" else _of_reducers(redox, found)


def _by_budget(redox: Redox, found: Judgement) -> str:
    if found.verdict == "over":
        return f"{_makes_it(redox)}: more than is good; a foul button and foam come of it."
    ends = "metal stays in the slag" + (" and iron stays ferric" if ferric_left(redox) > _TELLING else "")
    return f"{_they_are(redox)} what the charge asks of them: too little, {ends}."


def _of_reducers(redox: Redox, found: Judgement) -> str:
    if found.verdict == "idle" and (found.metal or not found.wanted):
        taken = redox.supply - redox.unspent - redox.spare > _TELLING
        return (
            "What is taken down here is not wanted as metal." if taken else "Nothing in this charge asks for a reducer."
        )
    if found.verdict == "idle":
        return "No oxide of lead or copper is here for a reducer to bring down."
    if found.metal or not found.wanted:
        if found.verdict == "meets":
            return f"{_they_are(redox)} what the charge asks of them, which is enough."
        return f"{_they_are(redox)} what the charge asks of them, but nitre takes so much that the metal is left short."
    if found.verdict == "over":
        return f"{_makes_it(redox)}: it goes beyond silver and brings down what lead and copper there is."
    if found.verdict == "short":
        return "The nitre gives more oxygen than the reducers take."
    return f"{_they_are(redox)} what the oxides could take, so that most of these stay in the slag."


def _of_nitre(redox: Redox, found: Judgement) -> str:
    if found.verdict == "idle":
        return "No sulphide is here for nitre to burn."
    if found.verdict == "over":
        first = "The nitre does not reach all that burns" if redox.given > _TELLING else "No nitre burns the sulphide"
        return f"{first}: what is left makes matte or brings base metal down."
    return "The nitre burns all sulphide, and base metals stay in the slag as oxides."


def _of_iron(charge: FusionCharge, redox: Redox, fate: SulphurFate, found: Judgement) -> str:
    if found.verdict == "idle" and fate.layer > _TELLING:
        return "What sulphur is left is bound to metals of the ore that hold it from iron."
    if found.verdict == "idle":
        return "Next to no sulphur is left here for iron to take."
    if found.verdict == "meets":
        return "There is iron enough for the sulphur."
    if charge.iron >= fate.iron_wanted.low:
        return "Sulphur and oxides take all the iron there is."
    return f"The sulphur asks for {grams(fate.iron_wanted.value)} of iron, and {grams(charge.iron)} is in the charge."


def _they_are(redox: Redox) -> str:
    who = "The reducers, most of them sulphides of the ore, are" if sulphides_reduce(redox) else "The reducers are"
    return f"{who} {redox.budget or 0.0:.2f} times"


def _makes_it(redox: Redox) -> str:
    first = "The sulphides of the ore make it" if sulphides_reduce(redox) else "There is"
    return f"{first} {redox.budget or 0.0:.2f} times the reducer that the charge asks for"


def _state(charge: FusionCharge, found: Judgement) -> str:
    """The state of the pot, and whether it is wanted so."""
    if found.verdict == "idle" or not found.wanted or (found.verdict != "meets" and found.state in found.wanted):
        return f"The pot is {found.state}."
    who = "this route" if found.wanted == routes()[charge.route].states else "metal from the oxides"
    if found.verdict == "meets":
        return f"The pot is {found.state}, as {who} wants it."
    return f"The pot is {found.state}; {who} wants it {_either(found)}."


def _either(found: Judgement) -> str:
    return " or ".join(found.wanted[:2]) if found.means == "nitre" else found.wanted[0]


def _remedy(charge: FusionCharge, redox: Redox, found: Judgement) -> str:
    """What to do; empty where nothing is, or where it is told elsewhere."""
    if found.verdict in ("idle", "meets"):
        return ""
    nitre = any(each > 0.0 for each in charge.nitrates.values())
    if found.means == "nitre":
        return "" if _sulphide_left(redox) else "Take more nitre, or roast the ore further."
    if found.means == "iron" and not found.by_budget:
        return ""
    if found.verdict == "short":
        if nitre:
            # a reducer beside nitre can go off
            return "Take less nitre; give no reducer beside it."
        return "Add flour or charcoal."
    return _less(charge, redox, found)


def _sulphide_left(redox: Redox) -> bool:
    """Whether sulphide is left, which the words on matte then tell with what to do."""
    return any(each > _TELLING for each in redox.unburnt.values())


def _less(charge: FusionCharge, redox: Redox, found: Judgement) -> str:
    """What takes a reducer away: only what can be taken away."""
    switch = "" if found.metal or not found.wanted else " Where you want that metal, switch on “Reducers to demand”."
    if any(r.grams > 0.0 for r in charge.reducers) and not sulphides_reduce(redox):
        return f"Take less of the reducer.{switch}"
    if sulphides_reduce(redox):
        litharge = " or litharge" if charge.wanted_lead is None and found.metal else ""
        return f"Roast the ore further, or add nitre{litharge}: no reducer is there to take away.{switch}"
    return f"It is the wall of the pot: a clay pot has none.{switch}" if charge.wall.likely > 0.0 else ""
