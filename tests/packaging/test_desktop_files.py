"""The desktop entry, the icon and the component description name things that exist."""

import configparser
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LINUX = ROOT / "packaging" / "linux"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def test_the_desktop_entry_starts_the_windowed_program():
    entry = configparser.ConfigParser(interpolation=None)
    entry.optionxform = str
    entry.read(LINUX / "fluxlab.desktop", encoding="utf-8")
    section = entry["Desktop Entry"]
    assert section["Exec"] in PROJECT["gui-scripts"]
    assert (LINUX / f"{section['Icon']}.svg").exists()
    assert section["Terminal"] == "false"


def test_the_icon_draws_in_the_toolkit(qapp):
    from PySide6.QtGui import QImage, QPainter
    from PySide6.QtSvg import QSvgRenderer

    drawn = QImage(64, 64, QImage.Format.Format_ARGB32)
    drawn.fill(0)
    painter = QPainter(drawn)
    picture = QSvgRenderer(str(LINUX / "fluxlab.svg"))
    picture.render(painter)
    painter.end()
    assert picture.isValid()
    assert drawn.pixelColor(32, 34).name() == "#e9a878"


def test_the_component_description_names_both_programs_and_the_licence():
    component = ET.parse(LINUX / "fluxlab.metainfo.xml").getroot()
    programs = {found.text for found in component.iter("binary")}
    assert programs == set(PROJECT["scripts"]) | set(PROJECT["gui-scripts"])
    assert component.findtext("project_license") == PROJECT["license"]
    assert component.findtext("launchable") == "fluxlab.desktop"
