"""The litharge model against C. and J. J. Beringer, A Text-Book of Assaying, 9th ed., Griffin, London 1904, pp. 91-98.

The figure that counts is printed first: each mineral of p. 97 predicted by what was fitted to, and worked out from, the
other four. Fitted are two constants, none to a mineral; the heat share of 0.5 was chosen by us, knowing the fusions;
the nitre's least power of 3.2 g is the same author's (p. 98). tests/benchmarks/fit_litharge_fusions.py tells it all.
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
from fluxlab.fusion.wanted import nitre_for_button, wanting_for_button
from fluxlab.materials.formulas import atomic_mass, formula
from tests.benchmarks.fit_litharge_fusions import (
    HEAT_SHARES,
    figures,
    fitted,
    joined,
    left_out,
    left_out_share,
    misses,
    of_mineral,
    rms,
    rule_of,
    worst,
)
from tests.fusion.powers import power_limits
from tests.published.beringer_fusions import FUSIONS, LITHARGE, MINERALS, fuse, melt
from tests.published.litharge_rules import CONVENTIONS, authors_misses, stoichiometry_misses


def test_the_model_beats_the_authors_rule_on_minerals_it_has_not_seen(capsys: pytest.CaptureFixture[str]) -> None:
    """Left out 2.76 g, the author's rule 3.47 g; that rule has a power to each mineral, from these same fusions."""
    with capsys.disabled():
        print("", *figures(), sep="\n  ")
    unseen, author = joined(left_out()), authors_misses(FUSIONS)
    assert rms(unseen) == pytest.approx(2.76, abs=0.006)
    assert rms(author) == pytest.approx(3.47, abs=0.006)
    assert rms(unseen) < rms(author)


def test_where_the_authors_rule_is_nearer_than_the_model_left_out() -> None:
    """On stibnite and galena, and in the worst case: 8.1 g (stibnite 10, quartz 10, nitre 10) against 7.5 g.

    The heats of those two are the least and the largest: left out, they count as the nearest of the other four.
    """
    author = {mineral: rms(authors_misses(of_mineral(mineral))) for mineral in MINERALS}
    model = {mineral: rms(of) for mineral, of in left_out().items()}
    assert model == pytest.approx({"FeS2": 1.4, "CuFeS2": 4.2, "ZnS": 1.6, "Sb2S3": 4.4, "PbS": 1.1}, abs=0.05)
    assert author == pytest.approx({"FeS2": 2.4, "CuFeS2": 6.3, "ZnS": 4.5, "Sb2S3": 1.9, "PbS": 0.4}, abs=0.05)
    assert {mineral for mineral in MINERALS if author[mineral] < model[mineral]} == {"Sb2S3", "PbS"}
    assert worst(joined(left_out())) == pytest.approx(8.1, abs=0.05)
    assert left_out()["Sb2S3"][-1] == pytest.approx(8.1, abs=0.05)
    assert worst(authors_misses(FUSIONS)) == pytest.approx(7.5, abs=0.05)


def test_a_mineral_left_out_takes_its_heat_with_it() -> None:
    """With the ends of heat of all five kept, the same leaving out gives 2.40 g: too good by the two ends."""
    ends = {m: rule_of([other for other in MINERALS if other != m]) for m in MINERALS}
    assert {m: (ends[m].least_heat, ends[m].most_heat) for m in ("FeS2", "Sb2S3", "PbS")} == {
        "FeS2": (180.0, 245.0), "Sb2S3": (200.0, 245.0), "PbS": (180.0, 225.0),
    }  # fmt: skip
    assert rms(joined(left_out(ends_of_all=True))) == pytest.approx(2.40, abs=0.006)
    assert worst(joined(left_out(ends_of_all=True))) == pytest.approx(5.6, abs=0.05)


def test_the_fit_itself() -> None:
    rule = rule_of()
    inside = misses(fitted(FUSIONS, rule), FUSIONS, rule)
    assert rms(inside) == pytest.approx(2.28, abs=0.006)
    assert worst(inside) == pytest.approx(5.4, abs=0.05)


def test_the_heat_share_is_ours_and_not_the_best_for_these_fusions() -> None:
    """Half was chosen for its usual place, not for the least miss, which 0.75 and 1.0 would have left."""
    found = {share: round(rms(joined(left_out(share))), 2) for share in HEAT_SHARES}
    assert found == {0.0: 3.39, 0.25: 3.00, 0.5: 2.76, 0.75: 2.64, 1.0: 2.64}


