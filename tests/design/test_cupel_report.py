"""What the report says of the cupel."""

from fluxlab.design.pot_metal_report import cupel_report
from fluxlab.design.pot_types import CupelReport
from fluxlab.fusion.cupel import cupel_advice


def told(**metals: float) -> CupelReport:
    found = cupel_report(cupel_advice(metals))
    assert found is not None
    return found


def test_the_loss_stands_with_its_range_and_the_cupel_is_for_the_lead() -> None:
    found = told(Pb=20.0, Ag=0.4)
    assert found.silver_loss_percent is not None
    assert (found.silver_loss_percent.low, found.silver_loss_percent.high) != (None, None)
    assert found.sentence == (
        "A cupel of at least 20 g, for the lead; "
        "it keeps about 1.7 % of the silver (1.7 to 4.2 %, the more the hotter)."
    )
    assert "judgement" in found.source
    assert "extrapolated" not in found.source


def test_copper_and_antimony_of_the_button_are_named() -> None:
    found = told(Pb=25.0, Ag=0.1, Cu=0.3, Sb=0.1)
    assert "0.30 g of copper and 0.10 g of antimony" in found.sentence
    assert "scorify" not in found.sentence


def test_much_copper_is_scorified_first_and_the_loss_is_a_least_one() -> None:
    found = told(Pb=59.0, Ag=0.2, Cu=16.6)
    assert found.scorify
    assert "at least" in found.sentence.partition(";")[2]
    assert "16.6 g of copper" in found.sentence
    assert "scorify it with more lead first" in found.sentence


def test_what_lies_beyond_what_was_measured_is_called_extrapolated() -> None:
    found = told(Pb=40.0, Ag=3.0)
    assert "beyond what was measured" in found.sentence
    assert "extrapolated" in found.source


def test_a_heavy_button_is_scorified_down_first() -> None:
    found = told(Pb=45.0, Ag=0.2)
    assert found.sentence.startswith(
        "The button is too heavy to cupel: scorify it down to 30 g first. A cupel of at least"
    )
    assert (found.cupel, found.scorify) == (30.0, True)
    assert found.silver_loss_percent == told(Pb=30.0, Ag=0.2).silver_loss_percent


def test_without_silver_the_cupel_alone_is_told() -> None:
    found = told(Pb=28.0)
    assert found.silver_loss_percent is None
    assert found.sentence == "A cupel of at least 28 g, for the lead."
    assert "silver" not in found.source


def test_a_button_without_lead_worth_it_gets_no_advice() -> None:
    assert cupel_report(cupel_advice({"Pb": 0.21, "Ag": 0.01})) is None
    assert cupel_report(None) is None
