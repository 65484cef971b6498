"""The desktop program: the window paints first, then the library opens and the recipe is shown."""

import json
import os
import socket
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from PySide6.QtGui import QGuiApplication

    from fluxlab.gui.theme import Mode

DecimalMark = Literal["auto", "comma", "point"]

PROBE = "FLUXLAB_EXIT_AFTER_PAINT"
NO_WINDOW = 3
MARKS: "dict[DecimalMark, str]" = {"auto": "", "comma": ",", "point": "."}
INSTEAD = "Start fluxlab on a desktop, or use the command line: fluxlab --help."


def display_problem(environ: Mapping[str, str], platform: str = sys.platform) -> str:
    """Why no window can be shown here, in one sentence; "" when it can be tried."""
    if platform in ("win32", "darwin") or environ.get("QT_QPA_PLATFORM"):
        return ""
    if environ.get("WAYLAND_DISPLAY"):
        return ""
    display = environ.get("DISPLAY", "")
    if not display:
        return f"There is no display to show the window on. {INSTEAD}"
    host, _, rest = display.rpartition(":")
    number = rest.partition(".")[0]
    if host or not number.isdigit() or not hasattr(socket, "AF_UNIX"):
        return ""
    for address in (f"/tmp/.X11-unix/X{number}", f"\0/tmp/.X11-unix/X{number}"):
        with socket.socket(socket.AF_UNIX) as probe:
            probe.settimeout(2)
            try:
                probe.connect(address)
            except OSError:
                continue
            return ""
    return f"The display {display} does not answer. {INSTEAD}"


def run(arguments: Sequence[str] | None = None) -> int:
    """Start the program with `arguments` (a recipe file to import, if any); its exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    problem = display_problem(os.environ)
    if problem:
        print(problem, file=sys.stderr)
        return NO_WINDOW
    try:
        from PySide6.QtWidgets import QApplication
    except ImportError as fault:
        print(
            f"The window toolkit cannot be loaded ({fault}). README names the system libraries that it needs.",
            file=sys.stderr,
        )
        return NO_WINDOW
    app = QApplication(["fluxlab", "-style", "Fusion"])
    app.setApplicationName("fluxlab")
    app.setDesktopFileName("fluxlab")
    program = Program(given)
    program.start()
    return app.exec()


class FirstLook(NamedTuple):
    """What the first paint needs to know of the settings."""

    geometry: str = ""
    theme: "Mode" = "system"
    text_size: int = 100


def first_look(path: Path) -> FirstLook:
    """How the window was left, taken loosely and fast; the full reading, with complaints, follows the paint."""
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return FirstLook()
    if not isinstance(found, dict):
        return FirstLook()
    geometry, mode, size = found.get("geometry"), found.get("theme"), found.get("text_size")
    return FirstLook(
        geometry if isinstance(geometry, str) else "",
        mode if mode in ("light", "dark") else "system",
        size if isinstance(size, int) else 100,
    )


class Program:
    """Settings, library, bench and window, put together in the order that paints soonest."""

    def __init__(self, files: Sequence[str]) -> None:
        from fluxlab.gui import theme
        from fluxlab.gui.main_window import MainWindow
        from fluxlab.store import places

        self._files = files
        self._settings_path = places.settings_path()
        self._first = first_look(self._settings_path)
        theme.start_with(self._first.theme, self._first.text_size)
        theme.install(_application())
        self.window = MainWindow()
        self._moments: dict[str, float] = {}

    def start(self) -> None:
        """Show the frame; the rest follows when it has been painted."""
        from PySide6.QtCore import QTimer

        self.window.put_back(self._first.geometry)
        self._wait_for_paint(lambda: QTimer.singleShot(0, self.open), "first_paint")
        self.window.show()

    def _wait_for_paint(self, then: object, name: str) -> None:
        assert callable(then)

        def seen() -> None:
            self.window.painted.disconnect(seen)
            self._moments[name] = time.monotonic()
            then()

        self.window.painted.connect(seen)

    def open(self) -> None:
        """Open the library and show the recipe."""
        from fluxlab.gui.bridge import Bench
        from fluxlab.gui.opening import open_library, open_work
        from fluxlab.gui.widgets import fields
        from fluxlab.store import places, settings

        sys.excepthook = self._fault
        self.settings = settings.load(self._settings_path)
        fields.choose_decimal_mark(MARKS[self.settings.decimals])
        path = Path(self.settings.library) if self.settings.library else places.library_path()
        opened = open_work(open_library(path), self.settings.last_recipe)
        self.bench = Bench(
            opened.work, self.window, saved=opened.saved, library=opened.library, revision=opened.revision
        )
        self.window.closing.connect(self.leave)
        self.window.views = dict(self.settings.views)
        named = {name.lower(): name for name in self.window.run.stops}
        self.window.current = named.get(self.settings.place, "Flux")
        self.window.lay_bench(self.bench)
        if opened.notices:
            self.window.notice.say(" ".join(opened.notices))
        for name in self._files:
            self.bench.import_from(Path(name))
        self._wait_for_paint(self._shown, "first_recipe")
        self.window.update()

    def _shown(self) -> None:
        from PySide6.QtCore import QTimer
        from PySide6.QtWidgets import QApplication

        if os.environ.get(PROBE):
            print(json.dumps(self._moments), flush=True)
            QTimer.singleShot(0, QApplication.quit)

    def leave(self) -> None:
        """Keep the draft and how the window was left."""
        from fluxlab.gui import theme
        from fluxlab.gui.widgets import fields
        from fluxlab.store import settings

        self.bench.keep_draft()
        left = replace(
            self.settings,
            geometry=self.window.left_at(),
            theme=theme.mode(),
            text_size=theme.text_size(),
            place=self.window.current.lower(),
            decimals={mark: name for name, mark in MARKS.items()}[fields.chosen_decimal_mark()],
            last_recipe=self.bench.work.recipe.uid,
            views=tuple(sorted(self.window.views_left().items())),
        )
        if left != self.settings:
            settings.save(self._settings_path, left)
        if self.bench.library is not None:
            self.bench.library.close()
            self.bench.library = None

    def _fault(self, kind: type[BaseException], fault: BaseException, trace: object) -> None:
        """Our own fault: the work is kept, the report goes to a file, the operator is told."""
        import traceback

        if issubclass(kind, KeyboardInterrupt):
            self.window.close()
            return
        from fluxlab.store import places

        text = "".join(traceback.format_exception(fault))
        print(text, file=sys.stderr)
        path = places.data_folder() / "fault.txt"
        try:
            path.write_text(text, encoding="utf-8")
        except OSError:
            print(f"The report could not be written to {path}.", file=sys.stderr)
        self.bench.keep_draft()
        self.window.notice.say(
            f"Something went wrong in the program itself. Your work is kept. The report is in {path}."
        )


def _application() -> "QGuiApplication":
    from PySide6.QtGui import QGuiApplication

    app = QGuiApplication.instance()
    assert isinstance(app, QGuiApplication)
    return app
