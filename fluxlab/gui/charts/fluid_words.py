"""The fluidity curve in words and in rows: what the picture says, for a screen reader, a spreadsheet and the title."""

from dataclasses import dataclass
from math import exp, log

from fluxlab.design.fluid_types import FluidReport, Likely
from fluxlab.gui.widgets.fields import show_number

UNKNOWN = "Not known: enter what the ore is made of."
TITLES = ("°C", "Pa·s", "1 in 2 from", "1 in 2 to", "9 in 10 from", "9 in 10 to")


@dataclass(frozen=True, slots=True)
class Saved:
    """Where the saved revision pours [degC] and how thick it is there [Pa s]."""

    words: str
    pour: float
    value: float


def thick(value: float) -> str:
    """A viscosity [Pa s] in two figures: 0.006, 0.06, 0.63, 1.4, 14, 140."""
    if 0.0 < value < 0.00095:
        return f"< {show_number(0.001, 3)}"
    places = 3 if value < 0.0095 else 2 if value < 0.995 else 1 if value < 9.95 else 0
    if value >= 99.5:
        value = round(value, -1 if value < 995 else -2)
    return show_number(value, places)


def value_words(fluid: FluidReport) -> str:
    """The viscosity at the pour with its unit."""
    if fluid.at_pour is None:
        return "not known"
    return f"< {show_number(fluid.floor, 1)} Pa·s" if fluid.below_floor else f"{thick(fluid.at_pour.value)} Pa·s"


def grip_words(fluid: FluidReport) -> str:
    """What the grip of the pour line says."""
    return f"pour {show_number(fluid.pour, 0)} °C"


def at_temperature(fluid: FluidReport, celsius: float) -> Likely | None:
    """The viscosity at a temperature of the curve [Pa s], None outside it."""
    curve = fluid.curve
    if curve is None or not curve.temperatures[0] <= celsius <= curve.temperatures[-1]:
        return None
    k = next(k for k, t in enumerate(curve.temperatures) if t >= celsius)
    if k == 0:
        return curve.viscosity[0]
    before, after = curve.temperatures[k - 1], curve.temperatures[k]
    share = (celsius - before) / (after - before)
    one, other = curve.viscosity[k - 1], curve.viscosity[k]

    def between(a: float, b: float) -> float:
        return exp(log(a) * (1.0 - share) + log(b) * share)

    return Likely(
        between(one.value, other.value),
        between(one.low50, other.low50),
        between(one.high50, other.high50),
        between(one.low90, other.low90),
        between(one.high90, other.high90),
    )


def spoken(fluid: FluidReport | None) -> str:
    """Everything that the chart shows, in words."""
    if fluid is None or fluid.curve is None or fluid.at_pour is None:
        return f"Fluidity: {sentence(fluid)}"
    at = fluid.at_pour
    said = [f"{value_words(fluid)} at {show_number(fluid.pour, 0)} °C, likely {thick(at.low90)} to {thick(at.high90)}"]
    if fluid.limit is not None:
        kept = "kept" if at.value <= fluid.limit * 1.001 else "broken"
        said.append(f"limit {plain_limit(fluid.limit)} Pa·s {kept}")
    if fluid.chance is not None:
        said.append(f"kept with a chance of {show_number(100 * fluid.chance, 0)} %")
    if fluid.melt_free is not None:
        said.append(f"all melted from {show_number(fluid.melt_free.value, 0)} °C")
    if fluid.confidence == "low":
        said.append("low confidence" + (", two equations differ" if fluid.curve.opinions else ""))
    return f"Fluidity: {'; '.join(said)}"


def sentence(fluid: FluidReport | None) -> str:
    """Why there is no curve, in one sentence."""
    if fluid is not None and fluid.issues:
        issue = fluid.issues[0]
        return f"{issue.sentence} {issue.remedy}".strip()
    return UNKNOWN


def plain_limit(limit: float) -> str:
    """A limit [Pa s] with at least one place, as it was given."""
    found = f"{limit:.10g}"
    return show_number(limit, max(1, len(found.partition(".")[2]))) if "e" not in found else found


def curve_rows(fluid: FluidReport | None) -> list[list[str]]:
    """The curve under a line of titles; an opinion is a column of its own."""
    curve = None if fluid is None else fluid.curve
    if curve is None:
        return [list(TITLES)]
    rows = [[*TITLES, *(f"{opinion.name}, Pa·s" for opinion in curve.opinions)]]
    for k, (celsius, seen) in enumerate(zip(curve.temperatures, curve.viscosity, strict=True)):
        figures = [seen.value, seen.low50, seen.high50, seen.low90, seen.high90]
        figures += [opinion.viscosity[k] for opinion in curve.opinions]
        rows.append([show_number(celsius, 0), *(show_number(figure, 4) for figure in figures)])
    return rows
