"""What pot and mould show of a report."""

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from fluxlab.design.button_words import button_name, mass_words
from fluxlab.design.report_types import FillReport, Report
from fluxlab.gui.vessel.mould import MouldDrawing
from fluxlab.gui.vessel.pot import PotDrawing
from fluxlab.gui.vessel.shape import Shape, mould_shape, pot_shape
from fluxlab.vessel.vessel_types import Crucible, Mould

if TYPE_CHECKING:
    from fluxlab.design.hot_layers import HotLayers
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
    layers = _layers(report, _inside_of_pot(pot), fill.melt_level)
    return PotDrawing(
        shape,
        half_level=fill.half_level,
        two_thirds_level=fill.two_thirds_level,
        heap_level=fill.loose_level,
        heap_words=f"{100.0 * fill.loose_fraction:.0f} %" if fill.loose_level > 0.0 else "",
        part=f"last of {fill.feeds}" if fill.feeds > 1 else "",
        under_level=_under_level(pot, fill),
        melt_level=fill.melt_level,
        melt_words=(f"{fill.melt_volume:.0f} mL", *spread) if fill.melt_volume > 0.0 else (),
        metal_level=fill.metal_level if layers is None else layers.metal.top,
        speiss_level=0.0 if layers is None else layers.speiss.top,
        matte_level=0.0 if layers is None else layers.matte.top,
        foam_level=fill.foam_level if fill.foam_level > fill.melt_level else None,
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
    drawing = MouldDrawing(
        shape,
        slag_level=poured.slag_level,
        slag_words=("slag", f"{report.slag.mass:.0f} g"),
        metal_level=poured.metal_level,
        metal_words=("metal", f"up to {poured.metal_level:.0f} mm") if poured.metal_volume > 0.0 else (),
    )
    layers = _layers(report, _inside_of_mould(mould), poured.slag_level) if mould else None
    return drawing if layers is None else _with_layers(drawing, layers, button_name(report))


def _with_layers(drawing: MouldDrawing, layers: "HotLayers", name: str) -> MouldDrawing:
    metal, speiss, matte = layers.metal, layers.speiss, layers.matte
    return replace(
        drawing,
        metal_level=metal.top,
        metal_words=(f"{name} {mass_words(metal.mass)}", f"{metal.height:.0f} mm high") if metal.mass > 0.0 else (),
        speiss_level=speiss.top,
        speiss_words=("speiss", f"{mass_words(speiss.mass)}, {speiss.height:.0f} mm") if speiss.mass > 0.0 else (),
        matte_level=matte.top,
        matte_words=("matte", f"{mass_words(matte.mass)}, {matte.height:.0f} mm") if matte.mass > 0.0 else (),
    )


def first_heap(fill: FillReport, depth: float) -> tuple[float, str]:
    """Level of the heap as first fed into the empty pot [mm], and which part of the charge it is."""
    if not fill.stages:
        return fill.loose_level, ""
    part = f"first of {len(fill.stages)}" if len(fill.stages) > 1 else ""
    return depth - fill.stages[0].from_rim, part


def _layers(report: Report, inside: "Profile | None", surface: float) -> "HotLayers | None":
    """What stands under the slag, as predicted."""
    from fluxlab.design.hot_layers import hot_layers

    return None if inside is None else hot_layers(report, inside, surface)


@lru_cache(maxsize=8)
def _inside_of_pot(pot: Crucible) -> "Profile | None":
    from fluxlab.vessel.crucible import crucible_profile

    return crucible_profile(pot)[0]


@lru_cache(maxsize=8)
def _inside_of_mould(mould: Mould) -> "Profile | None":
    from fluxlab.vessel.mould import mould_profile

    return mould_profile(mould)[0]


def _under_level(pot: Crucible, fill: FillReport) -> float:
    """How high the melt of the earlier of equal feeds stands when the last one is fed [mm]."""
    profile = _inside_of_pot(pot)
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
    if pot is not None and pot.melt_level is not None:
        said.append(f"quiet melt {_from_rim(pot.shape.depth, pot.melt_level)}")
    if pot is not None and pot.foam_level is not None:
        said.append(f"froth {_from_rim(pot.shape.depth, pot.foam_level)}")
    if mould is not None and mould.slag_level is not None:
        said.append(f"slag in the mould {_from_rim(mould.shape.depth, mould.slag_level)}")
        for words in (mould.matte_words, mould.speiss_words, mould.metal_words):
            said += [" ".join(words)] if words else []
    return "; ".join(said) if said else "Nothing to show yet"


def _from_rim(depth: float, level: float) -> str:
    gap = depth - level
    return f"{gap:.0f} mm below the rim" if gap >= 0.0 else f"{-gap:.0f} mm over the rim"
