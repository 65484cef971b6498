"""The columns of the tables of pots and moulds: every inside dimension, and what it makes."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from typing import Any, Literal

from fluxlab.design import edits
from fluxlab.gui.bridge import Bench
from fluxlab.gui.reading import reader
from fluxlab.gui.shelf import naming
from fluxlab.gui.tables.model import Column
from fluxlab.gui.tables.numbers import exact, shown
from fluxlab.gui.tables.readers import above_zero, optional
from fluxlab.vessel.vessel_types import Crucible, Mould

Vessel = Crucible | Mould
POT_BOTTOMS = {"flat": "flat", "cap": "ball-shaped", "ellipsoid": "ellipsoid", "barrel": "barrel"}
Material = Literal["clay-graphite", "clay", "silicon carbide", "other"]
POT_MATERIALS: tuple[Material, ...] = ("clay-graphite", "clay", "silicon carbide", "other")
MOULD_SHAPES = {"cone": "cone", "frustum": "flat-tipped", "paraboloid": "paraboloid"}


@lru_cache(maxsize=64)
def brimful(vessel: Vessel) -> float | None:
    """Volume of a vessel filled to the rim [cm3], None when its dimensions make none."""
    if isinstance(vessel, Crucible):
        from fluxlab.vessel.crucible import crucible_profile

        profile, _ = crucible_profile(vessel)
    else:
        from fluxlab.vessel.mould import mould_profile

        profile, _ = mould_profile(vessel)
    return profile.brim if profile else None


def crucible_columns(bench: Bench) -> tuple[Column[Crucible], ...]:
    """The table of pots."""

    def put(row: Crucible, **changes: Any) -> str:
        bench.do(edits.put_crucible, replace(bench.work.shelf.crucible(row.uid) or row, **changes))
        return ""

    def rename(_at: int, row: Crucible, text: str) -> str:
        return naming.refusal(text, bench.work.shelf.crucibles, row.uid) or put(row, name=text)

    def rounded(row: Crucible) -> bool:
        return row.bottom in ("cap", "ellipsoid")

    return (
        Column("Pot", lambda r: r.name, "name", 130, 3, note=lambda r: r.material, take=rename),
        _length(put, "Bottom", "bottom_radius", "Inside radius where the wall meets the bottom.", True),
        _length(put, "Rim", "rim_radius", "Inside radius at the rim.", True),
        _length(put, "Depth", "depth", "Whole inside depth on the axis, a rounded bottom included.", True),
        _choice(put, "Floor", "bottom", POT_BOTTOMS, "Shape of the bottom."),
        _length(put, "Round", "bottom_depth", "How much of the depth is the rounded bottom.", shows=rounded),
        _length(
            put, "Bilge", "bilge_radius", "Inside radius at half the depth of a barrel pot.",
            shows=lambda r: r.bottom == "barrel",
        ),
        _length(put, "Wall", "wall", "Thickness of the wall; only the drawing uses it.", True),
        _length(put, "Base", "base", "Thickness of the base; only the drawing uses it.", True),
        _volume("Brimful"),
        Column(
            "Measured", lambda r: shown(r.measured_volume, 0, "–"), "quiet", 72, 1,
            exact=lambda r: exact(r.measured_volume),
            take=_taken(put, "measured_volume", optional(above_zero(reader("volume"), "The volume"))),
            step=1,
            help="Volume that filled the pot level with the rim, cm³; it widens or narrows the computed shape.",
        ),
    )  # fmt: skip


def mould_columns(bench: Bench) -> tuple[Column[Mould], ...]:
    """The table of moulds."""

    def put(row: Mould, **changes: Any) -> str:
        bench.do(edits.put_mould, replace(bench.work.shelf.mould(row.uid) or row, **changes))
        return ""

    def rename(_at: int, row: Mould, text: str) -> str:
        return naming.refusal(text, bench.work.shelf.moulds, row.uid) or put(row, name=text)

    return (
        Column("Mould", lambda r: r.name, "name", 150, 3, note=lambda r: r.material, take=rename),
        _choice(put, "Shape", "shape", MOULD_SHAPES, "Shape of the inside.", 92),
        Column(
            "Half-angle", lambda r: shown(r.half_angle, 1) if r.shape != "paraboloid" else "–", "quiet", 82, 1,
            exact=lambda r: exact(r.half_angle),
            take=_taken(put, "half_angle", above_zero(reader("number", hi=89), "The half-angle")), step=0.5,
            help="Angle between axis and wall, degrees.",
        ),
        _length(put, "Depth", "depth", "Inside depth from the tip to the rim.", True),
        _length(put, "Tip", "tip_radius", "Radius of the rounded tip, or of the flat tip; 0 when it is sharp."),
        _length(
            put, "Rim", "rim_radius", "Inside radius at the rim; 0 when the half-angle gives it.",
            shows=lambda r: r.rim_radius > 0.0 or r.shape == "paraboloid",
        ),
        _length(put, "Wall", "wall", "Thickness of the wall; only the drawing uses it.", True),
        _volume("Brimful"),
    )  # fmt: skip


def _taken(
    put: Callable[..., str], field: str, read: Callable[[str], float | str | None]
) -> Callable[[int, Any, str], str]:
    def take(_at: int, row: Any, text: str) -> str:
        value = read(text)
        return value if isinstance(value, str) else put(row, **{field: value})

    return take


def _length(
    put: Callable[..., str],
    title: str,
    field: str,
    help_words: str,
    positive: bool = False,
    shows: Callable[[Any], bool] = lambda _row: True,
) -> Column[Any]:
    read = above_zero(reader("length"), f"{title}, in mm,") if positive else reader("length")
    return Column(
        title,
        lambda r: shown(getattr(r, field), 1) if shows(r) else "–",
        "quiet",
        54,
        1,
        exact=lambda r: exact(getattr(r, field)),
        take=_taken(put, field, read),
        step=0.5,
        help=f"{help_words} In millimetres; 2.5 cm or 1 in will do.",
    )


def _choice(
    put: Callable[..., str], title: str, field: str, words: dict[str, str], help_words: str, width: int = 84
) -> Column[Any]:
    keys = {word: key for key, word in words.items()}

    def take(_at: int, row: Any, text: str) -> str:
        found = [word for word in keys if word.startswith(text.strip().casefold())] if text.strip() else []
        if len(found) != 1:
            return f"Choose one of: {', '.join(keys)}."
        return put(row, **{field: keys[found[0]]})

    return Column(
        title, lambda r: words[getattr(r, field)], "words", width, 1, take=take, choices=lambda: list(keys),
        help=help_words,
    )  # fmt: skip


def _volume(title: str) -> Column[Any]:
    return Column(
        title,
        lambda r: shown(brimful(r), 0) or "–",
        "figure",
        72,
        1,
        tone=lambda r: "" if brimful(r) else "no",
        help="Volume filled level with the rim, cm³, from the dimensions or as measured.",
    )
