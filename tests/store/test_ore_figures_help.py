"""The own figures of lot and roast stand in the help on exchange files as the program takes them."""

import re
from collections.abc import Iterable

from fluxlab import resources
from fluxlab.ore.lot_figures import lot_figures
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.own_figures import OreFigure
from fluxlab.ore.roast_figure_list import roast_figures

ROW = re.compile(r"^\| `([^`]+)` \| (.*?) \| (\S+) to (\S+) \| .+ \|$", re.M)


def told(heading: str) -> dict[str, tuple[str, float, float]]:
    """Name to unit and range below a heading."""
    _, _, body = resources.text("help/exchange.md").partition(f"## {heading}\n")
    rows = ROW.findall(body.partition("\n## ")[0])
    return {name: (unit, float(low), float(high)) for name, unit, low, high in rows}


def known(figures: Iterable[OreFigure]) -> dict[str, tuple[str, float, float]]:
    return {figure.key: (figure.unit or "number", figure.least, figure.most) for figure in figures}


def test_the_figures_of_the_lot_are_those_of_the_program() -> None:
    assert told("Own figures of the lot") == known(lot_figures(OreType("o", "Ore")).values())


def test_the_figures_of_the_programme_are_those_of_the_program() -> None:
    assert told("Own figures of the programme") == known(f for f in roast_figures().values() if ":" not in f.key)
    _, _, words = resources.text("help/exchange.md").partition("## Own figures of the programme\n")
    for key in ("minutes:Galena", "ignition:Galena", "liquid:PbS Sb2S3"):
        assert f"`{key}`" in words.partition("\n| ")[0]
        assert key in roast_figures()
