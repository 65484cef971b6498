"""A slag map made by hand, so that the view can be tested without the numeric rooms. All figures invented."""

from dataclasses import replace
from math import cos, exp, log10, nan, pi, sin

from fluxlab.design.map_types import Axis, AxisPair, Cloud, FieldRow, MapFrame, Outline, Side

DEGREE = Axis("degree", "silicate degree (Si + B)", "", 0.9, 1.95, 0.01, 2)
BORATE = Axis("borate", "borate share", "", 0.15, 0.75, 0.01, 2)
PAIR = AxisPair(DEGREE, BORATE, "Degree and borate")
RATIO = Axis("flux_to_ore", "flux to ore", "", 0.5, 1.5, 0.01, 2)
SODA = Axis("flux:soda", "soda ash", "g", 0.0, 300.0, 1.0, 0)
OTHER = AxisPair(RATIO, SODA, "Flux to ore and soda ash")
SIDES = (
    Side("degree#lo", "degree 1.2", ((1.2, 0.34), (1.2, 0.635))),
    Side("flux_to_ore#hi", "flux to ore 1.1", ((1.2, 0.635), (1.6, 0.52))),
    Side("degree#hi", "degree 1.6", ((1.6, 0.52), (1.6, 0.43))),
    Side("viscosity#hi", "viscosity 1.0", ((1.6, 0.43), (1.39, 0.34))),
    Side("borate#lo", "borate 0.34", ((1.39, 0.34), (1.2, 0.34))),
)
INNER = (
    Side("", "", ((1.3, 0.42), (1.3, 0.56))),
    Side("", "", ((1.3, 0.56), (1.5, 0.5))),
    Side("", "", ((1.5, 0.5), (1.3, 0.42))),
)


def outline(sides):
    xs = tuple(sorted({x for side in sides for x, _ in side.points}))
    return Outline(xs, tuple(0.34 for _ in xs), tuple(0.6 for _ in xs), sides)


NOTHING = Outline((), (), (), ())


def sample_frame(here=(1.42, 0.44), pair=PAIR, sides=SIDES, safe=True, spread=True):
    ellipse = [
        (1.42 + 0.115 * cos(k * pi / 24), 0.44 + 0.03 * sin(k * pi / 24) - 0.012 * cos(k * pi / 24)) for k in range(49)
    ]
    cloud = Cloud(0.9, tuple(ellipse) if spread else ())
    return MapFrame(pair, here, outline(sides) if sides else NOTHING, cloud, outline(INNER) if safe else None)


def log_viscosity(degree, borate):
    valley = 0.9 * (degree - 1.05) ** 2
    return (
        log10(4.6) + 1.15 * (degree - 1.6) - 2.6 * (borate - 0.2) + valley - 0.4 * exp(-(((degree - 1.0) / 0.3) ** 2))
    )


def sample_rows(n=41, holes=True, pair=PAIR):
    """Rows of the field, coarse first; low in both axes nothing can be reached, low and left crystals stand."""
    y = pair.y
    order = sorted(range(n), key=lambda k: -next(p for p in (8, 4, 2, 1) if k % p == 0))
    for row in order:
        share = row / (n - 1)
        borate = 0.15 + share * 0.6
        values, crystals = [], []
        for k in range(n):
            degree = 0.9 + 1.05 * k / (n - 1)
            out = holes and degree - 0.9 < 0.1 and borate > 0.7
            values.append(nan if out else log_viscosity(degree, borate))
            crystals.append(degree < 1.2 - 1.2 * (borate - 0.15) and borate < 0.33)
        yield FieldRow(row, y.low + share * (y.high - y.low), tuple(values), tuple(crystals))


def elsewhere(frame, here):
    return replace(frame, here=here)
