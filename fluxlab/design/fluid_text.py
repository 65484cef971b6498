"""The melt as a liquid, as rows of the plain-text report: a label and its words."""

from collections.abc import Iterator

from fluxlab.design.cautions.findings import rough
from fluxlab.design.fluid_types import Crystal, FluidReport, Likely, Move


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
        ("Last crystal goes, advice", fluid.liquidus),
        ("All melted from", fluid.melt_free),
    ):
        if likely is not None:
            yield label, f"{likely_words(likely, 0)} °C"
    for label, likely, places, unit in (
        ("Density hot", fluid.density, 2, "g/cm³"),
        ("Surface tension", fluid.surface_tension, 0, "mN/m"),
        ("Heat in the slag alone", fluid.heat, 0, "kJ"),
    ):
        if likely is not None:
            yield label, f"{likely_words(likely, places)} {unit}"
    for crystal in fluid.crystals:
        yield f"  ! {crystal.name.partition(' (')[0]}", _crystal(crystal)
    told = [move for move in fluid.moves if move.kind == "flux"]
    if told:
        yield "One part more to a hundred", "of slag moves it by"
    for move in told:
        yield f"  {move.name}", _move(move)
    oxides = [f"{move.name} {_times(move.viscosity)}" for move in fluid.moves if move.kind == "oxide"]
    if oxides:
        yield "  viscosity by oxides", ", ".join(oxides)
    yield "  rests on", "; ".join(fluid.sources)


def _crystal(crystal: Crystal) -> str:
    judged = "; a judgement" if crystal.judgement and "judgement" not in crystal.source else ""
    span = f"likely below {crystal.low:.0f} to {crystal.high:.0f} °C"
    return f"{span}: {crystal.sentence} ({crystal.source}{judged})"


def likely_words(likely: Likely, places: int) -> str:
    """A prediction with its nine-in-ten range: "1060 (950 to 1170)"."""
    return f"{likely.value:.{places}f} ({likely.low90:.{places}f} to {likely.high90:.{places}f})"


def viscosity_words(fluid: FluidReport) -> str:
    """The viscosity at the pour [Pa s] with its range, or that it is not known."""
    at = fluid.at_pour
    if at is None:
        return "not known"
    if fluid.below_floor:
        return f"below {fluid.floor:.3g} Pa·s, at most {rough(at.high90)}"
    return f"{rough(at.value)} Pa·s ({rough(at.low90)} to {rough(at.high90)})"


def _move(move: Move) -> str:
    ratios = [
        f"{name} {figure:+.2f}"
        for name, figure in (("degree", move.degree), ("basicity", move.basicity))
        if figure is not None
    ]
    return ", ".join((*ratios, f"viscosity {_times(move.viscosity)}"))


def _times(power: float | None) -> str:
    """A change of log10 as a change in per cent."""
    return "not known" if power is None else f"{100.0 * (10.0**power - 1.0):+.0f} %"