@pytest.mark.parametrize(("convention", "miss", "most"), [
    (CONVENTIONS[0], 8.5, 20.1), (CONVENTIONS[1], 5.6, 14.5), (CONVENTIONS[2], 10.6, 20.1),
])  # fmt: skip
def test_stoichiometry_misses_by_more_whatever_it_is_taken_to_mean(convention: str, miss: float, most: float) -> None:
    """Stoichiometry here: all sulphur to sulphate in a charge without quartz, all to dioxide in one with quartz, a gram
    of nitre 4.0 g of lead. That is the 8.5 g; all to sulphate in every charge is the nearest of the three."""
    of = stoichiometry_misses(FUSIONS, convention)
    assert rms(of) == pytest.approx(miss, abs=0.05)
    assert worst(of) == pytest.approx(most, abs=0.05)
    assert rms(joined(left_out())) < rms(of)


def test_the_shipped_constants_are_those_of_the_fit() -> None:
    """The miss is that of fusions of a mineral which neither the fit nor the ends of heat have seen."""
    rule, shipped = rule_of(), sulphate_constants()
    best = fitted(FUSIONS, rule)
    assert shipped.constant == pytest.approx(np.exp(best[0]), rel=1e-3)
    assert nitre_constants().rise == pytest.approx(best[1], abs=1e-3)
    assert (shipped.heat_share, shipped.least_heat, shipped.most_heat) == (0.5, rule.least_heat, rule.most_heat)
    assert shipped.miss == pytest.approx(left_out_share(left_out()), abs=1e-3)


def test_the_ranges_hold_twenty_five_fusions_of_the_twenty_six() -> None:
    """Outside is chalcopyrite with quartz and without nitre."""
    outside = [(f.mineral, f.quartz, f.nitre) for f in FUSIONS if not fuse(f).low <= f.lead <= fuse(f).high]
    assert outside == [("CuFeS2", 15, 0)]


def test_soda_used_as_carbonate_instead_changes_the_fit_little() -> None:
    """The book's soda is bicarbonate by its own note; as carbonate, by the same constants: rms 2.39, worst 6.6 g."""
    as_ash = [
        litharge_fusion({f.mineral: f.sulphide}, melt(f.quartz, f.nitre, ash=True), LITHARGE, {"KNO3": f.nitre}).lead
        for f in FUSIONS
    ]
    off = np.array(as_ash) - np.array([f.lead for f in FUSIONS])
    assert rms(off) == pytest.approx(2.39, abs=0.006)
    assert worst(off) == pytest.approx(6.64, abs=0.006)


@pytest.mark.parametrize("mineral", MINERALS)
def test_the_limits_of_the_equations_are_met_without_soda_and_with_very_much(mineral: str) -> None:
    low, high = power_limits(mineral)
    assert sulphide_lead({mineral: 1.0}, Melt(0.0, 1.0)).lead == pytest.approx(low, rel=1e-6)
    assert sulphide_lead({mineral: 1.0}, Melt(100.0, 0.01)).lead == pytest.approx(high, rel=1e-3)


# the book's limits, and the oxygen atoms that the higher oxides of a mineral's metals take beyond FeO, Cu2O and Sb2O3
THEORY: dict[str, tuple[float, float, tuple[float, ...]]] = {
    "FeS2": (8.6, 12.9, (0.5,)), "CuFeS2": (7.5, 11.6, (0.5, 1.0)), "ZnS": (6.4, 8.5, ()),
    "Sb2S3": (5.5, 8.0, (1.0, 2.0)), "PbS": (2.6, 3.4, ()),
}  # fmt: skip


def _equations(mineral: str) -> tuple[list[float], list[float]]:
    """Lead by all equations that end in dioxide, and by all that end in sulphate [g/g]."""
    lead = atomic_mass("Pb") / formula(mineral).mass
    more = (0.0, *THEORY[mineral][2])
    low, high = power_limits(mineral)
    return [low + n * lead for n in more], [high + n * lead for n in more]


def _follows(printed: float, worked_out: list[float]) -> bool:
    """Whether a printed limit is one of these, rounded or cut off after its last figure."""
    return any(abs(printed - each) <= 0.075 for each in worked_out)


