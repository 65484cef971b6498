"""Swelling heap and foam told apart, and told alike by verdict, cautions, text and report."""

from dataclasses import replace

import pytest

from fluxlab.design.cautions.vessels import swollen_heap
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Work
from fluxlab.design.report_text import text_of
from fluxlab.design.report_types import Report
from fluxlab.design.rising import SWELL_LIMIT, highest_rise
from fluxlab.design.start import demo_work
from fluxlab.design.verdicts import fit_verdict
from tests.design.caution_cases import QUIET
from tests.works import equipped

DEMO = evaluate(demo_work())
CRYSTALS = {"soda-ash-dense": 60.0, "borax-decahydrate": 120.0}


def house(charge: float, fluxes: dict[str, float], **changes: object) -> Work:
    """The demo ore with fluxes fixed by hand [g] and no targets."""
    work = equipped(demo_work())
    lines = tuple(Line(flux, grams=grams) for flux, grams in fluxes.items())
    return replace(work, recipe=replace(work.recipe, charge=charge, lines=lines, targets=(), **changes))  # type: ignore[arg-type]


def with_foam(report: Report, foam: float) -> Report:
    """The report as if the foam stood so high on the melt [mm]."""
    assert report.pot is not None
    return replace(report, pot=replace(report.pot, gas=replace(report.pot.gas, foam=foam)))


def fit(report: Report, **changes: object):  # type: ignore[no-untyped-def]
    assert report.fill is not None
    assert report.pot is not None
    return fit_verdict((), replace(report.fill, **changes), report.mould, report.pot.gas)  # type: ignore[arg-type]


def test_the_swollen_heap_is_the_loose_volume_of_each_flux_by_its_factor() -> None:
    """Worked by hand: the demo's fluxes at 97 % purity lie loose as weighed."""
    fill = DEMO.fill
    assert fill is not None
    loose = {line.flux: line.loose_volume for line in DEMO.lines if line.grams > 0.0}
    assert sum(loose.values()) == pytest.approx(90.0 / 1.15 + 70.0 / 1.08 + 40.0 / 1.53, rel=1e-9)
    ore = fill.loose_volume - sum(loose.values())
    factors = {"borax-glass": 1.1, "soda-ash-dense": 1.3, "silica-sand": 1.1}
    swollen = 1.1 * ore + sum(factors[flux] * volume for flux, volume in loose.items())
    assert fill.swollen_volume == pytest.approx(swollen, rel=1e-9)
    assert fill.swollen_fraction == pytest.approx(swollen / fill.brim, rel=1e-9)


def test_text_verdict_and_report_print_one_figure_for_the_swollen_heap_and_one_for_the_foam() -> None:
    fill, pot, text = DEMO.fill, DEMO.pot, " ".join(text_of(DEMO).split())
    assert fill is not None
    assert pot is not None
    assert pot.gas.foam is not None
    told = f"{100 * fill.swollen_fraction:.0f} %"
    assert f"{told} of the brim, {fill.swollen_from_rim:.0f} mm below the rim, before it melts" in text
    assert f"swells to {told}" in next(v.reason for v in DEMO.verdicts if v.key == "fit")
    assert f"The foam would stand {pot.gas.foam:.0f} mm high on the melt, and {pot.gas.free:.0f} mm are free." in text
    assert "froth" not in text.lower()


@pytest.mark.parametrize(("short", "kind"), [(2.0, "foam"), (-2.0, "heap")])
def test_the_higher_of_swollen_heap_and_foam_is_told(short: float, kind: str) -> None:
    fill, pot = DEMO.fill, DEMO.pot
    assert fill is not None
    assert pot is not None
    assert pot.gas.free is not None
    foam = pot.gas.free - fill.swollen_from_rim + short
    told = with_foam(DEMO, foam)
    assert told.pot is not None
    rise = highest_rise(fill, told.pot.gas)
    assert rise.kind == kind
    assert rise.from_rim == pytest.approx(fill.swollen_from_rim - max(short, 0.0))
    assert (f"foams {foam:.0f} mm" in fit(told).reason) is (kind == "foam")
    assert highest_rise(fill, None).kind == "heap"


