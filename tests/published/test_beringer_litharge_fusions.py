"""The litharge model against C. and J. J. Beringer, A Text-Book of Assaying, 9th ed., Griffin, London 1904, pp. 91-98.

Two constants are fitted to the 26 fusions of p. 97, none to a mineral. The figure that counts is printed first: each
mineral predicted by constants that were fitted to the other four.
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from fluxlab.fusion.button import flour_for_button
from fluxlab.fusion.currency import LITHARGE_PER_LEAD
from fluxlab.fusion.litharge import litharge_fusion, sulphide_lead
from fluxlab.fusion.melt import Melt
from fluxlab.fusion.nitre import nitrate_power, nitre_constants
from fluxlab.fusion.redox import redox_balance
from fluxlab.fusion.redox_types import Reducer
from fluxlab.fusion.sulphate import sulphate_constants
from fluxlab.fusion.wanted import nitre_for_button
from tests.benchmarks.fit_litharge_fusions import fitted, left_out, left_out_share, misses, rms
from tests.published.beringer_fusions import FUSIONS, LITHARGE, fuse, melt

AUTHORS_RULE = {"FeS2": 11.0, "CuFeS2": 7.5, "ZnS": 7.5, "Sb2S3": 6.0, "PbS": 3.35}


def test_the_model_beats_the_authors_rule_on_minerals_it_has_not_seen(capsys: pytest.CaptureFixture[str]) -> None:
    by_mineral = left_out()
    every = np.concatenate(list(by_mineral.values()))
    best = fitted(FUSIONS)
    inside = misses(best, FUSIONS)
    rule = np.array([f.sulphide * AUTHORS_RULE[f.mineral] - 4.0 * f.nitre - f.lead for f in FUSIONS])
    with capsys.disabled():
        print()
        print(f"  litharge fusions, each mineral left out: rms {rms(every):.2f} g, worst {np.abs(every).max():.1f} g")
        print("   ", ", ".join(f"{mineral} {rms(of):.1f}" for mineral, of in by_mineral.items()))
        print(f"  fitted with 2 constants: rms {rms(inside):.2f} g, worst {np.abs(inside).max():.1f} g")
        print(f"  author's rule: rms {rms(rule):.2f} g, worst {np.abs(rule).max():.1f} g")
    assert rms(every) < 2.5
    assert np.abs(every).max() < 6.0
    assert rms(inside) < 2.35
    assert rms(rule) == pytest.approx(3.5, abs=0.06)
    assert np.abs(rule).max() == pytest.approx(7.5, abs=0.05)


def test_the_shipped_constants_are_those_of_the_fit() -> None:
    best = fitted(FUSIONS)
    assert sulphate_constants().constant == pytest.approx(np.exp(best[0]), rel=1e-3)
    assert nitre_constants().rise == pytest.approx(best[1], abs=1e-3)
    assert sulphate_constants().miss == pytest.approx(left_out_share(left_out()), abs=1e-3)


def test_the_ranges_hold_nine_fusions_in_ten_or_nearly() -> None:
    inside = sum(found.low <= f.lead <= found.high for f in FUSIONS for found in (fuse(f),))
    assert inside >= 0.85 * len(FUSIONS)


def test_soda_used_as_carbonate_instead_changes_the_fit_little() -> None:
    """The book's soda is bicarbonate by its own note; were it carbonate, the fusions would be met nearly as well."""
    as_ash = [
        litharge_fusion({f.mineral: f.sulphide}, melt(f.quartz, f.nitre, ash=True), LITHARGE, {"KNO3": f.nitre}).lead
        for f in FUSIONS
    ]
    off = np.array(as_ash) - np.array([f.lead for f in FUSIONS])
    assert rms(off) < 3.0


