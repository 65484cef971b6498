"""What pot and mould show of a report."""

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from fluxlab.design.layers import Standing, layer_words, layers_of, poured, standing
from fluxlab.design.report_types import FillReport, Report
from fluxlab.design.rising import foam_of
from fluxlab.gui.vessel.mould import MouldDrawing
from fluxlab.gui.vessel.pot import PotDrawing
from fluxlab.gui.vessel.shape import Shape, mould_shape, pot_shape
from fluxlab.gui.widgets.fields import decimal_mark
from fluxlab.vessel.vessel_types import Crucible, Mould

if TYPE_CHECKING:
    from fluxlab.vessel.profile import Profile


@lru_cache(maxsize=8)
def shape_of_pot(pot: Crucible) -> Shape | None:
    """The section of a pot, kept while the pot stays the same."""
    return pot_shape(pot)


@lru_cache(maxsize=8)
def shape_of_mould(mould: Mould) -> Shape | None:
    """The section of a mould, kept while the mould stays the same."""
    return mould_shape(mould)


def pot_drawing(report: Report) -> PotDrawing | None:
    """The pot of a recipe, its fullest feed and its melt; empty while the filling is not known."""
    pot = report.work.shelf.crucible(report.work.recipe.crucible)
    shape = shape_of_pot(pot) if pot else None
    if pot is None or shape is None:
        return None
    fill = report.fill
    if fill is None:
        return PotDrawing(shape)
    volume = report.slag.volume
    spread = _spread(volume.value, volume.low, volume.high)
    metal, speiss, matte = _under_slag(in_pot(report))
    foam = foam_of(report.pot.gas) if report.pot else None
    return PotDrawing(
        shape,
        half_level=fill.half_level,
        two_thirds_level=fill.two_thirds_level,
        heap_level=fill.loose_level,
        heap_words=f"{100.0 * fill.loose_fraction:.0f} %" if fill.loose_level > 0.0 else "",
        part=f"last of {fill.feeds}" if fill.feeds > 1 else "",
        under_level=_under_level(pot, fill),
        swollen_level=fill.swollen_level if fill.loose_level > 0.0 else None,
        melt_level=fill.melt_level,
        melt_words=(f"{fill.melt_volume:.0f} mL", "melt", *spread) if fill.melt_volume > 0.0 else (),
        metal_level=metal,
        speiss_level=speiss,
        matte_level=matte,
        foam_level=None if foam is None else fill.melt_level + foam,
    )


def mould_drawing(report: Report) -> MouldDrawing | None:
    """The mould of a recipe after the pour; empty while that is not known."""
    mould = report.work.shelf.mould(report.work.recipe.mould)
    shape = shape_of_mould(mould) if mould else None
    if shape is None:
        return None
    poured = report.mould
    if poured is None or poured.slag_volume <= 0.0:
        return MouldDrawing(shape)
    layers = in_mould(report)
    metal, speiss, matte = _under_slag(layers)
    return MouldDrawing(
        shape,
        slag_level=poured.slag_level,
        slag_words=_slag_words(layers),
        metal_level=metal,
        metal_words=_words("metal", layers),
        speiss_level=speiss,
        speiss_words=_words("speiss", layers),
        matte_level=matte,
        matte_words=_words("matte", layers),
    )


def in_pot(report: Report) -> tuple[Standing, ...]:
    """The layers in the pot of a report, from the bottom up; none without a pot."""
    pot = report.work.shelf.crucible(report.work.recipe.crucible)
    inside = inside_of_pot(pot) if pot else None
    return standing(layers_of(report), inside, report.fill.melt_level) if inside and report.fill else ()


def in_mould(report: Report) -> tuple[Standing, ...]:
    """The layers in the mould of a report, from the bottom up; none without a mould."""
    return poured(report.mould, report.slag.mass) if report.mould else ()


def _under_slag(layers: Sequence[Standing]) -> tuple[float, float, float]:
    """Where metal, speiss and matte end [mm]; a layer that is not there ends with the one below it."""
    ends = {each.layer.kind: each.top for each in layers}
    metal = ends.get("metal", 0.0)
    speiss = ends.get("speiss", metal)
    return metal, speiss, ends.get("matte", speiss)


def _words(kind: str, layers: Sequence[Standing]) -> tuple[str, ...]:
    for each in layers:
        if each.layer.kind == kind:
            name, mass, volume = layer_words(each.layer, decimal_mark())
            return f"{name} {mass}".rstrip(), f"{volume}, {each.height:.0f} mm"
    return ()


def _slag_words(layers: Sequence[Standing]) -> tuple[str, ...]:
    slag = next((each.layer for each in layers if each.layer.kind == "slag"), None)
    return () if slag is None else tuple(part for part in layer_words(slag, decimal_mark()) if part)


def first_heap(fill: FillReport, depth: float) -> tuple[float, str]:
    """Level of the heap as first fed into the empty pot [mm], and which part of the charge it is."""
    if not fill.stages:
        return fill.loose_level, ""
    part = f"first of {len(fill.stages)}" if len(fill.stages) > 1 else ""
    return depth - fill.stages[0].from_rim, part


@lru_cache(maxsize=8)
def inside_of_pot(pot: Crucible) -> "Profile | None":
    """The inside of a pot, kept while the pot stays the same."""
    from fluxlab.vessel.crucible import crucible_profile

    return crucible_profile(pot)[0]


def _under_level(pot: Crucible, fill: FillReport) -> float:
    """How high the melt of the earlier of equal feeds stands when the last one is fed [mm]."""
    profile = inside_of_pot(pot)
    if profile is None or fill.feeds <= 1:
        return 0.0
    return profile.level(max(0.0, fill.melt_volume) * (fill.feeds - 1) / fill.feeds)


def _spread(value: float, low: float | None, high: float | None) -> tuple[str, ...]:
    if value <= 0.0 or low is None or high is None:
        return ()
    return (f"± {50.0 * (high - low) / value:.0f} %",)


def words_of(pot: PotDrawing | None, mould: MouldDrawing | None) -> str:
    """The drawings in words, for a screen reader."""
    said = []
    if pot is not None and pot.heap_level is not None:
        said.append(f"cold charge {_from_rim(pot.shape.depth, pot.heap_level)}")
    if pot is not None and pot.swollen_level is not None:
        said.append(f"swollen, before it melts, {_from_rim(pot.shape.depth, pot.swollen_level)}")
    if pot is not None and pot.melt_level is not None:
        said.append(f"quiet melt {_from_rim(pot.shape.depth, pot.melt_level)}")
    if pot is not None and pot.foam_level is not None:
        said.append(f"foam on it {_from_rim(pot.shape.depth, pot.foam_level)}")
    if mould is not None and mould.slag_level is not None:
        said.append(f"slag in the mould {_from_rim(mould.shape.depth, mould.slag_level)}")
        for words in (mould.matte_words, mould.speiss_words, mould.metal_words):
            said += [", ".join(words)] if words else []
    return "; ".join(said) if said else "Nothing to show yet"


def _from_rim(depth: float, level: float) -> str:
    gap = depth - level
    return f"{gap:.0f} mm below the rim" if gap >= 0.0 else f"{-gap:.0f} mm over the rim"
