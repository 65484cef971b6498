"""Saving a table as a CSV file, with a plain sentence when that fails."""

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from fluxlab.gui.widgets.whisper import whisper


def csv_text(rows: Sequence[Sequence[str]]) -> str:
    """Rows as comma-separated text."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(rows)
    return out.getvalue()


def save_csv(beside: QWidget, name: str, rows: Sequence[Sequence[str]]) -> None:
    """Ask for a place and write `rows` there."""
    chosen, _ = QFileDialog.getSaveFileName(beside, "Export as CSV", name, "Tables (*.csv)")
    if not chosen:
        return
    try:
        Path(chosen).write_text(csv_text(rows), encoding="utf-8-sig")
    except OSError as fault:
        whisper(beside, f"The table could not be written: {fault.strerror}. Choose another folder.")