@pytest.mark.parametrize(("part", "answer"), [(SWELL_LIMIT, "yes"), (SWELL_LIMIT + 0.01, "no")])
def test_a_heap_that_swells_over_nine_tenths_neither_fits_nor_passes(part: float, answer: str) -> None:
    told = fit(DEMO, swollen_fraction=part, feeds_needed=2)
    assert told.answer == answer
    found = swollen_heap(replace(QUIET, swollen_fraction=part))
    assert (found is None) is (answer == "yes")
    if found is not None:
        assert found[1] in told.reason
        assert told.mend is not None
        assert told.mend.arguments == (2,)


def test_foam_over_the_rim_is_answered_with_the_feeds_that_keep_it_in() -> None:
    pot = DEMO.pot
    assert pot is not None
    assert pot.gas.free is not None
    over = with_foam(DEMO, 1.4 * pot.gas.free)
    assert over.pot is not None
    over = replace(over, pot=replace(over.pot, gas=replace(over.pot.gas, feeds_needed=2)))
    told = fit(over)
    assert told.answer == "close"
    assert (
        f"the foam may stand {1.4 * pot.gas.free:.0f} mm high on the melt, {pot.gas.free:.0f} mm are free"
        in told.reason
    )
    assert told.mend is not None
    assert told.mend.arguments == (2,)


def test_feeds_are_counted_by_the_swelling_too() -> None:
    """Crystals lie low and swell high: the heap alone would ask for fewer feeds, and one feed less is too few."""
    found = evaluate(house(60.0, CRYSTALS)).fill
    assert found is not None
    assert found.swollen_fraction > SWELL_LIMIT
    needed = found.feeds_needed
    assert needed > 1
    for feeds, within in ((needed, True), (needed - 1, False)):
        fill = evaluate(house(60.0, CRYSTALS, feeds=feeds)).fill
        assert fill is not None
        fits = fill.swollen_fraction <= SWELL_LIMIT and fill.loose_fraction <= 0.5
        assert fits is within


def test_the_rate_behind_foam_and_minutes_is_one_and_an_own_rate_wins_everywhere() -> None:
    pot = DEMO.pot
    assert pot is not None
    assert pot.heat is not None
    rate = pot.gas.degrees_a_minute
    assert rate.value * pot.heat.minutes.value == pytest.approx(1125.0)
    assert f"{rate.value:.0f} °C a minute" in pot.heat.sentence
    row = next(row for row in pot.figures if row.key == "heating_rate")
    assert (row.value, row.own) == (rate, False)
    assert "judgement" in row.source
    own = evaluate(replace(demo_work(), recipe=replace(demo_work().recipe, pot_figures=(("heating_rate", 25.0),))))
    assert own.pot is not None
    assert own.pot.heat is not None
    assert own.pot.gas.degrees_a_minute.value == 25.0
    assert own.pot.heat.minutes.value == pytest.approx(45.0)
    assert own.pot.heat.propane == pot.heat.propane
    assert pot.gas.foam is not None
    assert own.pot.gas.foam == pytest.approx(pot.gas.foam * 25.0 / rate.value)
    mine = next(row for row in own.pot.figures if row.key == "heating_rate")
    assert mine.own
    assert (mine.value.value, mine.shipped) == (25.0, rate)
    assert "45 min from cold at your 25 °C a minute" in " ".join(text_of(own).split())


def test_a_rate_that_the_burner_cannot_give_is_said_in_the_report() -> None:
    fast = evaluate(replace(demo_work(), recipe=replace(demo_work().recipe, pot_figures=(("heating_rate", 1000.0),))))
    assert fast.pot is not None
    assert any("Your rate of 1000 °C a minute is more than" in issue.sentence for issue in fast.pot.issues)
    assert fast.pot.heat is not None
    assert "at your 1000 °C a minute" in fast.pot.heat.sentence


def test_where_no_rate_follows_from_the_heat_none_is_told_with_the_minutes() -> None:
    cold = evaluate(replace(demo_work(), recipe=replace(demo_work().recipe, pour_temperature=20.0)))
    assert cold.pot is not None
    assert cold.pot.heat is not None
    assert "judgement" in cold.pot.gas.rate_words
    assert "°C a minute" not in cold.pot.heat.sentence
