"""The melt is as large in the pot and the mould as it is when it is poured."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fluxlab.design.balance import balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.pour_volume import pour_density, pour_volume, volume_factor, volume_factors
from fluxlab.design.recipe import Target
from fluxlab.materials.oxides import INDEX, MASS, SIZE
from fluxlab.slag.density import melt_density, melt_volume
from fluxlab.slag.hot_density import density_at
from tests.works import CLEAN, DIRTY, with_target, work_of

SLAG = balance(work_of()).n


def test_a_slag_within_the_evidence_has_its_fitted_density_with_its_range() -> None:
    told, hot = pour_density(SLAG, 1150.0), density_at(SLAG, 1150.0)
    assert told is not None
    assert (told.value, told.low, told.high) == pytest.approx(tuple(map(float, (hot.value, hot.low90, hot.high90))))


def test_a_slag_that_nothing_is_known_of_has_its_volumes_added() -> None:
    lime = np.zeros(SIZE)
    lime[INDEX["CaO"]] = 1.0
    assert pour_volume(lime, 1150.0) == melt_volume(lime)
    told, added = pour_density(lime, 1150.0), melt_density(lime)
    assert told is not None
    assert added is not None
    assert told.value == pytest.approx(added.value, rel=1e-12)
    assert volume_factor(np.zeros(SIZE), 1150.0) == 1.0
    assert pour_density(np.zeros(SIZE), 1150.0) is None


def test_many_slags_at_once_swell_as_each_alone() -> None:
    odd = np.zeros(SIZE)
    odd[INDEX["CaO"]] = 1.0
    slags = np.vstack((SLAG, SLAG + 5.0 * odd, SLAG + 0.3 * odd, odd, np.zeros(SIZE)))
    alone = [volume_factor(n, 1420.0) for n in slags]
    assert volume_factors(slags, 1420.0) == pytest.approx(alone, rel=1e-12)
    assert alone[0] != pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize("oxide", ["FeO", "PbO", "CaO", "CaF2", "SiO2"])
def test_the_volume_never_jumps_on_the_way_out_of_the_evidence(oxide: str) -> None:
    def factor(t: float) -> float:
        n = SLAG * MASS / float(SLAG @ MASS) * (1.0 - t)
        n[INDEX[oxide]] += t
        return volume_factor(n / MASS, 1150.0)

    low, high = 0.0, 1.0
    at = np.linspace(low, high, 201)
    steps = [abs(factor(b) - factor(a)) for a, b in pairwise(at)]
    i = int(np.argmax(steps))
    low, high = at[i], at[i + 1]
    for _ in range(30):
        middle = 0.5 * (low + high)
        if abs(factor(middle) - factor(low)) > abs(factor(high) - factor(middle)):
            high = middle
        else:
            low = middle
    assert abs(factor(high) - factor(low)) < 1e-6


@pytest.mark.parametrize("ore", [CLEAN, DIRTY], ids=["clean", "dirty"])
@pytest.mark.parametrize("route", ["roast and melt", "iron"])
def test_pot_mould_and_slag_agree_on_the_volume(ore: object, route: str) -> None:
    report = evaluate(work_of(ore, route))  # type: ignore[arg-type]
    assert report.fill is not None
    assert report.mould is not None
    volume, poured = report.slag.volume.value, report.mould
    setting = balance(report.work).setting
    assert report.fill.melt_volume - setting.metal_and_more == pytest.approx(volume, rel=1e-4)
    whole = poured.metal_volume + poured.speiss_volume + poured.matte_volume + poured.slag_volume
    assert whole == pytest.approx(report.fill.melt_volume, rel=1e-9)
    assert report.slag.mass / report.slag.density.value == pytest.approx(volume, rel=1e-9)


def test_a_cover_that_binds_is_that_of_the_melt_as_poured() -> None:
    work = with_target(work_of(), Target("cover", lo=30.0))
    work = with_target(work, replace(next(t for t in work.recipe.targets if t.key == "flux_to_ore"), on=False))
    found = balance(work)
    pot, metal = found.setting.pot, found.setting.cover_metal
    assert pot is not None
    without_lead = found.n.copy()
    without_lead[[INDEX["PbO"], INDEX["Cu2O"]]] = 0.0
    melt = melt_volume(without_lead).value * volume_factor(found.n, 1150.0)
    assert pot.level(metal + melt) - pot.level(metal) == pytest.approx(30.0, abs=1e-3)