@pytest.mark.parametrize(("mineral", "low", "high"), [
    ("FeS2", 8.6, 12.09), ("ZnS", 6.4, 8.5), ("Sb2S3", 5.5, 7.32), ("PbS", 2.6, 3.4), ("CuFeS2", 6.21, 8.47),
])  # fmt: skip
def test_theory_is_met_without_soda_and_with_very_much(mineral: str, low: float, high: float) -> None:
    """Page 98. Upper limits that the book works with ferric oxide or higher antimony oxides stand as worked out here.

    The book's limits for chalcopyrite, 7.5 to 11.6, do not follow from CuFeS2 and are not met: 6.2 to 8.5 are.
    """
    assert sulphide_lead({mineral: 1.0}, Melt(0.0, 1.0)).lead == pytest.approx(low, abs=0.07)
    assert sulphide_lead({mineral: 1.0}, Melt(100.0, 0.01)).lead == pytest.approx(high, abs=0.07)


@pytest.mark.parametrize("mineral", ["FeS2", "CuFeS2", "ZnS"])
def test_the_same_ore_with_and_without_soda(mineral: str) -> None:
    """Page 98: 3 g of an ore gave 16.5 g of lead with litharge alone and 22.5 g with 20 g of soda: 0.73 of it."""
    alone = sulphide_lead({mineral: 3.0}, melt(0.0, soda=0.0, borax=0.0)).lead
    with_soda = sulphide_lead({mineral: 3.0}, melt(0.0, borax=0.0)).lead
    assert alone / with_soda == pytest.approx(16.5 / 22.5, abs=0.03)


@pytest.mark.parametrize(
    ("red_lead", "flour", "book"), [(40.0, 3.0, 25.0), (100.0, 3.0, 13.5), (80.0, 4.0, 30.0), (80.0, 5.0, 40.0)]
)
def test_buttons_from_red_lead_and_flour(red_lead: float, flour: float, book: float) -> None:
    """Page 95, trials: the balance of the whole pot gives them, red lead as two parts of Pb3O4 to one of PbO."""
    pool = {"Pb3O4": 0.66 * red_lead, "PbO": 0.34 * red_lead}
    found = redox_balance({}, pool, melt(0.0), [Reducer("flour", flour, 11.2, 10.0, 12.0)])
    assert found.lead == pytest.approx(book, abs=1.3)
    assert found.lead_low <= book <= found.lead_high


@pytest.mark.parametrize(
    ("trial", "nitre"), [(6.0, 4.0), (9.0, 9.0), (12.0, 14.0), (15.0, 19.0), (18.0, 24.0), (21.0, 29.0)]
)
def test_nitre_after_a_trial_fusion_of_a_pyritic_ore(trial: float, nitre: float) -> None:
    """Page 96: 3 g of ore with 3 g of soda in 50 g of litharge; then ore 20, red lead 80, soda 20, borax 5.

    The trial and the main charge have different powers: the trial is read by the model backwards, as pyrite in
    quartz, and the main charge forwards. The nitre for a button of 20 g then stands in the book's table.
    """

    def thrown(pyrite: float) -> float:
        return litharge_fusion({"FeS2": pyrite}, melt(3.0 - pyrite, soda=3.0, borax=0.0), 50.0).lead

    pyrite = brentq(lambda grams: thrown(grams) - trial, 0.0, 3.0) / 3.0
    plain = melt(20.0 * (1.0 - pyrite))
    found = nitre_for_button(20.0, {"FeS2": 20.0 * pyrite}, plain, other=-80.0 / 5.0)
    assert found == pytest.approx(nitre, abs=3.0)


def test_nitre_keeps_up_what_the_book_found() -> None:
    """Page 98: a gram of nitre keeps up 3.2 g of lead in an acid slag, 4.0 g on the average."""
    assert nitrate_power("KNO3", Melt(0.0, 1.0)) == pytest.approx(3.2)
    mean = np.mean([nitrate_power("KNO3", melt(f.quartz, f.nitre)) for f in FUSIONS])
    assert mean == pytest.approx(4.0, abs=0.2)


def test_flour_for_a_button() -> None:
    """Page 95: flour = (red lead/5 + button)/11."""
    assert flour_for_button(20.0, 80.0 / 5.0, 11.0) == pytest.approx(3.27, abs=0.005)


def test_eighty_of_litharge_cannot_give_more_lead_than_it_holds() -> None:
    most = LITHARGE / LITHARGE_PER_LEAD
    assert litharge_fusion({"FeS2": 20.0}, melt(0.0), LITHARGE).lead == pytest.approx(most)
    assert most == pytest.approx(74.3, abs=0.05)
