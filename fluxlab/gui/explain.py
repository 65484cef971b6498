"""What F1 says: what a figure is, how it is computed, and where that comes from."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QRect
from PySide6.QtWidgets import QWidget

from fluxlab import resources
from fluxlab.gui.widgets.panel import Panel
from fluxlab.gui.widgets.words import Words

WIDTH = 380


@dataclass(frozen=True, slots=True)
class Explanation:
    """A title, what the thing is, how it is computed, and the source."""

    title: str
    about: str
    formula: str = ""
    source: str = ""


def explanation(key: str) -> Explanation | None:
    """The explanation of a target ("degree"), a column ("column:grams") or a part of the page; None if it has none."""
    table: dict[str, Any] = resources.toml("explain.toml") | resources.toml("targets.toml")
    found = table.get(key, table.get("cap") if key.startswith("cap:") else None)
    if found is None:
        return None
    return Explanation(
        found.get("title") or found["label"], found["about"], found.get("formula", ""), found.get("source", "")
    )


class ExplainPanel(Panel):
    """The plate that F1 opens."""

    def __init__(self, text: Explanation, window: QWidget) -> None:
        super().__init__(text.title, window)
        self.body.addWidget(Words(text.title, 14, bold=True))
        self.body.addWidget(Words(text.about, 13, room=WIDTH))
        if text.formula:
            self.body.addWidget(Words(text.formula, 13, bold=True, room=WIDTH))
        if text.source:
            self.body.addWidget(Words(f"Source: {text.source}", 12, tone="ink2", room=WIDTH))
        self.setAccessibleDescription(" ".join(part for part in (text.about, text.formula, text.source) if part))


def explain(key: str, beside: QWidget, rect: QRect | None = None) -> bool:
    """Open the explanation of `key` beside a widget; False if there is none."""
    text = explanation(key)
    if text is None:
        return False
    ExplainPanel(text, beside.window()).open_at(beside, rect)
    return True
