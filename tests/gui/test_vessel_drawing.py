"""The drawn sections: true to the measured shape, all inside their canvas, the same every time."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from fluxlab.design.evaluate import evaluate
from fluxlab.design.start import demo_work
from fluxlab.gui import theme
from fluxlab.gui.bridge import Bench
from fluxlab.gui.tokens import DARK, LIGHT
from fluxlab.gui.vessel.frame import Frame, filling, heap
from fluxlab.gui.vessel.from_report import mould_drawing, pot_drawing, words_of
from fluxlab.gui.vessel.from_rim import side_room
from fluxlab.gui.vessel.mould import draw_mould, shorter, words_beside
from fluxlab.gui.vessel.pot import draw_pot, headroom
from fluxlab.gui.vessel.scale import COARSEST, FINEST, common_scale
from fluxlab.gui.vessel.shape import Shape, mould_shape, pot_shape
from fluxlab.gui.vessel.view import LOWEST, VesselView
from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.mould import mould_profile
from fluxlab.vessel.vessel_types import Crucible, Mould
from tests.ticket_samples import MOULD, POT, sample_report

POTS = {
    "flat": POT,
    "cap": Crucible("pot", "Cap", 30.0, 44.0, 105.0, bottom="cap", bottom_depth=14.0),
    "ellipsoid": Crucible("pot", "Ellipsoid", 30.0, 44.0, 105.0, bottom="ellipsoid", bottom_depth=25.0),
    "barrel": Crucible("pot", "Barrel", 28.0, 38.0, 105.0, bottom="barrel", bilge_radius=46.0),
    "straight": Crucible("pot", "Tube", 40.0, 40.0, 90.0),
    "measured": Crucible("pot", "Measured", 30.0, 44.0, 105.0, measured_volume=480.0),
}
MOULDS = {
    "cone": MOULD,
    "sharp": Mould("mould", "Sharp", 15.0, 110.0, 0.0),
    "frustum": Mould("mould", "Frustum", 20.0, 90.0, 8.0, 40.0, 8.0, "frustum"),
    "paraboloid": Mould("mould", "Paraboloid", 20.0, 90.0, 8.0, 40.0, 8.0, "paraboloid"),
    "wide": Mould("mould", "Wide", 40.0, 60.0, 10.0),
}


def section(name: str) -> tuple[Shape, object, float]:
    """A vessel's drawn section, its profile and its wall."""
    if name in POTS:
        return pot_shape(POTS[name]), crucible_profile(POTS[name])[0], POTS[name].wall
    return mould_shape(MOULDS[name]), mould_profile(MOULDS[name])[0], MOULDS[name].wall


def revolved(path, frame: Frame) -> float:
    """Volume of a right-hand outline turned about the axis [cm3], by Pappus' second theorem on its triangles."""
    points = [((p.x() - frame.axis) / frame.scale, (frame.floor - p.y()) / frame.scale) for p in path.toFillPolygon()]
    total = 0.0
    for (r0, z0), (r1, z1) in pairwise(points):
        total += (r0 * r0 + r0 * r1 + r1 * r1) * (z1 - z0)
    return abs(math.pi * total / 3.0) / 1000.0


@pytest.mark.parametrize("name", [*POTS, *MOULDS])
def test_the_drawn_inside_is_the_measured_inside(name):
    shape, profile, _ = section(name)
    assert shape.depth == pytest.approx(profile.depth)
    for part in range(101):
        z = shape.depth * part / 100.0
        assert shape.radius(z) == pytest.approx(profile.radius(z), abs=0.02 * profile.rim_radius)


@pytest.mark.parametrize("name", [*POTS, *MOULDS])
def test_the_drawn_wall_is_nowhere_thinner_than_the_wall_that_was_entered(name):
    shape, profile, wall = section(name)
    for part in range(101):
        z = shape.depth * part / 100.0
        assert shape.outer_radius(z) - profile.radius(z) > 0.85 * wall
    assert shape.foot >= 0.99 * (POTS[name].base if name in POTS else wall)


