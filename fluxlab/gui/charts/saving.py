"""Saving a chart as a picture: SVG for print and drawing programs, PNG for everything else."""

from pathlib import Path
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRectF, QSize
from PySide6.QtGui import QImage, QImageWriter, QPainter
from PySide6.QtWidgets import QFileDialog

from fluxlab.gui.widgets.whisper import whisper

if TYPE_CHECKING:
    from fluxlab.gui.charts.chart import Chart

Form = Literal["svg", "png"]
PIXELS = 3
"""Pixels of a PNG to one px of the screen, so that it can be printed."""
NOT_WRITTEN = "The picture could not be written. Choose another folder."


def save_picture(chart: "Chart", form: Form) -> None:
    """Ask for a place and write the chart there."""
    kinds = {"svg": "Drawings (*.svg)", "png": "Pictures (*.png)"}
    chosen, _ = QFileDialog.getSaveFileName(chart, f"Save as {form.upper()}", f"{chart.file_name}.{form}", kinds[form])
    if chosen and not {"svg": write_svg, "png": write_png}[form](chart, Path(chosen)):
        whisper(chart, NOT_WRITTEN)


def write_svg(chart: "Chart", path: Path) -> bool:
    """Write the chart as SVG; False if the disk refused."""
    from PySide6.QtSvg import QSvgGenerator

    chart.build()
    size = chart.picture_size()
    held = QByteArray()
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setSize(size)
    generator.setViewBox(QRectF(0, 0, size.width(), size.height()))
    generator.setTitle(chart.title)
    generator.setDescription(chart.accessibleName())
    generator.setResolution(96)
    painter = QPainter(generator)
    chart.paint_whole(painter)
    painter.end()
    return _written(path, bytes(held.data()))


def write_png(chart: "Chart", path: Path) -> bool:
    """Write the chart as PNG, fine enough for print; False if the disk refused."""
    chart.build()
    size: QSize = chart.picture_size() * PIXELS
    image = QImage(size, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(PIXELS)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    chart.paint_whole(painter)
    painter.end()
    writer = QImageWriter(str(path))
    writer.setFormat(QByteArray(b"png"))
    return writer.write(image)


def _written(path: Path, content: bytes) -> bool:
    try:
        path.write_bytes(content)
    except OSError:
        return False
    return True
