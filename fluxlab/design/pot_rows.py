"""What happens in the pot, as rows of the plain-text report: a label and its words."""

from collections.abc import Iterator, Sequence

from fluxlab.design.gas_text import given_off
from fluxlab.design.pot_types import (
    ButtonReport,
    DropsReport,
    FigureRow,
    HeatReport,
    HeatRow,
    OxygenRow,
    PotGasReport,
    PotReport,
    RedoxReport,
    SilverRow,
    SulphurReport,
)
from fluxlab.design.report_types import Amount
from fluxlab.design.roast_text import amount_words
from fluxlab.fusion.pot_words import grams

Rows = Iterator[tuple[str, str]]

_SOME = 0.005
"""Masses below this [g], and litres below ten times this, are not told in a list."""
_LEAST = 0.0005
"""Silver, or a button, below this [g] is none."""


def pot_rows(pot: PotReport) -> Rows:
    """State, own figures, oxygen, sulphur, button, silver, drops, gas, heat, cupel, what is worth another melt."""
    yield "State", pot.state
    yield from _own(pot.figures)
    yield from _oxygen(pot.redox)
    yield from _sulphur(pot.sulphur)
    yield from _button(pot.button)
    yield from _silver(pot.silver)
    if pot.drops is not None:
        yield from _drops(pot.drops)
    yield from _gas(pot.gas)
    if pot.heat is not None:
        yield from _heat(pot.heat)
    if pot.cupel is not None:
        yield "Cupel", pot.cupel.sentence
    if pot.retreat:
        yield "Slag and matte", pot.retreat


def pot_sources(pot: PotReport) -> Rows:
    """What each part of the pot's report rests on."""
    yield "Route", pot.route_source
    yield "Oxygen", pot.redox.source
    if pot.sulphur.rows:
        yield "Sulphur", _once(row.source for row in pot.sulphur.rows)
    yield "Button", pot.button.source
    yield "Silver", _once(row.source for row in pot.silver)
    for name, part in (
        ("Drops and hold", pot.drops),
        ("Gas", pot.gas),
        ("Heat for the furnace", pot.heat),
        ("Cupel", pot.cupel),
    ):
        if part is not None:
            yield name, part.source


def _own(figures: Sequence[FigureRow]) -> Rows:
    """The operator's own figures, each with what it stands in place of."""
    for row in figures:
        if row.own:
            shipped = f"{row.shipped.value:.4g} {row.unit}".rstrip()
            yield "Own figure", f"{row.words}: {row.value.value:g} {row.unit}".rstrip() + f", in place of {shipped}"


def _oxygen(redox: RedoxReport) -> Rows:
    yield "Oxygen", redox.sentence
    if redox.budget is not None:
        yield "  reducers take", f"{span(redox.supply)}, as lead {span(redox.supply_lead)}"
        yield "  the charge gives up", f"{grams(redox.demand)}, as lead {grams(redox.demand_lead)}"
        yield "  taken over given up", f"{redox.budget:.2f}; {redox.asked}"
    takers = [row for row in redox.rows if row.takes and row.oxygen > _SOME]
    givers = [row for row in redox.rows if not row.takes and row.oxygen > _SOME]
    if takers:
        yield "  taken by", ", ".join(f"{row.name} {grams(row.oxygen)}" for row in takers)
    if givers:
        yield "  given up, in this order", "; ".join(_giver(row) for row in givers)
    if redox.lead_there > _SOME:
        yield "  lead from its oxide", f"{span(redox.lead)} of {grams(redox.lead_there)}{_left_in_slag(redox)}"
    if redox.iron:
        yield "  iron left ferric", redox.iron
    if redox.nitre_percent is not None:
        yield "  nitre", f"{amount_words(redox.nitre_percent, 0)} % of its oxygen does work"
    if redox.pot_burnt > _SOME:
        yield "  ! pot", f"The nitre could burn {grams(redox.pot_burnt)} of carbon off it."
    if redox.lead_wanted is not None:
        yield "  for the lead wanted", _wanted(redox, redox.lead_wanted)


def _left_in_slag(redox: RedoxReport) -> str:
    """That the slag is reckoned with the lead that the wall of the pot brings down by itself."""
    by_wall = redox.lead_wanted is None and any(row.takes and row.name == "pot wall" for row in redox.rows)
    if not by_wall or redox.lead.value <= _SOME:
        return ""
    return "; what the wall of the pot takes of it stays in the figures of the slag"


def _giver(row: OxygenRow) -> str:
    met = "" if row.met_percent is None else f", {row.met_percent:.0f} % reached"
    return f"{row.name} to {row.becomes} {grams(row.oxygen)}{met}"


def _wanted(redox: RedoxReport, lead: float) -> str:
    reducer = redox.reducer_wanted
    more = []
    if reducer is not None and reducer.value > _SOME:
        more.append(f"{span(reducer)} more of {redox.reducer_name or 'a reducer'}")
    if redox.nitre_wanted is not None and redox.nitre_wanted > _SOME:
        more.append(f"{grams(redox.nitre_wanted)} more nitre")
    if not more and redox.lead.value < lead - _SOME and redox.reducer_wanted is None:
        more.append("less nitre, and no reducer beside it")
    if not more and redox.lead.value > lead + _SOME and redox.nitre_wanted is None:
        more.append("less of the reducer")
    if not more and abs(redox.lead.value - lead) > _SOME:
        return f"{grams(redox.lead.value)} is within what is asked: nothing more is wanted"
    return f"{grams(lead)} of lead: {' or '.join(more) or 'nothing more is wanted'}"


