"""The fields of the entry form: which figure of a melt each holds, in which unit, and what it refuses."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from itertools import product
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget

from fluxlab.gui.reading import reader
from fluxlab.gui.tables.readers import above_zero, signed
from fluxlab.gui.widgets.fields import Field, Reader, show_exact

if TYPE_CHECKING:
    from fluxlab.learn.melt import Melt

ITS_STEP = "The step of the balance that weighed the button. Empty: the balance that weighed the fluxes."
SKIN = "What slag and skin on the button may weigh, one standard deviation. Empty: as is usual on a clean one."
Part = Literal["out", "fire", "roast", "more"]
_FORMS = ("%Y-%m-%d %H:%M", "%d.%m.%Y %H:%M", "%d/%m/%Y %H:%M", "%d %b %Y %H:%M", "%d %B %Y %H:%M")


@dataclass(frozen=True, slots=True)
class Spec:
    """One figure: the field of the melt, its words and unit, places shown, the step of the arrow keys, its reader, the
    balance that it is read from and what is said of it. A balance has places and a step of its own."""

    name: str
    words: str
    unit: str
    part: Part
    decimals: int
    step: float
    read: Callable[[], Reader]
    balance: Literal["", "charge", "button"] = ""
    tip: str = ""


def _mass() -> Reader:
    return reader("mass")


def _step_of_a_balance() -> Reader:
    return above_zero(reader("mass", hi=100.0), "What a balance shows at least")


def _minutes() -> Reader:
    return reader("time")


def _celsius() -> Reader:
    return reader("temperature")


def read_share_of_button(text: str) -> float | str:
    """A fineness [mass %]; parts in a thousand are not taken for per cent."""
    found = reader("number")(text)
    if not isinstance(found, str) and 100.0 < found <= 1000.0:
        parts, share = show_exact(found, 0), show_exact(found / 10.0, 0)
        return f"Write per cent: {parts} parts in a thousand are {share} %."
    return reader("share")(text)


def read_fluidity(text: str) -> float | str:
    """A whole number from 1 to 5."""
    found = reader("number")(text)
    if isinstance(found, str):
        return found
    return found if found in (1.0, 2.0, 3.0, 4.0, 5.0) else "It goes from 1 (stands) to 5 (runs like water)."


SPECS: tuple[Spec, ...] = (
    Spec("button", "Button", "g", "out", 2, 0.1, _mass, "button"),
    Spec("button_step", "Balance of the button shows", "g", "out", 0, 0.01, _step_of_a_balance, "", ITS_STEP),
    Spec("matte", "Matte", "g", "out", 1, 0.1, _mass, "charge"),
    Spec("speiss", "Speiss", "g", "out", 1, 0.1, _mass, "charge"),
    Spec("slag", "Slag", "g", "out", 1, 0.1, _mass, "charge"),
    Spec("in_fire", "In the fire until the pour", "min", "fire", 0, 1.0, _minutes),
    Spec("hold", "Of that, held quiet", "min", "fire", 0, 1.0, _minutes),
    Spec("pour_temperature", "Poured at", "°C", "fire", 0, 10.0, _celsius),
    Spec("roast_before", "On the tray before", "g", "roast", 1, 0.1, _mass, "charge"),
    Spec("roast_after", "On the tray after", "g", "roast", 1, 0.1, _mass, "charge"),
    Spec("roasted", "Roasted for", "min", "roast", 0, 5.0, _minutes),
    Spec("roast_temperature", "Finished at", "°C", "roast", 0, 10.0, _celsius),
    Spec("calcine_sulphur", "Sulphur by the laboratory", "%", "roast", 2, 0.1, lambda: reader("share")),
    Spec("prills", "Prills out of the slag", "g", "more", 2, 0.1, _mass, "button"),
    Spec("skin", "Slag and skin on the button, about", "g", "more", 0, 0.01, _mass, "", SKIN),
    Spec("pot_change", "Empty pot heavier by", "g", "more", 1, 0.1, lambda: signed(reader("mass")), "charge"),
    Spec("froth", "Foam stayed under the rim", "mm", "more", 0, 1.0, lambda: signed(reader("length"))),
    Spec("fluidity", "Fluidity, 1 stands, 5 water", "", "more", 0, 1.0, lambda: read_fluidity),
    Spec("button_density", "Density of the button", "g/cm³", "more", 2, 0.1, lambda: reader("density")),
    Spec("mould_temperature", "Mould before the pour", "°C", "more", 0, 10.0, _celsius),
)


def leads_on(field: Field, widget: QWidget) -> None:
    """Enter in a field goes to the next one, as on a form of paper."""
    field.returnPressed.connect(lambda: _next(field, widget))


def _next(field: Field, widget: QWidget) -> None:
    commit = getattr(field, "commit", None)
    if commit is not None and not commit():
        return
    _go_on(widget)


def goes_on(event: QKeyEvent, form: QWidget) -> bool:
    """Whether Enter has gone on from a tick or a choice, past the others beside it. Buttons that do something have none
    of it: an Enter too many must not record a melt."""
    focus = QApplication.focusWidget()
    if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter) or not _to_be_ticked(focus):
        return False
    _go_on(form)
    return True


def _go_on(form: QWidget) -> None:
    left = QApplication.focusWidget()
    beside = left.parentWidget() if left is not None and _to_be_ticked(left) else None
    form.focusNextChild()
    while _passed_by(now := QApplication.focusWidget()) or (now and beside and now.parentWidget() is beside):
        form.focusNextChild()


def _to_be_ticked(widget: QWidget | None) -> bool:
    return isinstance(widget, QAbstractButton) and widget.isCheckable()


def _passed_by(widget: QWidget | None) -> bool:
    """Titles, and fields that seldom change, are left to the Tab key."""
    return getattr(widget, "foldable", False) or getattr(widget, "seldom", False)


def value_in(melt: "Melt", spec: Spec) -> float | None:
    """The figure of a melt."""
    value: float | None = getattr(melt, spec.name)
    return value


def read_moment(text: str, shown: datetime | None = None) -> datetime | str:
    """A date and time, or the sentence that says how to write one.

    With a moment `shown`, a day alone leaves its time, a time alone its day.
    """
    plain = " ".join(text.replace(",", " ").split())
    tried = [plain] if shown is None else [plain, f"{plain} {shown:%H:%M}", f"{shown:%Y-%m-%d} {plain}"]
    for words, form in product(tried, _FORMS):
        try:
            return datetime.strptime(words, form)
        except ValueError:
            continue
    return "Write day and time as 2026-03-01 16:20 or 1.3.2026 16:20."
