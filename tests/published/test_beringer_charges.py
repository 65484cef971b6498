"""Charges, rules and trials of C. and J. J. Beringer, A Text-Book of Assaying, 9th ed., Griffin, London 1904.

Weights [g] and lead buttons are the book's, with its printed pages; the degrees beside them were worked out apart from
this program. The book's soda is bicarbonate and its borax crystals. Its assay ton on p. 139 is worked at 29.1667 g.
"""

import pytest

from fluxlab.fusion.button import flour_for_button, nitre_for_excess
from fluxlab.fusion.currency import LITHARGE_PER_LEAD, theoretical_power
from fluxlab.fusion.demand import oxygen_demand
from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import BASE_OXYGENS, Vec, from_masses
from fluxlab.materials.substance import products
from fluxlab.slag.degree import degree
from tests.fusion.powers import power_limits

CRYSTALS = "Na2B4O7·10H2O"
FERROUS = 2.0 * 71.844 / 159.687
ASSAY_TON = 29.1667


def brings(substance: str, grams: float) -> Vec:
    found = formula(substance)
    return grams / found.mass * products(found).oxides


def borax_soda(crystals: float) -> float:
    return crystals / formula(CRYSTALS).mass


def both_degrees(charge: Vec, crystals: float) -> tuple[float | None, float | None]:
    """Degree by silica alone, borax left out, and by silica with boric oxide."""
    n = charge + brings(CRYSTALS, crystals)
    return degree(n, "S", borax_soda(crystals)), degree(n, "SB")


def flux_for_bisilicate(substance: str, quartz: float) -> float:
    """Flux [g] that makes a bisilicate of quartz [g] by the program's degree."""
    per_gram = degree(brings("SiO2", quartz) + brings(substance, 1.0), "S")
    assert per_gram is not None
    grams = per_gram / 2.0
    assert degree(brings("SiO2", quartz) + brings(substance, grams), "S") == pytest.approx(2.0)
    return grams


@pytest.mark.parametrize(
    ("substance", "book", "worked_out"), [("Na2CO3", 88.5, 88.2), ("NaHCO3", 140.0, 139.8), ("PbO", 186.0, 185.7)]
)
def test_flux_for_fifty_of_quartz(substance: str, book: float, worked_out: float) -> None:
    """Pages 136-137: sodium and lead silicate of the formula R2SiO3."""
    grams = flux_for_bisilicate(substance, 50.0)
    assert grams == pytest.approx(book, abs=0.4)
    assert grams == pytest.approx(worked_out, abs=0.06)


def test_two_of_soda_to_one_of_quartz_is_nearly_a_trisilicate() -> None:
    """Page 93: two parts of soda are enough for one of quartz; as bicarbonate that is a degree of about 2.8."""
    assert degree(brings("SiO2", 1.0) + brings("NaHCO3", 2.0), "S") == pytest.approx(2.8, abs=0.05)


def test_four_of_litharge_barely_do_for_one_of_quartz() -> None:
    """Page 93: four parts of borax or litharge are barely enough; a bisilicate of lead takes 3.7."""
    assert flux_for_bisilicate("PbO", 1.0) == pytest.approx(3.71, abs=0.01)
    made = degree(brings("SiO2", 1.0) + brings("PbO", 4.0), "S")
    assert made is not None
    assert 1.5 < made < 2.0


def test_borax_takes_up_its_own_weight_of_ferrous_oxide_as_a_sesquiborate() -> None:
    """Page 138: fused borax takes about its own weight; boric oxide counted as three oxygens makes that 1.58."""
    assert degree(brings("Na2B4O7", 1.0) + brings("FeO", 1.0), "SB") == pytest.approx(1.58, abs=0.005)


def test_quartz_gold_ore() -> None:
    """Pages 136-137: ore 50 (quartz), soda 100, litharge 75, borax 10, flour 4 of which each brings down 11 of lead."""
    left = 75.0 - 4.0 * 11.0 * LITHARGE_PER_LEAD
    assert left == pytest.approx(27.6, abs=0.01)
    charge = brings("SiO2", 50.0) + brings("NaHCO3", 100.0)
    by_silica, with_borate = both_degrees(charge + brings("PbO", left), 10.0)
    assert by_silica == pytest.approx(2.31, abs=0.006)
    assert with_borate == pytest.approx(2.45, abs=0.006)
    as_designed, _ = both_degrees(charge + brings("PbO", 35.0), 10.0)
    assert as_designed == pytest.approx(2.21, abs=0.006)


def test_flour_for_a_button_from_red_lead() -> None:
    """Page 95: flour = (red lead/5 + button)/11; red lead 80 and a button of 20 ask for 3.3 g."""
    assert flour_for_button(20.0, 80.0 / 5.0, 11.0) == pytest.approx(3.27, abs=0.005)


@pytest.mark.parametrize(
    ("red_lead", "flour", "book", "by_rule"),
    [(40.0, 3.0, 25.0, 25.0), (100.0, 3.0, 13.5, 13.0), (80.0, 4.0, 30.0, 28.0), (80.0, 5.0, 40.0, 39.0)],
)
def test_buttons_from_red_lead_and_flour(red_lead: float, flour: float, book: float, by_rule: float) -> None:
    """Page 95: four trials and what the rule gives for them."""
    assert flour_for_button(by_rule, red_lead / 5.0, 11.0) == pytest.approx(flour)
    assert flour_for_button(book, red_lead / 5.0, 11.0) == pytest.approx(flour, abs=0.19)