def _sulphur(sulphur: SulphurReport) -> Rows:
    yield "Sulphur", sulphur.sentence
    ends = [row for row in sulphur.rows if row.sulphur > _SOME or (row.mass is not None and row.mass.value > _SOME)]
    if ends:
        told = (f"{row.name} {grams(row.sulphur)}" if row.sulphur > _SOME else row.name for row in ends)
        yield "  it ends in", f"{', '.join(told)}; {grams(sulphur.total)} in all, as sulphur"
    for row in ends:
        if row.mass is not None and row.mass.value > _SOME:
            yield f"  {row.name}", f"{span(row.mass)}. {row.words}".strip()
    if sulphur.soda_used > _SOME:
        yield "  soda used up", f"{grams(sulphur.soda_used)} of soda ash, which is no flux any more"
    if sulphur.against:
        yield "  against the matte", sulphur.against


def _button(button: ButtonReport) -> Rows:
    if not button.metals:
        yield "Button", "no metal comes down"
        return
    yield "Button", span(button.mass)
    if button.mass.value < _LEAST:
        yield "  yield and recovery", button.sentence
        return
    yield "  made of", "; ".join(f"{m.name} {span(m.grams)}, {_percent(m.percent)}" for m in button.metals)
    if button.silver_fineness.value > 0.0 or not button.gold_fineness.value > 0.0:
        yield "  silver in a thousand", f"{_thousandths(button.silver_fineness)}; this is no assay"
    if button.gold_fineness.value > 0.0:
        yield "  gold in a thousand", f"{_thousandths(button.gold_fineness)}; this is no assay"
    if button.density is not None:
        yield "  density when cold", f"{amount_words(button.density, 1)} g/cm³"
    yield "  yield and recovery", button.sentence


def _thousandths(fineness: Amount) -> str:
    """Parts in a thousand, with as many places as a poor button asks for."""
    return amount_words(fineness, 0 if fineness.value >= 10.0 else 1 if fineness.value >= 1.0 else 3)


def span(amount: Amount) -> str:
    """A mass [g] with its range in words, without one that says nothing."""
    if amount.low is None or amount.high is None:
        return grams(amount.value)
    low, high = grams(amount.low), grams(amount.high)
    return low if low == high else f"{grams(amount.value)} ({low} to {high})"


def _percent(share: float) -> str:
    return f"{share:.0f} %" if share >= 1.0 else f"{share:.2g} %"


def _silver(rows: Sequence[SilverRow]) -> Rows:
    if rows:
        yield "Silver ends in", f"{rows[0].place}: {_held(rows[0])}"
    for row in rows[1:]:
        if (row.grams.high or row.grams.value) >= _LEAST:
            words = row.words if row.grams.value >= _LEAST else ""
            yield f"  {row.place}", f"{_held(row)}. {words}".strip()


def _held(row: SilverRow) -> str:
    return "none" if row.grams.value < _LEAST else f"{span(row.grams)}, {_percent(row.percent)}"


def _drops(drops: DropsReport) -> Rows:
    yield "Drops and hold", drops.sentence
    down = "none are down" if drops.settled_size is None else f"drops from {drops.settled_size:.0f} µm are down"
    trapped = f"{amount_words(drops.trapped_percent, 1)} % of the metal hangs in the slag"
    yield f"  after {drops.planned:.0f} min", f"{down}, {trapped}"


def _gas(gas: PotGasReport) -> Rows:
    yield "Gas", f"{gas.litres:.1f} L, cold. {gas.sentence}"
    if told := given_off(gas):
        yield "  given off by", told
    yield "  as it is heated", f"{amount_words(gas.degrees_a_minute, 0)} °C a minute: {gas.rate_words}"
    for stage in gas.stages:
        if stage.litres > 10.0 * _SOME:
            span = f"{stage.low:.0f} to {stage.high:.0f} °C: {stage.litres:.1f} L, hot"
            foam = f", foam {stage.foam:.0f} mm high" if stage.foam >= 0.5 else ""
            yield f"  {stage.name}", f"{span}, most of it from {stage.giver}{foam}"
    if gas.minutes_needed is not None and gas.minutes_planned is not None:
        haste = "too fast" if gas.too_fast else "slow enough"
        yield "  time for it", f"{_minutes(gas.minutes_needed)} needed, {_minutes(gas.minutes_planned)} given: {haste}"
    if not gas.tried:
        yield "  ! mind", "The rule for foam was never tried for such a slag."


def _minutes(time: float) -> str:
    return f"{time:.0f} min" if time >= 9.95 else f"{time:.1f} min"


def _heat(heat: HeatReport) -> Rows:
    yield "Heat for the furnace", heat.sentence
    yield "  it goes into", _takers(heat.rows)
    if heat.fluxes:
        yield "  fluxes cost of it", _takers(heat.fluxes)


def _takers(rows: Sequence[HeatRow]) -> str:
    return "; ".join(f"{row.name} {row.heat:.0f} kJ" for row in rows if row.heat >= 0.5) or "nothing"


def _once(sources: Iterator[str]) -> str:
    return "; ".join(dict.fromkeys(source for source in sources if source))
