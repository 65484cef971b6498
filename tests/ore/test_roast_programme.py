"""The programme follows the ore, and each warning has a mix that calls for it and one that just does not."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.issue import Issue, Severity
from fluxlab.ore.analysis import mix
from fluxlab.ore.ore_types import OreType, Share
from fluxlab.ore.roast_arrays import arrays
from fluxlab.ore.roast_phases import burning_share, meltings
from fluxlab.ore.roast_programme import ignition, own_heat, programme
from fluxlab.ore.roast_tables import burning, first_liquids
from fluxlab.ore.roast_types import Programme, RoastPlan

PLAN = RoastPlan("planned")


def made(plan: RoastPlan = PLAN, **shares: float) -> Programme:
    m = mix(OreType("o", "Ore", minerals=tuple(Share(name.replace("_", " "), value) for name, value in shares.items())))
    return programme(arrays(tuple(e.mineral for e in m.entries)), m.entries, plan)


def saying(found: Programme, words: str) -> list[Issue]:
    return [issue for issue in found.warnings if words in issue.sentence]


def test_the_steps_go_up_to_the_finish_and_take_the_time_of_the_plan() -> None:
    steps = made(Pyrite=30.0, Quartz=70.0).steps
    assert [s.key for s in steps] == ["dry", "low", "main", "finish", "test"]
    assert [(s.low, s.high) for s in steps] == [(105, 250), (350, 550), (550, 650), (740, 740), (740, 740)]
    assert sum(s.minutes for s in steps[1:4]) == pytest.approx(PLAN.minutes)
    assert all(s.action.endswith(".") and s.source for s in steps)


def test_a_low_finish_holds_every_step_down() -> None:
    assert max(s.high for s in made(replace(PLAN, finish_temperature=500.0), Pyrite=30.0, Quartz=70.0).steps) == 500.0


def test_stibnite_keeps_the_low_roast_below_five_hundred() -> None:
    plain, fusible = made(Pyrite=50.0, Quartz=50.0), made(Pyrite=30.0, Stibnite=20.0, Quartz=50.0)
    assert plain.steps[1].high == 550.0
    assert 450.0 < fusible.steps[1].high < 465.0


def test_more_than_forty_per_cent_pyrite_runs_away() -> None:
    found = saying(made(Pyrite=52.0, Quartz=48.0), "run away")
    assert len(found) == 1
    assert "52 % pyrite" in found[0].sentence
    assert "3.6 kJ per gram" in found[0].sentence
    assert "judgement" in found[0].sentence
    assert "30 g or more of calcine" in found[0].remedy
    assert saying(made(Pyrite=25.0, Marcasite=20.0, Quartz=55.0), "run away")
    assert saying(made(Pyrite=39.9, Quartz=60.1), "run away") == []


def test_the_earliest_ignition_is_named_with_its_source() -> None:
    found = saying(made(Pyrite=20.0, Galena=30.0, Quartz=50.0), "takes fire")
    assert [issue.sentence for issue in found] == [
        "Pyrite takes fire by itself at about 325 ± 50 °C (from memory (Friedrich 1909))."
    ]
    coarse = made(replace(PLAN, particle_size=0.5), Pyrite=20.0, Quartz=80.0)
    assert "470 ± 50" in saying(coarse, "takes fire")[0].sentence
    assert saying(made(Arsenopyrite=50.0, Quartz=50.0), "takes fire") == []


def test_ignition_moves_evenly_from_fine_to_coarse() -> None:
    row = burning()["Pyrite"]
    assert [ignition(row, size) for size in (0.05, 0.1, 0.2, 1.0)] == [325.0, 325.0, 470.0, 470.0]
    middle = ignition(row, 0.1 * 2.0**0.5)
    assert middle == pytest.approx(397.5)


CLOTS = [
    ({"Stibnite": 10.0, "Galena": 10.0, "Quartz": 80.0}, PLAN, "520", "main burn"),
    ({"Galena": 40.0, "Acanthite/argentite": 5.0, "Quartz": 55.0}, PLAN, "605 to 630", "main burn"),
    ({"Galena": 40.0, "Quartz": 60.0}, PLAN, "715 to 730", "finish"),
    ({"Orpiment": 5.0, "Pyrite": 20.0, "Quartz": 75.0}, PLAN, "312", "low roast"),
    ({"Chlorargyrite (horn silver)": 5.0, "Pyrite": 20.0, "Quartz": 75.0}, PLAN, "455", "finish"),
]


@pytest.mark.parametrize(("shares", "plan", "at", "step"), CLOTS)
def test_a_bed_that_clots_is_warned_of_with_step_and_temperature(
    shares: dict[str, float], plan: RoastPlan, at: str, step: str
) -> None:
    found = [i for i in made(plan, **shares).warnings if f"from about {at} °C" in i.sentence and step in i.sentence]
    assert len(found) == 1
    assert found[0].severity is Severity.WARNING
    assert "found" in found[0].sentence or "from memory" in found[0].sentence
    # What burns off is gone after a cool wait; what is made by the roast or never burns is there until the end.
    assert found[0].remedy.startswith("Stay below") == (step != "finish")
    assert found[0].remedy.startswith("Keep the bed thin") == (step == "finish")


def test_what_melts_at_the_finish_is_no_reason_to_leave_the_sulphates() -> None:
    """The same programme asks for red heat where sulphates last: it must not forbid it in the same breath."""
    (found,) = saying(made(Galena=40.0, Quartz=60.0), "Lead oxide and silica melt")
    assert "until no more fume comes off" not in found.remedy
    assert "below 685 °C none of it melts, but more sulphate lasts" in found.remedy


def test_no_clotting_is_cried_below_the_first_liquid() -> None:
    assert saying(made(replace(PLAN, finish_temperature=700.0), Galena=40.0, Quartz=60.0), "clot, and") == []
    assert saying(made(Galena=40.0, Calcite=60.0), "clot, and") == []
    assert saying(made(Galena=0.4, Quartz=99.6), "clot, and") == []
    assert saying(made(Pyrite=30.0, Quartz=70.0), "clot, and") == []


def test_a_bed_slows_down_smoothly_where_it_melts() -> None:
    m = mix(OreType("o", "Ore", minerals=(Share("Stibnite", 20.0), Share("Galena", 20.0), Share("Quartz", 60.0))))
    found = meltings(tuple(e.mineral for e in m.entries), np.array([e.likely for e in m.entries]))
    open_share = burning_share(found, np.arange(300.0, 800.0, 1.0))
    assert open_share[0] == pytest.approx(1.0, abs=1e-4)
    assert open_share[-1] == pytest.approx(1.0 - 0.2 / 0.25, abs=1e-3)
    assert np.abs(np.diff(open_share)).max() < 0.02


def test_first_liquids_have_a_source_and_stand_in_order() -> None:
    rows = first_liquids()
    assert [row.low for row in rows] == sorted(row.low for row in rows)
    assert all(row.source.startswith(("found", "from memory")) and row.low <= row.high for row in rows)


def test_a_finish_above_eight_hundred_is_warned_of() -> None:
    assert saying(made(replace(PLAN, finish_temperature=801.0), Pyrite=30.0, Quartz=70.0), "above 800")
    assert saying(made(replace(PLAN, finish_temperature=800.0), Pyrite=30.0, Quartz=70.0), "above 800") == []


def test_a_weak_finish_names_the_sulphates_it_leaves() -> None:
    found = saying(made(replace(PLAN, finish_temperature=600.0), Chalcopyrite=30.0, Quartz=70.0), "leaves sulphates")
    assert "Cu" in found[0].sentence
    assert "Zn" not in found[0].sentence
    assert saying(made(replace(PLAN, finish_temperature=700.0), Chalcopyrite=30.0, Quartz=70.0), "leaves sulph") == []
    assert saying(made(replace(PLAN, finish_temperature=600.0), Stibnite=30.0, Quartz=70.0), "leaves sulph") == []


def test_a_deep_or_still_bed_is_noted() -> None:
    deep, still = replace(PLAN, bed_depth=15.1), replace(PLAN, rabbled=False)
    assert saying(made(deep, Pyrite=30.0, Quartz=70.0), "15.1 mm is deep")
    assert saying(made(replace(PLAN, bed_depth=15.0), Pyrite=30.0, Quartz=70.0), "is deep") == []
    assert saying(made(still, Pyrite=30.0, Quartz=70.0), "Unstirred")
    assert saying(made(Pyrite=30.0, Quartz=70.0), "Unstirred") == []


def test_an_unstirred_bed_leaves_magnetic_iron_only_where_there_is_iron() -> None:
    still = replace(PLAN, rabbled=False)
    assert saying(made(still, Pyrite=30.0, Quartz=70.0), "leaves black magnetic iron")
    (found,) = saying(made(still, Galena=30.0, Quartz=70.0), "Unstirred")
    assert "iron" not in found.sentence


def test_mercury_stops_the_roast_in_words() -> None:
    found = saying(made(Cinnabar=2.0, Quartz=98.0), "mercury")
    assert found[0].severity is Severity.ERROR
    assert "1.7 % mercury" in found[0].sentence
    assert saying(made(Pyrite=2.0, Quartz=98.0), "mercury") == []
    (trace,) = saying(made(Cinnabar=1e-5, Quartz=99.99999), "mercury")
    assert "less than 0.0001 % mercury" in trace.sentence


def test_pure_quartz_says_that_nothing_burns() -> None:
    assert [issue.severity for issue in made(Quartz=100.0).warnings] == [Severity.NOTE]
    assert saying(made(Quartz=100.0), "Nothing in this ore burns")


def test_a_trace_that_burns_is_not_spoken_of_as_a_roast() -> None:
    found = made(PLAN, **{"Acanthite/argentite": 0.06, "Quartz": 99.94}).warnings
    assert [issue.sentence.partition(":")[0] for issue in found] == ["Hardly anything in this ore burns"]


def test_own_heat_adds_up_what_is_tabled() -> None:
    m = mix(OreType("o", "Ore", minerals=(Share("Pyrite", 40.0), Share("Galena", 30.0), Share("Quartz", 30.0))))
    assert own_heat(m.entries) == pytest.approx(0.4 * 6.9 + 0.3 * 1.74)
