"""What lies in pot and mould when the melt is quiet, layer by layer: the one list that screen, paper and text show."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol

from fluxlab.design.button_words import LEAD_ROUTE, figure_words, mass_words

if TYPE_CHECKING:
    from fluxlab.design.report_types import MouldReport, Report

LayerKind = Literal["metal", "speiss", "matte", "slag"]
_NONE = 1e-9


class Inside(Protocol):
    """The inside of a vessel."""

    def level(self, volume: float) -> float:
        """Height that a volume [cm3] reaches [mm]."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: its mass [g], None where it is not known, and its volume hot [cm3].

    The mass of slag is that of its oxides; in its volume is also what hangs in it as drops and sulphide.
    """

    kind: LayerKind
    name: str
    mass: float | None
    volume: float


@dataclass(frozen=True, slots=True)
class Standing:
    """A layer in a vessel: where it begins and ends over the lowest point [mm]."""

    layer: Layer
    low: float
    top: float

    @property
    def height(self) -> float:
        """How thick it lies [mm]."""
        return self.top - self.low


def layers_in_mould(mould: "MouldReport", slag_mass: float | None) -> tuple[Layer, ...]:
    """Layers of a mould [g, cm3] from the bottom up; what is not expected is left out."""
    found = (
        Layer("metal", mould.metal_name, mould.metal_mass, mould.metal_volume),
        Layer("speiss", "speiss", mould.speiss_mass, mould.speiss_volume),
        Layer("matte", "matte", mould.matte_mass, mould.matte_volume),
        Layer("slag", "slag", slag_mass, mould.slag_volume),
    )
    return _there(found)


def layers_of(report: "Report") -> tuple[Layer, ...]:
    """Layers that a recipe makes [g, cm3] from the bottom up; without a mould as far as the pot tells them."""
    from fluxlab.design.hot_layers import predicted

    if report.mould is not None:
        return layers_in_mould(report.mould, report.slag.mass)
    if report.fill is None:
        return ()
    unknown: tuple[tuple[float | None, float], ...] = ((None, report.fill.metal_volume), (0.0, 0.0), (0.0, 0.0))
    metal, speiss, matte = predicted(report.pot, report.work.recipe.pour_temperature) if report.pot else unknown
    left = max(report.fill.melt_volume - metal[1] - speiss[1] - matte[1], 0.0)
    name = "metal" if report.pot is None else "lead" if report.work.recipe.route == LEAD_ROUTE else "button"
    return _there(
        (
            Layer("metal", name, *metal),
            Layer("speiss", "speiss", *speiss),
            Layer("matte", "matte", *matte),
            Layer("slag", "slag", report.slag.mass, left),
        )
    )


def standing(layers: Sequence[Layer], inside: Inside, surface: float) -> tuple[Standing, ...]:
    """Where layers begin and end in a vessel [mm], from the bottom up, none of them over the melt's surface [mm]."""
    found: list[Standing] = []
    volume, low = 0.0, 0.0
    for layer in layers:
        volume += layer.volume
        top = min(inside.level(volume), max(surface, 0.0))
        found.append(Standing(layer, low, top))
        low = top
    return tuple(found)


def poured(mould: "MouldReport", slag_mass: float | None) -> tuple[Standing, ...]:
    """Where the layers of a mould begin and end [mm], from the bottom up."""
    ends = {
        "metal": mould.metal_level,
        "speiss": mould.speiss_level,
        "matte": mould.matte_level,
        "slag": mould.slag_level,
    }
    found: list[Standing] = []
    low = 0.0
    for layer in layers_in_mould(mould, slag_mass):
        top = max(low, min(ends[layer.kind], mould.slag_level))
        found.append(Standing(layer, low, top))
        low = top
    return tuple(found)


def layer_words(layer: Layer, mark: str = ".") -> tuple[str, str, str]:
    """A layer in words: its name, its mass (empty where not known) and its volume."""
    mass = "" if layer.mass is None else mass_words(layer.mass, mark)
    if mass and layer.kind == "slag":
        mass = f"{mass} oxides"
    return layer.name, mass, f"{figure_words(layer.volume, mark)} mL"


def layer_line(stands: Standing, mark: str = ".") -> str:
    """A layer of the mould on one line, such as "matte 115 g, 25.0 mL, 23 mm in mould"."""
    name, mass, volume = layer_words(stands.layer, mark)
    said = f"{name} {mass}, {volume}" if mass else f"{name} {volume}"
    return said if stands.layer.kind == "slag" else f"{said}, {stands.height:.0f} mm in mould"


def _there(layers: Sequence[Layer]) -> tuple[Layer, ...]:
    return tuple(layer for layer in layers if layer.volume > _NONE)