@pytest.mark.parametrize("name", [*POTS, *MOULDS])
@pytest.mark.parametrize("share", [0.05, 0.3, 0.5, 0.9, 1.0])
def test_what_stands_in_a_vessel_is_drawn_with_its_volume(name, share):
    shape, profile, _ = section(name)
    frame = Frame(500.0, 900.0, 4.0)
    volume = share * profile.brim
    drawn = filling(frame, shape, 0.0, profile.level(volume), (1.0,))
    assert revolved(drawn, frame) == pytest.approx(volume, rel=0.01)


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8])
def test_a_heap_holds_as_much_as_the_level_that_it_stands_for(share):
    shape, profile, _ = section("straight")
    frame = Frame(500.0, 900.0, 4.0)
    level = profile.level(share * profile.brim)
    drawn = heap(frame, shape, level, 4.0, (1.0,), 10.0)
    assert revolved(drawn, frame) == pytest.approx(share * profile.brim, rel=0.01)


def test_a_heap_over_the_rim_rises_from_the_rim_no_higher_than_there_is_room():
    shape, _, _ = section("flat")
    frame = Frame(500.0, 900.0, 4.0)
    drawn = heap(frame, shape, shape.depth + 40.0, 3.0, (1.0, -1.0), 5.0).boundingRect()
    assert drawn.top() == pytest.approx(frame.y(shape.depth + 5.0), abs=0.1)
    assert drawn.right() == pytest.approx(frame.x(shape.rim_radius), abs=0.1)


def test_dimensions_that_make_no_vessel_are_not_drawn():
    assert pot_shape(Crucible("p", "None", 0.0, 44.0, 105.0)) is None
    assert mould_shape(Mould("m", "None", half_angle=0.0)) is None


def test_the_scale_is_the_largest_that_fits_in_steps_of_a_twentieth():
    scale = common_scale((104.0, 95.0), (115.0, 112.0), 214.0, 480.0)
    assert scale == pytest.approx(2.05)
    assert scale * 104.0 <= 214.0
    assert scale * 227.0 <= 480.0
    assert (scale + 0.05) * 104.0 > 214.0


@pytest.mark.parametrize(("wide", "high", "expected"), [(9000.0, 9000.0, COARSEST), (10.0, 9000.0, FINEST)])
def test_the_scale_stays_within_what_can_be_read(wide, high, expected):
    assert common_scale((104.0,), (115.0,), wide, high) == expected


CASES = {
    "usual": {},
    "in two feeds": {"feeds": 2},
    "over the rim": {"loose": 600.0, "melt": 230.0, "metal": 20.0, "swollen": 640.0},
    "almost full": {"loose": 440.0, "melt": 180.0, "swollen": 450.0},
    "almost empty": {"loose": 6.0, "melt": 2.0, "metal": 0.1, "swollen": 7.0},
    "no metal": {"metal": 0.0},
    "foaming": {"rise": 30.0},
    "foaming over": {"rise": 400.0, "swollen": 290.0},
    "barrel": {"pot": POTS["barrel"], "mould": MOULDS["paraboloid"]},
    "wide mould": {"mould": MOULDS["wide"]},
}


def drawn(case: dict[str, object], tokens, size: int = 100) -> QImage:
    """Both drawings of a report on a canvas with a wide margin."""
    theme.set_text_size(size)
    rise = case.get("rise")
    report = sample_report(**{name: value for name, value in case.items() if name != "rise"})
    pot, mould = pot_drawing(report), mould_drawing(report)
    pot = replace(pot, foam_level=None if rise is None else pot.melt_level + rise)
    image = QImage(900, 1100, QImage.Format.Format_RGB32)
    image.fill(tokens.sheet)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    scale = 2.0 * size / 100.0
    half = max(pot.shape.half_width, mould.shape.half_width) * scale
    room = max(side_room() + half, 0.5 * mould.shape.outside[1][1] * scale + words_beside(mould))
    frame = Frame(450.0, 60.0 + headroom() + pot.shape.depth * scale, scale)
    draw_pot(painter, frame, pot, tokens)
    top = frame.y(-pot.shape.foot) + 20.0
    draw_mould(painter, Frame(450.0, top + mould.shape.depth * scale, scale), mould, tokens, room)
    painter.end()
    theme.set_text_size(100)
    bottom = top + (mould.shape.depth + mould.shape.foot) * scale + 8.0
    image.setText("box", f"{450.0 - half - side_room()},{60.0},{450.0 + max(room, half + side_room())},{bottom}")
    return image


