"""The lead that the solver reckons with follows own constants of sulphate and nitre as the pot does."""

import numpy as np
import pytest

from fluxlab.design.balance import balance
from fluxlab.design.charge import fluxes
from fluxlab.design.lead_law import burnt_feed, lead_of_feed, nitrate_rows, with_nitre
from fluxlab.design.pot_figures import own_tables
from fluxlab.design.recipe import Line
from fluxlab.fusion.melt import Melt, melt_of
from fluxlab.fusion.nitre import nitre_efficiency
from fluxlab.fusion.sulphate_many import nitre_shares
from fluxlab.fusion.tables import shipped_tables
from tests.works import DIRTY, with_lines, work_of

OWN = own_tables((("nitre_power", 4.9), ("nitre_rise", 50.0), ("sulphate_constant", 20.0)))
WORK = work_of(DIRTY, "lead collection", pot_feed="concentrate")
NITRED = with_lines(WORK, *WORK.recipe.lines, Line("nitre", 10.0))


def test_own_constants_move_the_lead_of_the_feed_and_no_constants_leave_it() -> None:
    found = balance(NITRED)
    melt = melt_of(found.whole)
    assert lead_of_feed(found.feed, melt, OWN) > lead_of_feed(found.feed, melt)
    assert lead_of_feed(found.feed, melt, shipped_tables()) == lead_of_feed(found.feed, melt)
    assert burnt_feed(found.feed, melt, OWN).held.alkali > burnt_feed(found.feed, melt).held.alkali


def test_own_nitre_keeps_up_as_much_lead_in_the_rows_as_it_does_in_the_pot() -> None:
    rows, melt = fluxes(NITRED), Melt(0.2, 1.0)
    i = [line.flux for line in rows.lines].index("nitre")
    each = nitrate_rows(rows, NITRED.shelf)
    shipped, own = (with_nitre(rows, each, melt, tables).power[i] for tables in (None, OWN))
    assert own / shipped == pytest.approx(nitre_efficiency(melt, OWN.nitre).value / nitre_efficiency(melt).value)


def test_the_nitre_of_many_charges_is_that_of_each_also_where_all_of_it_works() -> None:
    alkali, acid = np.array([0.0, 0.1, 0.4, 1.0, 0.0]), np.array([1.0, 1.0, 0.8, 0.0, 0.0])
    for constants in (None, OWN.nitre):
        one_by_one = [nitre_efficiency(Melt(a, b), constants).value for a, b in zip(alkali, acid, strict=True)]
        assert nitre_shares(alkali, acid, constants) == pytest.approx(one_by_one)
    assert nitre_shares(alkali, acid, OWN.nitre).max() == 1.0
