"""The command line as a process of its own: streams, pipes, a missing toolkit, and the PDF."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

import fluxlab
from fluxlab.design.start import demo_work
from fluxlab.store import document
from tests.works import equipped

ROOT = Path(fluxlab.__file__).parent.parent
MAIN = "import sys; from fluxlab.cli import main; sys.exit(main(sys.argv[1:]))"


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("cli") / "recipe.json"
    path.write_text(document.recipe_text(equipped(demo_work())), encoding="utf-8")
    return str(path)


def run(
    *words: str, code: str = MAIN, data: bytes | None = None, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-c", code, *words],
        cwd=ROOT,
        env={**os.environ, **environment},
        input=data,
        capture_output=True,
        timeout=120,
        check=False,
    )


def test_a_console_of_an_old_code_page_still_gets_utf8(file: str) -> None:
    for encoding in ("cp1252", "ascii"):
        done = run("report", file, PYTHONIOENCODING=encoding, PYTHONUTF8="0")
        assert done.returncode == 0, done.stderr
        assert "cm³" in done.stdout.decode("utf-8")


def test_a_recipe_goes_through_a_pipe(file: str) -> None:
    done = run("solve", "-", "--json", data=b"\xef\xbb\xbf" + Path(file).read_bytes())
    assert done.returncode == 0, done.stderr
    assert b'"kind": "solution"' in done.stdout


def test_a_reader_that_has_enough_is_no_fault(file: str) -> None:
    child = subprocess.Popen(
        [sys.executable, "-c", MAIN, "report", file, "--json"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert child.stdout is not None
    assert child.stderr is not None
    child.stdout.close()
    assert child.stderr.read() == b""
    child.stderr.close()
    assert child.wait(timeout=60) == 0


def test_the_version_needs_none_of_the_heavy_libraries() -> None:
    code = (
        "import sys; from fluxlab.cli import main\n"
        "try: main(['--version'])\n"
        "finally: print([m for m in ('numpy', 'pint', 'daqp', 'PySide6', 'sqlite3.dbapi2', 'periodictable') "
        "if m in sys.modules])"
    )
    done = run(code=code)
    assert done.stdout.splitlines()[-1] == b"['sqlite3.dbapi2']"


def test_a_missing_toolkit_ends_with_three(file: str, tmp_path: Path) -> None:
    code = "import sys; sys.modules['PySide6'] = None; " + MAIN
    pdf = tmp_path / "ticket.pdf"
    done = run("ticket", file, "--pdf", str(pdf), code=code)
    assert done.returncode == 3
    assert done.stdout == b""
    (line,) = done.stderr.decode().splitlines()
    assert "Qt toolkit" in line
    assert not pdf.exists()
    assert run("ticket", file, code=code).returncode == 0


@pytest.mark.skipif(os.environ.get("FLUXLAB_NO_QT") == "1", reason="the lane without Qt")
@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [("a5", 148.0, 210.0), ("a4", 210.0, 297.0), ("letter", 215.9, 279.4), ("roll80", 80.0, None), (None, None, None)],
)
def test_the_pdf_carries_the_weights_of_the_ticket(
    file: str, tmp_path: Path, paper: str | None, width: float | None, height: float | None
) -> None:
    import pypdfium2

    from fluxlab.design.evaluate import evaluate
    from fluxlab.design.ticket import build

    pdf = tmp_path / "ticket.pdf"
    done = run("ticket", file, "--pdf", str(pdf), *(["--paper", paper] if paper else []), DISPLAY="")
    assert done.returncode == 0, done.stderr
    assert done.stdout == b""
    with pypdfium2.PdfDocument(pdf) as opened:
        page = opened[0]
        wide, high = (side / 72 * 25.4 for side in page.get_size())
        text = page.get_textpage().get_text_range()
    if width is not None:
        assert wide == pytest.approx(width, abs=0.5)
    if height is not None:
        assert high == pytest.approx(height, abs=0.5)
    read = document.read_work(Path(file).read_text(encoding="utf-8"))
    assert read.value is not None
    from datetime import datetime

    ticket = build(evaluate(read.value), revision=None, copy=1, when=datetime(2026, 3, 1))
    for row in ticket.rows:
        assert ticket.weight_text(row.grams) in text


@pytest.mark.skipif(os.environ.get("FLUXLAB_NO_QT") == "1", reason="the lane without Qt")
def test_a_pdf_that_the_disk_refuses_ends_with_two(file: str, tmp_path: Path) -> None:
    done = run("ticket", file, "--pdf", str(tmp_path / "none" / "ticket.pdf"))
    assert done.returncode == 2
    assert b"it is not there. Check the name and the folder" in done.stderr
