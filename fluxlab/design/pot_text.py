"""What the report of the pot says in words."""

from collections.abc import Mapping
from types import MappingProxyType

from fluxlab.design.cautions.findings import rough
from fluxlab.design.report_types import Amount
from fluxlab.fusion.pot_words import grams
from fluxlab.fusion.where_types import Where

SUBSTANCES: Mapping[str, str] = MappingProxyType(
    {
        "KNO3": "nitre", "NaNO3": "soda nitre", "CuO": "black copper oxide", "Cu2O": "red copper oxide",
        "Ag2SO4": "silver sulphate", "Bi2O3": "bismuth oxide", "Pb3O4": "red lead", "MnO2": "manganese dioxide",
        "Mn2O3": "manganese oxide Mn2O3", "Mn3O4": "manganese oxide Mn3O4", "Fe2O3": "ferric oxide",
        "Fe3O4": "magnetic iron oxide", "As2O5": "arsenate", "PbO": "litharge", "PbSO4": "lead sulphate",
        "CaSO4": "gypsum and anhydrite", "BaSO4": "barite", "ZnSO4": "zinc sulphate", "CuSO4": "copper sulphate",
        "FeSO4": "iron sulphate", "MnSO4": "manganese sulphate", "MgSO4": "magnesium sulphate",
        "SrSO4": "strontium sulphate", "Na2SO4": "sodium sulphate", "K2SO4": "potassium sulphate",
        "Sb2O4": "antimony oxide", "Sb2O3": "antimony oxide", "NiO": "nickel oxide", "SnO2": "tin oxide",
        "ZnO": "zinc oxide",
    }
)  # fmt: skip
"""Substances by formula, in the operator's words."""
METALS: Mapping[str, str] = MappingProxyType(
    {
        "Ag": "silver", "Au": "gold", "Pb": "lead", "Cu": "copper", "Bi": "bismuth", "Sb": "antimony",
        "As": "arsenic", "Sn": "tin", "Ni": "nickel", "Co": "cobalt", "Fe": "iron", "Zn": "zinc", "Cd": "cadmium",
        "Te": "tellurium", "Se": "selenium", "W": "tungsten", "Mo": "molybdenum", "Hg": "mercury",
    }
)  # fmt: skip
"""Metals by symbol, in words."""
_SOME_LEAD = 0.05
"""Lead or other metal [g] below which nothing is said of it."""
_NO_YIELD = 0.0005
"""A button below this [% of the charge] is none."""


def about(amount: Amount) -> str:
    """A mass [g] with its range in words."""
    if amount.low is None or amount.high is None:
        return grams(amount.value)
    low, high = grams(amount.low), grams(amount.high)
    return grams(amount.value) if low == high else f"{grams(amount.value)} ({low} to {high})"


def recovery_sentence(yields: float, recovery: Amount | None, metal: str = "silver") -> str:
    """Yield and recovery of a `metal`, told apart."""
    if yields < _NO_YIELD:
        return f"No button is to be expected: what {metal} there is stays in the layers and in the slag."
    share = f"The button weighs {rough(yields, 3)} % of the ore charged"
    first = f"{share}: that is its yield, and says nothing of the {metal}."
    if recovery is None:
        return f"{first} How much {metal} the charge holds is not known, so no recovery can be told."
    span = "" if recovery.low is None else f" ({recovery.low:.0f} to {recovery.high:.0f} %)"
    return f"{first} Of the {metal} in the charge {recovery.value:.0f} %{span} is in it: that is the recovery."


def lead_sentence(lead: float, where: Where, mass: float) -> str:
    """The lead that litharge gives [g] and the button on the scales [g], told apart."""
    back = lead - where.button - where.drops - where.matte - where.speiss
    places = (
        (where.drops, "hangs in the slag as drops"),
        (where.matte, "is in the matte"),
        (where.speiss, "is in the speiss"),
        (back, "goes back into the slag"),
    )
    told = [f"{grams(where.button)} of lead lies in the button"]
    told += [f"{grams(amount)} {words}" for amount, words in places if amount > _SOME_LEAD]
    other = mass - where.button
    also = f"; {grams(other)} of the button is other metal" if other > _SOME_LEAD else ""
    return f"Litharge gives {grams(lead)} of lead: {', '.join(told)}{also}."


def sulphur_sentence(matte: Amount, dissolved: Amount, speiss: Amount) -> str:
    """Whether a grey layer is to be looked for."""
    told = []
    if matte.value > 0.05:
        told.append(f"About {about(matte)} of matte lies under the slag: keep it, it holds silver.")
    elif matte.high is not None and matte.high > 0.05:
        told.append(f"No layer of matte is likely, but up to {grams(matte.high)} could form.")
    if speiss.value > 0.05:
        told.append(f"About {about(speiss)} of speiss lies under the slag.")
    if not told and dissolved.value > 0.05:
        told.append(f"The slag dissolves all the iron sulphide, about {grams(dissolved.value)}.")
    return " ".join(told) or "No matte and no speiss are to be expected."


def hold_sentence(planned: float, wanted: float | None, advised: float, most: float) -> str:
    """Whether the planned hold is long enough."""
    if wanted is None:
        return "The metal is no heavier than the slag: no hold brings it down."
    if wanted > most:
        return f"Small drops would take {wanted:.0f} min: thin the slag or melt hotter, a longer hold does not help."
    if planned + 0.5 < advised:
        return f"Hold {advised:.0f} min after the melt is quiet, not {planned:.0f}."
    return f"The planned {planned:.0f} min of quiet melt are enough for small drops."
