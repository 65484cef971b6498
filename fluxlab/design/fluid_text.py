"""The melt as a liquid, as rows of the plain-text report: a label and its words."""

from collections.abc import Iterator

from fluxlab.design.fluid_types import FluidReport, Likely, Move

_SIGNED = "+.2f"


def fluid_rows(fluid: FluidReport) -> Iterator[tuple[str, str]]:
    """Viscosity, temperatures, properties, crystals and what moves them; a figure that is not known is left out."""
    yield "Viscosity", f"{viscosity_words(fluid)} at {fluid.pour:.0f} °C"
    if fluid.chance is not None and fluid.limit is not None:
        yield "  chance", f"{100.0 * fluid.chance:.0f} % that it is at most {fluid.limit:.3g} Pa·s there"
    if fluid.curve is not None and fluid.curve.opinions:
        weights = ", ".join(f"{o.name} {100.0 * o.weight:.0f} %" for o in fluid.curve.opinions)
        yield "  opinions", f"low confidence; {weights}"
    for label, likely in (
        ("Pour as thin as asked", fluid.pour_wanted),
        ("Leaves the pot from", fluid.leaves_pot),
        ("Last crystal goes", fluid.liquidus),
        ("All melted from", fluid.melt_free),
    ):
        if likely is not None:
            yield label, f"{likely_words(likely, 0)} °C"
    for label, likely, places, unit in (
        ("Density hot", fluid.density, 2, "g/cm³"),
        ("Surface tension", fluid.surface_tension, 0, "mN/m"),
        ("Heat to the pour", fluid.heat, 0, "kJ"),
    ):
        if likely is not None:
            yield label, f"{likely_words(likely, places)} {unit}"
    for crystal in fluid.crystals:
        judged = "; judgement" if crystal.judgement else ""
        yield f"  ! {crystal.name}", f"{crystal.sentence} ({crystal.source}{judged})"
    if fluid.moves:
        yield "One part more to 100 of", "slag: change of degree, basicity, log10 viscosity"
    for move in fluid.moves:
        yield f"  {move.name}", _move(move)


def likely_words(likely: Likely, places: int) -> str:
    """A prediction with its nine-in-ten range: "1060 (950 to 1170)"."""
    return f"{likely.value:.{places}f} ({likely.low90:.{places}f} to {likely.high90:.{places}f})"


def viscosity_words(fluid: FluidReport) -> str:
    """The viscosity at the pour [Pa s] with its range, or that it is not known."""
    at = fluid.at_pour
    if at is None:
        return "not known"
    if fluid.below_floor:
        return f"below {fluid.floor:.3g} Pa·s, at most {at.high90:.2g}"
    return f"{at.value:.2g} Pa·s ({at.low90:.2g} to {at.high90:.2g})"


def _move(move: Move) -> str:
    figures = (move.degree, move.basicity, move.viscosity)
    return "  ".join("-" if figure is None else f"{figure:{_SIGNED}}" for figure in figures)