@pytest.mark.parametrize("mineral", [m for m in MINERALS if m != "CuFeS2"])
def test_the_books_theory_follows_from_the_equations(mineral: str) -> None:
    """Page 98: pyrite 8.6 to 12.9 (upper with ferric oxide), blende 6.4 to 8.5, stibnite 5.5 to 8 (upper with Sb2O4),
    galena 2.6 to 3.4. Farthest off: stibnite, 8 for 7.93."""
    dioxide, sulphate = _equations(mineral)
    low, high, _ = THEORY[mineral]
    assert _follows(low, dioxide)
    assert _follows(high, sulphate)


def test_the_books_limits_for_chalcopyrite_do_not_reproduce() -> None:
    """Page 98: 7.5 to 11.6. CuFeS2 gives 6.2, 6.8 and 7.3 to dioxide, and 8.5, 9.0 and 9.6 to sulphate, by the oxides
    of copper and iron; no equation gives 7.5, and even the highest oxides and all sulphate leave 11.6 out of reach.
    The book's own fusions, 6.5 to 8.9 a gram on p. 97, fit 6.2 to 9.6."""
    dioxide, sulphate = _equations("CuFeS2")
    low, high, _ = THEORY["CuFeS2"]
    assert dioxide == pytest.approx([6.21, 6.77, 7.34], abs=0.006)
    assert sulphate == pytest.approx([8.47, 9.03, 9.60], abs=0.006)
    assert not _follows(low, dioxide + sulphate)
    assert not _follows(high, dioxide + sulphate)
    assert high > max(sulphate) + 1.9


@pytest.mark.parametrize("mineral", ["FeS2", "CuFeS2", "ZnS"])
def test_the_same_ore_with_and_without_soda(mineral: str) -> None:
    """Page 98: 3 g of an ore gave 16.5 g of lead with litharge alone and 22.5 g with 20 g of soda: 0.733 of it.

    The ore is not named; pyrite gives 0.714, chalcopyrite 0.733, blende 0.750.
    """
    alone = sulphide_lead({mineral: 3.0}, melt(0.0, soda=0.0, borax=0.0)).lead
    with_soda = sulphide_lead({mineral: 3.0}, melt(0.0, borax=0.0)).lead
    assert alone / with_soda == pytest.approx(16.5 / 22.5, abs=0.02)


@pytest.mark.parametrize(
    ("red_lead", "flour", "book", "miss"),
    [(40.0, 3.0, 25.0, 0.62), (100.0, 3.0, 13.5, 0.15), (80.0, 4.0, 30.0, -1.16), (80.0, 5.0, 40.0, 0.04)],
)
def test_buttons_from_red_lead_and_flour(red_lead: float, flour: float, book: float, miss: float) -> None:
    """Page 95, trials: the balance of the whole pot, red lead as two parts of Pb3O4 to one of PbO; misses +0.6, +0.2,
    -1.2 and 0.0 g. The third is out of line in the book too: its own rule gives 28 for the 30."""
    pool = {"Pb3O4": 0.66 * red_lead, "PbO": 0.34 * red_lead}
    found = redox_balance({}, pool, melt(0.0), [Reducer("flour", flour, 11.2, 10.0, 12.0)])
    assert found.lead - book == pytest.approx(miss, abs=0.01)
    assert found.lead_low <= book <= found.lead_high


RED_LEAD = 80.0
NITRE_TABLE = {6.0: 4.0, 9.0: 9.0, 12.0: 14.0, 15.0: 19.0, 18.0: 24.0, 21.0: 29.0}
"""Page 96: nitre [g] for lead [g] of the trial."""
NITRE_MISSES = {6.0: -2.81, 9.0: -2.07, 12.0: -1.41, 15.0: -0.85, 18.0: -0.39, 21.0: 0.01}


def _pyrite(trial: float) -> float:
    """Share of pyrite in an ore of quartz of which 3 g with 3 g of soda in 50 g of litharge throw down a lead [g]."""

    def thrown(pyrite: float) -> float:
        return litharge_fusion({"FeS2": pyrite}, melt(3.0 - pyrite, soda=3.0, borax=0.0), 50.0).lead

    return float(brentq(lambda grams: thrown(grams) - trial, 0.0, 3.0)) / 3.0


def _nitre(trial: float) -> float:
    """Nitre for a button of 20 g from ore 20, red lead 80, soda 20, borax 5 [g]."""
    pyrite = _pyrite(trial)
    return nitre_for_button(20.0, {"FeS2": 20.0 * pyrite}, melt(20.0 * (1.0 - pyrite)), other=-RED_LEAD / 5.0)


