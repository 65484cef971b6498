"""Heap, melt, metal under slag, marks and freeboard."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.vessel.filling import layers, marks, slag_for_cover, stand
from fluxlab.vessel.profile import stack
from fluxlab.vessel.sections import spherical_cap, straight_wall

POT = stack(straight_wall(30.0, 44.0, 105.0))
ROUND_POT = stack(spherical_cap(30.0, 12.0), straight_wall(30.0, 44.0, 93.0))
CYLINDER = stack(straight_wall(20.0, 20.0, 100.0))


def test_a_full_pot_stands_at_its_rim() -> None:
    full = stand(POT, POT.brim)
    assert (full.fraction, full.from_rim, full.over) == (1.0, pytest.approx(0.0, abs=1e-9), 0.0)


def test_an_over_full_pot_says_by_how_much() -> None:
    heap = stand(CYLINDER, 1.25 * CYLINDER.brim)
    assert heap.fraction == pytest.approx(1.25)
    assert heap.over == pytest.approx(0.25 * CYLINDER.brim)
    assert heap.level == pytest.approx(125.0)
    assert heap.from_rim == pytest.approx(-25.0)


def test_marks_are_halves_and_thirds_of_the_volume_not_of_the_depth() -> None:
    lines = marks(POT)
    assert POT.volume(lines.half) == pytest.approx(POT.brim / 2.0)
    assert POT.volume(lines.two_thirds) == pytest.approx(POT.brim * 2.0 / 3.0)
    assert lines.half > POT.depth / 2.0


def test_slag_lies_on_the_metal() -> None:
    pot = layers(CYLINDER, 4.0 * math.pi, 8.0 * math.pi)
    assert pot.metal.level == pytest.approx(10.0)
    assert pot.cover == pytest.approx(20.0)
    assert pot.whole.level == pytest.approx(30.0)
    assert pot.freeboard == pytest.approx(70.0)


def test_no_metal_leaves_the_whole_melt_as_cover() -> None:
    pot = layers(ROUND_POT, 0.0, 50.0)
    assert pot.metal.level == 0.0
    assert pot.cover == pot.whole.level


@given(metal=st.floats(0.0, 60.0), cover=st.floats(0.0, 60.0))
def test_the_slag_for_a_cover_gives_that_cover(metal: float, cover: float) -> None:
    slag = slag_for_cover(ROUND_POT, metal, cover)
    assert layers(ROUND_POT, metal, slag).cover == pytest.approx(cover, abs=1e-6)
