"""The whole pot against buttons of C. and J. J. Beringer, A Text-Book of Assaying, 9th ed., Griffin, London 1904."""

from math import sqrt

import pytest

from fluxlab.fusion.pot import in_the_pot
from fluxlab.fusion.pot_types import FusionCharge, InThePot
from fluxlab.fusion.redox_types import Reducer
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import formula
from fluxlab.materials.oxides import from_masses

SODA = formula("Na2O").mass / (2.0 * formula("NaHCO3").mass)
"""Na2O of the book's soda, which is bicarbonate [g/g]."""
BORAX = formula("Na2B4O7·10H2O").mass


def lead_ore(iron: float) -> InThePot:
    """Page 212: 25 g of a galena ore of 73.3 % lead with soda 25, tartar 2 and an iron rod; the rest is taken as
    quartz."""
    lead = 25.0 * 0.733
    galena = lead / formula("PbS").mass_fractions["Pb"]
    return in_the_pot(
        FusionCharge(
            route="iron",
            charge=25.0,
            elements={"Pb": lead, "S": galena - lead, "Fe": iron},
            slag=from_masses({"SiO2": 25.0 - galena, "Na2O": 25.0 * SODA, "K2O": 0.5}),
            sulphides={"PbS": galena},
            reducers=(Reducer("tartar", 2.0, 5.0, 4.5, 6.5),),
            iron=iron,
            pour=1000.0,
        )
    )


LEAD_MISSES = {6.0: -0.51, 10.0: -0.50, 15.0: -0.50}
"""Lead of the button less that of the book, by the iron taken [g]; the book does not say how heavy its rod was."""


def test_lead_of_a_galena_with_an_iron_rod() -> None:
    """Page 212: buttons of 17.5 and 17.6 g, 95 to 96 % of the lead by wet assay, 18.3 g.

    Not free of the book: the 94 % of lead that come down with iron are by this page. The likeliest figure is too low by
    0.5 g, 3 %, for drops are taken off once more; the iron taken hardly counts once there is enough of it. The range
    holds the book's buttons.
    """
    found = {iron: _lead(iron) for iron in LEAD_MISSES}
    misses = {iron: of.value - 17.55 for iron, of in found.items()}
    assert misses == pytest.approx(LEAD_MISSES, abs=0.01)
    assert sqrt(sum(miss**2 for miss in misses.values()) / 3.0) < 0.51
    assert max(abs(miss) for miss in misses.values()) < 0.52
    assert all(of.low < 17.5 < 17.6 < of.high for of in found.values())


def _lead(iron: float) -> Estimate:
    return next(part.grams for part in lead_ore(iron).bullion.parts if part.symbol == "Pb")


def test_iron_leaves_no_lead_in_the_matte() -> None:
    found = lead_ore(8.0)
    assert found.bullion.ends.matte.metals.get("Pb", 0.0) == 0.0
    assert found.bullion.ends.matte.metals["Fe"] == pytest.approx(25.0 * 0.733 / 207.2 * 55.845, rel=1e-3)


def silver_ore() -> InThePot:
    """Page 90: 20 g of an average silver ore with soda 30, red lead 40, borax 5 and flour 2.25; the ore taken as quartz
    with the silver of page 115, 0.3036 g in 20 g."""
    red_lead = {"Pb3O4": 0.66 * 40.0, "PbO": 0.34 * 40.0}
    lead = sum(g * formula(s).mass_fractions["Pb"] for s, g in red_lead.items())
    boric, soda = 5.0 * 2.0 * formula("B2O3").mass / BORAX, 5.0 * formula("Na2O").mass / BORAX
    return in_the_pot(
        FusionCharge(
            route="lead collection",
            charge=20.0,
            elements={"Pb": lead, "Ag": 0.3036},
            slag=from_masses({"SiO2": 19.7, "Na2O": 30.0 * SODA + soda, "B2O3": boric, "PbO": lead * 1.0772}),
            reducible=red_lead,
            flux_lead=lead,
            reducers=(Reducer("flour", 2.25, 11.2, 10.0, 12.0),),
            wanted_lead=20.0,
        )
    )


def test_a_button_about_as_heavy_as_the_ore() -> None:
    """Page 90: a button of 18 to 25 g is what 20 g of ore want; page 95: a gram of lead less for 5 g of red lead.

    The lead is 17.2 g as by p. 95, and so is the likeliest button with the silver and without what hangs in the slag:
    0.8 g below the least of p. 90, which the range holds.
    """
    found = silver_ore()
    assert found.redox.lead == pytest.approx(2.25 * 11.2 - 40.0 / 5.0, abs=0.03)
    assert found.bullion.mass.value == pytest.approx(18.0 - 0.83, abs=0.01)
    assert found.bullion.mass.low < 18.0 < found.bullion.mass.high


def test_silver_that_stays_in_the_slag_of_a_pot_assay() -> None:
    """Page 115: of 0.3036 g of silver 0.0060 g, 2.0 %, came out of the cleaned slag; the pot says 0.0065 g."""
    silver = silver_ore().bullion.silver
    assert silver is not None
    low, high = silver.drops.low + silver.slag.low, silver.drops.high + silver.slag.high
    assert low < 0.0060 < high
    assert silver.drops.value + silver.slag.value == pytest.approx(0.0060, abs=0.00051)