def test_nitre_after_a_trial_fusion_of_a_pyritic_ore() -> None:
    """Page 96, the trial read by the model backwards, as pyrite in quartz, and the main charge forwards.

    The model says less than the book by 2.8 g at 6 g of lead, 2.1, 1.4, 0.8, 0.4 and none at 21: rms 1.58 g. It is no
    proof that they meet at 21: the model starts lower and climbs by 5.4 to 5.7 g a step where the book climbs by 5.
    """
    found = {trial: _nitre(trial) - nitre for trial, nitre in NITRE_TABLE.items()}
    off = np.array(list(found.values()))
    assert found == pytest.approx(NITRE_MISSES, abs=0.01)
    assert rms(off) < 1.59
    assert worst(off) < 2.82


def test_the_nitre_for_a_trial_of_six_does_not_reproduce() -> None:
    """Page 96 gives 4.0 g, the model 1.2 g, and so does the book's own arithmetic: 1.0 g.

    By p. 95 red lead 80 and a button of 20 ask for 16 + 20 = 36 g of lead; the flour column, 3.3 at nought, is 36/11.
    The ore of a trial of 6 throws down 40: 4 too much, or a gram of nitre at 4.0. The nitre column takes 24 for the 36
    instead and so leaves a button of 8; that it does is worked out here, why is not told in the book.
    """
    by_the_book = (20.0 * 6.0 / 3.0 - (RED_LEAD / 5.0 + 20.0)) / 4.0
    assert by_the_book == pytest.approx(1.0)
    assert _nitre(6.0) == pytest.approx(1.2, abs=0.02)
    assert abs(_nitre(6.0) - by_the_book) < 0.2
    assert abs(_nitre(6.0) - NITRE_TABLE[6.0]) > 2.5
    assert all((20.0 * trial / 3.0 - 24.0) / 4.0 == pytest.approx(nitre) for trial, nitre in NITRE_TABLE.items())


@pytest.mark.parametrize(("trial", "flour", "miss"), [(0.0, 3.3, -0.03), (3.0, 1.3, 0.15)])
def test_flour_after_a_trial_fusion_that_gave_little(trial: float, flour: float, miss: float) -> None:
    """Page 96, the other end of the table: the model 3.27 for 3.3 and 1.45 for 1.3 g, a gram throwing down 11."""
    pyrite = _pyrite(trial)
    pool = {"Pb3O4": 0.66 * RED_LEAD, "PbO": 0.34 * RED_LEAD}
    there = melt(20.0 * (1.0 - pyrite))
    balance = redox_balance({"FeS2": 20.0 * pyrite} if pyrite > 0.0 else {}, pool, there)
    wanting = wanting_for_button(20.0, balance, there, 11.0)
    assert wanting.nitre == 0.0
    assert wanting.reducer - flour == pytest.approx(miss, abs=0.006)


def test_nitre_keeps_up_what_the_book_found() -> None:
    """Page 98: a gram of nitre keeps up 3.2 g of lead in an acid slag, 4.0 g on the average, 5.3 g in a very basic one.

    The first is taken from there, so that only the other two are checks. Over the fusions the model's mean is 3.92; its
    most, in a melt without acid, is 4.41, and the book's 5.3, which is more than the 5.12 that nitre holds, is not met.
    """
    assert nitrate_power("KNO3", Melt(0.0, 1.0)) == pytest.approx(3.2)
    mean = np.mean([nitrate_power("KNO3", melt(f.quartz, f.nitre)) for f in FUSIONS])
    assert mean == pytest.approx(4.0, abs=0.085)
    assert nitrate_power("KNO3", Melt(1.0, 0.0)) == pytest.approx(4.41, abs=0.006)


def test_flour_for_a_button() -> None:
    """Page 95: flour = (red lead/5 + button)/11."""
    assert flour_for_button(20.0, 80.0 / 5.0, 11.0) == pytest.approx(3.27, abs=0.005)


def test_eighty_of_litharge_cannot_give_more_lead_than_it_holds() -> None:
    most = LITHARGE / LITHARGE_PER_LEAD
    assert litharge_fusion({"FeS2": 20.0}, melt(0.0), LITHARGE).lead == pytest.approx(most)
    assert most == pytest.approx(74.3, abs=0.05)