def inked(image: QImage) -> QRectF:
    """The box round all that is not sheet."""
    raw = image.convertToFormat(QImage.Format.Format_RGB32)
    pixels = np.frombuffer(raw.constBits(), np.uint32).reshape(raw.height(), -1)[:, : raw.width()]
    rows, columns = (np.flatnonzero((pixels != pixels[0, 0]).any(axis=axis)) for axis in (1, 0))
    return QRectF(columns[0], rows[0], columns[-1] - columns[0], rows[-1] - rows[0])


@pytest.mark.parametrize("size", [100, 130])
@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_nothing_is_drawn_outside_the_room_that_the_drawing_asks_for(case, size):
    image = drawn(case, LIGHT, size)
    left, top, right, bottom = (float(part) for part in image.text("box").split(","))
    assert QRectF(left - 2.0, top - 2.0, right - left + 4.0, bottom - top + 4.0).contains(inked(image))


def test_the_same_report_is_drawn_the_same_every_time():
    assert drawn(CASES["usual"], LIGHT) == drawn(CASES["usual"], LIGHT)
    assert drawn(CASES["usual"], LIGHT) != drawn(CASES["in two feeds"], LIGHT)


def test_dark_and_light_show_the_same_marks_in_their_own_colours():
    light, dark = drawn(CASES["usual"], LIGHT), drawn(CASES["usual"], DARK)
    assert light != dark
    assert inked(light) == inked(dark)


def test_without_a_filling_the_vessels_are_drawn_empty_and_without_a_pot_not_at_all():
    report = sample_report()
    empty = replace(report, fill=None, mould=None)
    assert pot_drawing(empty).heap_level is None
    assert mould_drawing(empty).slag_level is None
    assert words_of(pot_drawing(empty), mould_drawing(empty)) == "Nothing to show yet"
    assert pot_drawing(sample_report(pot=None)) is None
    assert mould_drawing(sample_report(mould=None)) is None


def test_the_drawings_can_be_read_out():
    report = sample_report()
    assert words_of(pot_drawing(report), mould_drawing(report)) == (
        "cold charge 32 mm below the rim; swollen, before it melts, 24 mm below the rim; "
        "quiet melt 75 mm below the rim; slag in the mould 21 mm below the rim; metal, 2.00 mL, 15 mm"
    )


def test_swelling_stands_on_the_cold_side_and_foam_on_the_hot_one_with_the_figures_of_the_report():
    report = evaluate(demo_work())
    drawing, fill, gas = pot_drawing(report), report.fill, report.pot.gas
    assert drawing.cold_level == drawing.swollen_level == fill.swollen_level > fill.loose_level
    assert drawing.hot_level == drawing.foam_level == pytest.approx(fill.melt_level + gas.foam)
    assert drawing.shape.depth - drawing.hot_level == pytest.approx(gas.free - gas.foam)
    said = words_of(drawing, None)
    assert f"swollen, before it melts, {fill.swollen_from_rim:.0f} mm below the rim" in said
    assert f"foam on it {gas.free - gas.foam:.0f} mm below the rim" in said
    quiet = replace(report, pot=replace(report.pot, gas=replace(gas, foam=0.3)))
    assert pot_drawing(quiet).foam_level is None
    assert "foam" not in words_of(pot_drawing(quiet), None)
    assert replace(drawing, foam_level=None).hot_level == fill.melt_level


def test_the_last_of_several_feeds_lies_on_the_melt_of_those_before():
    report = sample_report(feeds=2)
    pot = pot_drawing(report)
    profile, _ = crucible_profile(POT)
    assert pot.part == "last of 2"
    assert pot.heap_words == "41 %"
    assert pot.under_level == pytest.approx(profile.level(48.0))


def test_words_on_the_slag_growshorter_from_the_end():
    told = ("slag", "358 g oxides", "115 mL")
    assert shorter(told) == [told, told[:2], ("slag", "358 g"), ("slag",)]
    assert shorter(()) == []


def test_pot_and_mould_ask_for_a_height_at_which_they_can_be_read(qapp):
    view = VesselView(Bench(demo_work()))
    view.refresh()
    view.resize(900, 10)
    assert view.height() >= LOWEST
    assert view.pot_canvas.scale == view.mould_canvas.scale > 1.2


def test_the_melt_carries_the_spread_of_its_volume():
    assert pot_drawing(sample_report()).melt_words == ("96 mL", "melt", "± 9 %")
