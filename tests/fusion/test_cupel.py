"""What a cupel makes of a lead button.

Published figures: C. Beringer and J. J. Beringer, A Text-book of Assaying, 1904, pp. 102, 103 and 142.
"""

import pytest

from fluxlab.fusion.cupel import LEAST_LEAD, CupelAdvice, cupel_advice, cupel_data
from fluxlab.materials.estimate import Estimate


def advice(lead: float, silver: float = 0.1, **others: float) -> CupelAdvice:
    found = cupel_advice({"Pb": lead, "Ag": silver, **others})
    assert found is not None
    return found


def loss(lead: float, silver: float = 0.1, **others: float) -> Estimate:
    found = advice(lead, silver, **others).silver_loss
    assert found is not None
    return found


@pytest.mark.parametrize(("lead", "silver", "kept"), [(20.0, 0.4, 1.7), (20.0, 0.05, 3.2), (10.0, 0.4, 1.574)])
def test_silver_that_a_cupel_costs(lead: float, silver: float, kept: float) -> None:
    """Beringer, p. 102."""
    assert loss(lead, silver).value == pytest.approx(kept, abs=0.005)


def test_heat_alone_moves_the_loss_from_bright_red_to_clear_yellow() -> None:
    """Beringer, p. 102: 1.75 and 4.32 %."""
    found = loss(20.0, 0.4)
    assert found.low == pytest.approx(found.value)
    assert found.high / found.value == pytest.approx(4.32 / 1.75)


@pytest.mark.parametrize(("metal", "kept"), [("Cu", 4.9), ("Sb", 3.2)])
def test_copper_and_antimony_cost_silver(metal: str, kept: float) -> None:
    """Beringer, p. 103: half a gram in 20 g of lead with 0.1 g of silver, 2.9 % without."""
    assert loss(20.0).value == pytest.approx(2.9)
    assert loss(20.0, **{metal: 0.5}).value == pytest.approx(kept)
    assert 2.9 < loss(20.0, **{metal: 0.2}).value < kept


@pytest.mark.parametrize("metal", ["Cu", "Sb"])
def test_more_base_metal_than_was_measured_is_scorified_first_and_the_loss_is_a_least_one(metal: str) -> None:
    within, over = advice(20.0, **{metal: 0.5}), advice(20.0, **{metal: 5.0})
    assert within.beyond == ()
    assert not within.scorify
    assert over.beyond == (metal,)
    assert over.scorify
    assert loss(20.0, **{metal: 5.0}).value == pytest.approx(loss(20.0, **{metal: 0.5}).value)
    assert loss(20.0, **{metal: 5.0}).high > loss(20.0, **{metal: 0.5}).high


@pytest.mark.parametrize("lead", [1.0, 8.0, 20.0, 35.0, 59.0, 200.0])
@pytest.mark.parametrize("silver", [1e-4, 0.03, 0.4, 2.0, 50.0])
@pytest.mark.parametrize("copper", [0.0, 0.3, 40.0])
def test_the_loss_lies_in_its_range_and_under_all_of_the_silver(lead: float, silver: float, copper: float) -> None:
    found = loss(lead, silver, Cu=copper)
    assert 0.0 < found.low <= found.value <= found.high <= 100.0


def test_what_lies_beyond_the_series_is_told_and_reaches_lower() -> None:
    assert not advice(20.0, 0.8).extrapolated
    for lead, silver in ((20.0, 0.81), (20.0, 0.01), (9.0, 0.4)):
        assert advice(lead, silver).extrapolated, (lead, silver)
    assert loss(20.0, 3.2).value == pytest.approx(loss(20.0, 0.8).value)
    assert loss(20.0, 3.2).low == pytest.approx(loss(20.0, 0.8).low * (1.2 / 1.7) ** 2)


def test_that_the_series_multiply_is_no_more_than_likely() -> None:
    """Lead over 20 g may cost a small silver nothing more: the low end is the loss in 20 g."""
    assert loss(30.0, 0.05).low == pytest.approx(3.2)
    assert loss(30.0, 0.05).value == pytest.approx(3.2 * (1.75 + 3.00) / 2.0 / 1.75)


def test_the_cupel_is_sized_by_the_lead_and_not_by_what_else_is_in_the_button() -> None:
    """Beringer, p. 142: its own weight of lead."""
    assert advice(28.0, 5.0, Cu=0.3).cupel == 28.0


def test_a_button_with_over_thirty_grams_of_lead_is_scorified_first() -> None:
    assert advice(31.0).scorify
    assert advice(31.0).cupel == advice(200.0).cupel == 30.0
    assert loss(59.0, Cu=0.59).value == pytest.approx(loss(30.0, Cu=0.3).value)
    assert not advice(28.0).scorify
    assert not advice(28.0, 4.0).scorify


def test_a_button_without_lead_worth_it_gets_no_cupel() -> None:
    assert cupel_advice({}) is None
    assert cupel_advice({"Pb": 0.2, "Ag": 0.01}) is None
    assert cupel_advice({"Pb": 0.99 * LEAST_LEAD, "Cu": 20.0}) is None
    assert cupel_advice({"Pb": LEAST_LEAD}) is not None


def test_without_silver_no_loss_of_silver_is_told() -> None:
    assert advice(20.0, 0.0).silver_loss is None
    assert not advice(20.0, 0.0).extrapolated


def test_what_is_judgement_and_what_is_extrapolated_is_called_so() -> None:
    table = cupel_data()
    assert "judgement" in table["together"]["source"]
    assert "extrapolated" in table["together"]["beyond_source"]
    assert all("found" in table[row]["source"] for row in ("cupel", "loss", "loss_by_silver", "loss_by_heat", "base"))
