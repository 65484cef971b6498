"""Colours, type and sizes in force now, and the signal that tells the views when they change."""

from functools import cache
from typing import Literal

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QGuiApplication, QPalette

from fluxlab import resources
from fluxlab.gui.tokens import DARK, LIGHT, Tokens

Mode = Literal["system", "light", "dark"]
TextSize = Literal[100, 115, 130]
TEXT_SIZES: tuple[TextSize, ...] = (100, 115, 130)


class Notifier(QObject):
    """Says that colours or sizes changed; every painted part redraws on it."""

    theme_changed = Signal()


class _State:
    mode: Mode = "system"
    text_size: TextSize = 100
    tokens: Tokens = LIGHT
    family: str = "B612"


@cache
def notifier() -> Notifier:
    """The one notifier of this process."""
    return Notifier()


def tokens() -> Tokens:
    """The colours in force."""
    return _State.tokens


def mode() -> Mode:
    """What the operator chose: follow the system, light or dark."""
    return _State.mode


def text_size() -> TextSize:
    """The text size chosen [%]."""
    return _State.text_size


def scaled(length: float) -> int:
    """A length that grows with the text [px]."""
    return round(length * _State.text_size / 100)


@cache
def _font(family: str, size: float, bold: bool) -> QFont:
    font = QFont(family)
    font.setPixelSize(max(1, round(size)))
    font.setBold(bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    font.setStyleStrategy(QFont.StyleStrategy.PreferAntialias)
    font.setFeature(QFont.Tag("liga"), 0)
    return font


def font(size: float, bold: bool = False) -> QFont:
    """The program's face at `size` px of the grid, times the text size. Shared: to be used, not changed."""
    return _font(_State.family, size * _State.text_size / 100, bold)


@cache
def _metrics(family: str, size: float, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(_font(family, size, bold))


def metrics(size: float, bold: bool = False) -> QFontMetricsF:
    """Measures of `font(size, bold)`."""
    return _metrics(_State.family, size * _State.text_size / 100, bold)


def load_fonts() -> None:
    """Make the shipped faces known to Qt; without them the system's sans serif serves."""
    found: list[str] = []
    for name in ("fonts/B612-Regular.otf", "fonts/B612-Bold.otf"):
        number = QFontDatabase.addApplicationFont(str(resources.path(name)))
        found += QFontDatabase.applicationFontFamilies(number)
    _State.family = "B612" if "B612" in found else QFont().defaultFamily()


def install(app: QGuiApplication) -> None:
    """Dress the application: faces, palette, and the system's wish for light or dark followed from now on."""
    load_fonts()
    app.styleHints().colorSchemeChanged.connect(_system_changed)
    _dress()


def _sound(percent: int) -> TextSize:
    return next((size for size in TEXT_SIZES if size == percent), 100)


def start_with(mode: Mode, percent: int) -> None:
    """Take over the operator's settings before anything is drawn."""
    _State.mode = mode
    _State.text_size = _sound(percent)


def set_mode(mode: Mode) -> None:
    """Follow the system, or stay light or dark."""
    _State.mode = mode
    _dress()
    notifier().theme_changed.emit()


def set_text_size(percent: int) -> None:
    """Set the text size, one of TEXT_SIZES [%]."""
    if _sound(percent) == _State.text_size:
        return
    _State.text_size = _sound(percent)
    _dress()
    notifier().theme_changed.emit()


def _system_changed() -> None:
    if _State.mode == "system":
        _dress()
        notifier().theme_changed.emit()


def _dress() -> None:
    app = QGuiApplication.instance()
    wanted = _State.mode
    if wanted == "system" and isinstance(app, QGuiApplication):
        wanted = "dark" if app.styleHints().colorScheme() == Qt.ColorScheme.Dark else "light"
    _State.tokens = DARK if wanted == "dark" else LIGHT
    if isinstance(app, QGuiApplication):
        app.setFont(font(13))
        app.setPalette(palette(_State.tokens))


def palette(t: Tokens) -> QPalette:
    """The palette for the few parts that the style still draws (menus, scroll bars, file dialogs)."""
    made = QPalette()
    role = QPalette.ColorRole
    for which, colour in (
        (role.Window, t.sheet),
        (role.WindowText, t.ink),
        (role.Base, t.lift),
        (role.AlternateBase, t.sheet),
        (role.Text, t.ink),
        (role.PlaceholderText, t.ink3),
        (role.Button, t.lift),
        (role.ButtonText, t.ink),
        (role.BrightText, t.no),
        (role.Light, t.lift),
        (role.Midlight, t.rule),
        (role.Mid, t.edge),
        (role.Dark, t.edge),
        (role.Shadow, t.ink3),
        (role.Highlight, t.hand),
        (role.HighlightedText, t.onhand),
        (role.Link, t.hand),
        (role.LinkVisited, t.hand),
        (role.ToolTipBase, t.lift),
        (role.ToolTipText, t.ink),
        (role.Accent, t.hand),
    ):
        made.setColor(which, colour)
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, t.ink3)
    return made