@pytest.mark.parametrize(
    ("trial", "nitre"), [(6.0, 4.0), (9.0, 9.0), (12.0, 14.0), (15.0, 19.0), (18.0, 24.0), (21.0, 29.0)]
)
def test_nitre_after_a_trial_fusion(trial: float, nitre: float) -> None:
    """Page 96: 3 g of ore in litharge; main charge ore 20, red lead 80. Red lead and button together ask for 24 g."""
    assert nitre_for_excess(20.0 * trial / 3.0, 24.0, 4.0) == pytest.approx(nitre, abs=1e-9)


@pytest.mark.parametrize(
    ("parts", "litharge", "charcoal", "button", "by_silica", "with_borate"),
    [(1.0, 1.5, 2.0, 26.3, 1.14, 1.88), (2.5, 4.0, 4.0, 43.1, 1.01, 1.69)],
)
def test_roasted_concentrate(
    parts: float, litharge: float, charcoal: float, button: float, by_silica: float, with_borate: float
) -> None:
    """Page 139: ore (half quartz, half ferric oxide), soda and borax in equal weights, litharge, charcoal."""
    ore = parts * ASSAY_TON
    ferric_keeps_up = ore / 2.0 * theoretical_power("Fe2O3", 1.0)
    lead = charcoal * 22.6 - ferric_keeps_up
    assert lead == pytest.approx(button, abs=0.06)
    charge = from_masses({"SiO2": ore / 2.0, "FeO": ore / 2.0 * FERROUS})
    charge += brings("NaHCO3", ore) + brings("PbO", litharge * ASSAY_TON - lead * LITHARGE_PER_LEAD)
    s, sb = both_degrees(charge, ore)
    assert s == pytest.approx(by_silica, abs=0.006)
    assert sb == pytest.approx(with_borate, abs=0.006)


@pytest.mark.parametrize(("lead", "by_silica", "with_borate"), [(0.0, 2.13, 2.28), (40.0, 2.43, 2.59)])
def test_cyanide_tailings(lead: float, by_silica: float, with_borate: float) -> None:
    """Page 140: tailings 100 (taken as quartz), litharge 150, soda 150, borax 25; before and after 40 g of lead."""
    charge = brings("SiO2", 100.0) + brings("NaHCO3", 150.0) + brings("PbO", 150.0 - lead * LITHARGE_PER_LEAD)
    s, sb = both_degrees(charge, 25.0)
    assert s == pytest.approx(by_silica, abs=0.006)
    assert sb == pytest.approx(with_borate, abs=0.006)


def test_oxide_ore_without_quartz() -> None:
    """Page 91: ore 20 (taken as ferric oxide), soda 15, borax 15, litharge 60, flour 5: workable far below mono."""
    lead = 5.0 * 11.0 - 20.0 * theoretical_power("Fe2O3", 1.0)
    assert lead == pytest.approx(29.0, abs=0.06)
    charge = from_masses({"FeO": 20.0 * FERROUS}) + brings("NaHCO3", 15.0)
    charge += brings("PbO", 60.0 - lead * LITHARGE_PER_LEAD)
    assert float(BASE_OXYGENS @ charge) == pytest.approx(0.468, abs=0.001)
    assert borax_soda(15.0) == pytest.approx(0.039, abs=0.0005)
    s, sb = both_degrees(charge, 15.0)
    assert s == 0.0
    assert sb == pytest.approx(0.465, abs=0.001)


@pytest.mark.parametrize(("mineral", "book_low", "book_high"), [
    ("FeS2", 8.6, None),
    ("ZnS", 6.4, 8.5),
    ("Sb2S3", 5.5, None),
    ("PbS", 2.6, 3.4),
])  # fmt: skip
def test_limits_of_the_reducing_power(mineral: str, book_low: float, book_high: float | None) -> None:
    """Page 98; upper limits that the book works with ferric oxide or higher antimony oxides are left out."""
    low, high = power_limits(mineral)
    assert low == pytest.approx(book_low, abs=0.05)
    if book_high is not None:
        assert high == pytest.approx(book_high, abs=0.07)


def test_eighty_of_litharge_cannot_give_more_lead_than_it_holds() -> None:
    assert pytest.approx(74.3, abs=0.05) == 80.0 / LITHARGE_PER_LEAD


def test_ferric_oxide_keeps_up_a_little_more_than_its_weight_of_lead_and_manganese_twice_that() -> None:
    """Page 91: ferric oxide just above its own weight, manganese dioxide twice as much; 1.298 and 2.383 worked out."""
    assert theoretical_power("Fe2O3", 1.0) == pytest.approx(1.298, abs=0.001)
    assert theoretical_power("MnO2", 1.0) == pytest.approx(2.383, abs=0.001)
    assert oxygen_demand("MnO2") / oxygen_demand("Fe2O3") == pytest.approx(1.84, abs=0.01)
