"""The printed ticket, read back from its PDF by a library that knows nothing of ours (pypdfium2)."""

import ctypes
import errno
import math
import os
import subprocess
import sys
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import combinations
from pathlib import Path

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_raw
import pytest

from fluxlab.design.batch import BatchRow
from fluxlab.design.evaluate import evaluate
from fluxlab.design.layers import layer_line
from fluxlab.design.report_types import Caution
from fluxlab.design.ticket import Ticket, build, build_batch, hidden_by
from fluxlab.gui.ticket import sheet
from fluxlab.gui.ticket.key import layers_of_pot
from fluxlab.gui.ticket_painter import PAPERS, TicketBlocked, lay_out, paper_of, pdf_bytes, write_pdf
from fluxlab.gui.vessel.from_report import in_mould, in_pot, mould_drawing
from fluxlab.ore.ore_types import OreType
from fluxlab.store.problem import StoreProblem
from tests.ticket_samples import DAMP, FLUXES, FOAM, LEAD, NOTE, WHEN, fitted, sample_report
from tests.works import CLEAN, work_of

POINTS_PER_MM = 72.0 / 25.4
MANY = tuple(
    (f"f{at}", name, form, grams, tags)
    for at, (name, form, grams, tags) in enumerate(
        (
            ("Borax glass, ground and sieved through the coarse kitchen sieve", "crushed", 1292.5, ()),
            ("Soda ash", "dense, from the blue drum behind the door", 870.0, ()),
            ("Silica sand", "", 310.3, ()),
            ("Fluorspar", "", 6.0, ("fluoride",)),
            ("Charcoal", "fine", 16.8, ("reducer",)),
            ("Nitre", "potassium", 8.0, ("nitrate",)),
            ("Litharge", "", 27.5, ()),
            ("Ground bottle glass, green and brown", "", 21.4, ()),
            ("Manganese dioxide from the pottery supplier", "technical", 12.1, ()),
            ("Potash", "", 11.0, ()),
            ("Boric acid", "", 10.0, ()),
            ("Limestone", "", 9.0, ()),
            ("Cream of tartar", "", 2.2, ("reducer",)),
            ("Iron filings", "fine", 8.7, ()),
            ("Quicklimewithanamethatneverendsandhasnotasinglespaceinit", "", 7.0, ()),
            ("Common salt for the cover", "dry", 30.0, ()),
        )
    )
)
SENTENCE = "Lead is in the charge: draught on, gloves, no food or children near, wash before you leave, keep the slag."
KINDS = (
    DAMP,
    Caution("R02", "block", "Mould", "Heat the mould and keep it dry.", "", "operator", ""),
    Caution("R12", "warn", "Nitre on sulphide", SENTENCE, "", "cause", ""),
    LEAD,
    NOTE,
)


def plain() -> Ticket:
    report = sample_report()
    return build(report, revision=7, copy=2, when=WHEN, rounded=fitted(report))


def crowded() -> Ticket:
    ore = OreType("o", "table concentrate of the lower adit, second pass over the table", "Alder Gulch and two claims")
    report = sample_report(fluxes=MANY, charge=12345.6, ore=ore, cautions=KINDS, feeds=3)
    foot = "rounded to the 0.1 g balance; no such weights keep every must: the borate share ends 0.002 below 0.200"
    return build(
        report, revision=12, copy=3, when=WHEN, confirmed=("R01", "R02"), rounded=fitted(report, sentence=foot)
    )


def over_full() -> Ticket:
    report = sample_report(loose=560.0, melt=220.0, metal=12.0, cautions=(LEAD,))
    return build(report, revision=None, copy=1, when=WHEN, rounded=fitted(report), mark=",")


def layered() -> Ticket:
    report = sample_report()
    told = {"metal_name": "button", "metal_mass": 21.0, "speiss_mass": 13.0, "speiss_volume": 2.0, "speiss_level": 22.0}
    poured = replace(report.mould, **told, matte_mass=46.0, matte_volume=10.0, matte_level=38.0)
    return build(replace(report, mould=poured), revision=7, copy=2, when=WHEN, rounded=fitted(report), mark=",")


def without_vessels() -> Ticket:
    report = sample_report(pot=None, mould=None)
    return build(report, revision=7, copy=2, when=WHEN, rounded=fitted(report))


def batch() -> Ticket:
    rows = tuple(BatchRow(uid, name, form, grams, grams, 1.0) for uid, name, form, grams, _ in FLUXES if grams)
    return build_batch("House mix", rows, step=0.1, copy=1, when=WHEN, apart={"nitre"})


TICKETS = {
    "plain": plain,
    "crowded": crowded,
    "over full": over_full,
    "layered": layered,
    "no vessels": without_vessels,
    "batch": batch,
}


@dataclass(frozen=True)
class Text:
    words: str
    page: int
    left: float
    bottom: float
    right: float
    top: float

    @property
    def height(self) -> float:
        return self.top - self.bottom

    def meets(self, other: "Text") -> bool:
        """Whether two pieces of text share more than a hair of paper."""
        hair = 0.6
        return (
            self.page == other.page
            and min(self.right, other.right) - max(self.left, other.left) > hair
            and min(self.top, other.top) - max(self.bottom, other.bottom) > hair
        )


@dataclass(frozen=True)
class Read:
    """What a PDF shows: page sizes and pieces of text [points]."""

    sizes: tuple[tuple[float, float], ...]
    texts: tuple[Text, ...]
    words: str


def read(content: bytes) -> Read:
    document = pdfium.PdfDocument(content)
    sizes, texts, words = [], [], []
    for number, page in enumerate(document):
        sizes.append(page.get_size())
        text = page.get_textpage()
        texts += pieces(text, number)
        words.append(text.get_text_bounded())
        text.close()
        page.close()
    document.close()
    return Read(tuple(sizes), tuple(texts), "\n".join(words))


def pieces(text, page: int) -> list[Text]:
    """The characters of a page joined to what stands on one baseline without a wide gap."""
    found: list[Text] = []
    line, reached = None, 0.0
    for at in range(text.count_chars()):
        sign = text.get_text_range(at, 1)
        if not sign.strip():
            continue
        left, bottom, right, top = text.get_charbox(at)
        start, low, end, high = text.get_charbox(at, loose=True)
        x, y = ctypes.c_double(), ctypes.c_double()
        pdfium_raw.FPDFText_GetCharOrigin(text, at, x, y)
        size = high - low
        gap = (start - reached) / size
        if found and line is not None and abs(y.value - line) < 0.2 and -0.1 < gap < 0.33:
            last = found[-1]
            joined = f"{last.words}{' ' if gap > 0.1 else ''}{sign}"
            found[-1] = Text(joined, page, last.left, min(bottom, last.bottom), right, max(top, last.top))
        else:
            found.append(Text(sign, page, left, bottom, right, top))
        line, reached = y.value, end
    return found


def pixels(content: bytes, page: int, dots_per_point: float = 2.0):
    document = pdfium.PdfDocument(content)
    image = document[page].render(scale=dots_per_point, grayscale=True).to_numpy()
    document.close()
    return image.reshape(image.shape[0], image.shape[1])


@pytest.fixture(scope="module", params=[(name, paper.key) for name in TICKETS for paper in PAPERS], ids=" on ".join)
def printed(request, dressed_app) -> tuple[Ticket, object, bytes, Read]:
    name, key = request.param
    ticket, paper = TICKETS[name](), paper_of(key)
    content = pdf_bytes(ticket, paper)
    return ticket, paper, content, read(content)


def test_pages_have_the_size_of_the_paper(printed):
    _, paper, _, seen = printed
    for width, height in seen.sizes:
        assert width == pytest.approx(paper.width * POINTS_PER_MM, abs=1.0)
        if paper.height is not None:
            assert height == pytest.approx(paper.height * POINTS_PER_MM, abs=1.0)


def test_every_weight_is_there_whole_and_in_the_order_of_weighing(printed):
    ticket, _, _, seen = printed
    weights = [ticket.weight_text(row.grams) for row in ticket.rows] + [ticket.weight_text(ticket.total)]
    tall = [text for text in seen.texts if text.height > 3.9 * POINTS_PER_MM and text.words.strip() in weights]
    tall.sort(key=lambda text: (text.page, -text.top))
    assert [text.words.strip() for text in tall] == weights


def test_the_printed_total_is_the_sum_of_the_printed_rows(printed):
    ticket, _, _, seen = printed
    printed_rows = [Decimal(ticket.weight_text(row.grams).replace(",", ".")) for row in ticket.rows]
    total = str(sum(printed_rows, Decimal(0))).replace(".", ticket.mark)
    assert any(text.words.strip() == total for text in seen.texts)


def test_no_text_leaves_the_margins(printed):
    _, paper, _, seen = printed
    edge = (paper.margin - 0.5) * POINTS_PER_MM
    for text in seen.texts:
        width, height = seen.sizes[text.page]
        assert edge <= text.left, text
        assert text.right <= width - edge, text
        assert edge <= text.bottom, text
        assert text.top <= height - edge, text


def test_no_text_lies_on_another(printed):
    _, _, _, seen = printed
    crossing = [(one.words, other.words) for one, other in combinations(seen.texts, 2) if one.meets(other)]
    assert crossing == []


def test_only_the_tear_line_reaches_the_edge_of_the_paper(printed):
    ticket, _, content, seen = printed
    for page in range(len(seen.sizes)):
        image = pixels(content, page)
        edge = round(2.0 * POINTS_PER_MM * 2.0)
        assert (image[:edge, :] > 200).all()
        assert (image[-edge:, :] > 200).all()
        dark_left, dark_right = (image[:, :edge] < 200).any(axis=1), (image[:, -edge:] < 200).any(axis=1)
        torn = page == len(seen.sizes) - 1 and bool(ticket.stub)
        for dark in (dark_left, dark_right):
            assert bool(dark.any()) is torn
            rows = dark.nonzero()[0]
            assert rows.size == 0 or rows.max() - rows.min() < 5


def test_names_hints_facts_and_cautions_are_printed(printed):
    ticket, _, _, seen = printed
    flat = "".join(seen.words.split())
    for row in ticket.rows:
        assert "".join(row.name.split()) in flat
        assert "".join(row.hint.split()) in flat
    for fact in ticket.facts:
        assert "".join(fact.value.split()) in flat
    for caution in ticket.cautions:
        assert "".join(caution.title.split()) in flat
        assert "".join(caution.sentence.split()) in flat
    assert "".join(ticket.footer.split()) in flat
    assert ticket.standing
    assert all("".join(sentence.split()) in flat for sentence in ticket.standing)


def test_every_layer_that_the_screen_draws_is_drawn_and_named(printed):
    ticket, _, _, seen = printed
    flat = "".join(seen.words.split())
    for each in ticket.poured:
        assert "".join(layer_line(each, ticket.mark).split()) in flat
    if ticket.poured:
        assert {"cold", "hot"} <= {word for text in seen.texts for word in text.words.split()}


def test_paper_and_screen_show_the_same_layers(dressed_app):
    report = evaluate(work_of(CLEAN, "iron"))
    ticket = build(report, revision=1, copy=1, when=WHEN)
    kinds = [each.layer.kind for each in ticket.poured]
    assert kinds[0] == "metal"
    assert "matte" in kinds
    assert ticket.poured == in_mould(report)
    assert layers_of_pot(ticket) == in_pot(report)
    screen = mould_drawing(report)
    for each in ticket.poured[:-1]:
        assert " ".join(getattr(screen, f"{each.layer.kind}_words")).startswith(f"{each.layer.name} ")
        assert getattr(screen, f"{each.layer.kind}_level") == each.top


def test_every_page_carries_the_number_and_the_head_of_its_ticket(printed):
    ticket, _, content, _ = printed
    document = pdfium.PdfDocument(content)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    document.close()
    for number, words in enumerate(pages, 1):
        assert f"fluxlab {ticket.number}" in words
        assert (f"page {number} of {len(pages)}" in words) == (len(pages) > 1)
        assert "".join(ticket.title.split())[:20] in "".join(words.split())
        if any(ticket.weight_text(row.grams) in words for row in ticket.rows):
            assert "weigh, g" in words


def test_the_total_never_stands_on_a_page_without_a_weighing():
    for count in range(4, 24):
        fluxes = tuple((f"f{at}", f"Flux number {at}", "", 900.0 - at, ()) for at in range(count))
        report = sample_report(fluxes=fluxes)
        ticket = build(report, revision=1, copy=1, when=WHEN, rounded=fitted(report))
        seen = read(pdf_bytes(ticket, PAPERS[0]))
        (total,) = [text for text in seen.texts if text.words.strip() == ticket.weight_text(ticket.total)]
        (last,) = [text for text in seen.texts if text.words.strip() == ticket.weight_text(ticket.rows[-1].grams)]
        assert total.page == last.page


def test_a_plain_ticket_keeps_to_one_page_of_every_paper(qapp):
    for paper in PAPERS:
        assert len(lay_out(plain(), paper).pages) == 1


def test_a_roll_is_always_one_page_as_long_as_it_takes(qapp):
    roll = paper_of("roll")
    assert len(lay_out(crowded(), roll).pages) == 1
    assert lay_out(crowded(), roll).height > lay_out(plain(), roll).height > 150.0


def test_on_a_roll_the_drawings_come_after_the_cautions(qapp):
    report = sample_report(cautions=(LEAD,))
    seen = read(pdf_bytes(build(report, revision=1, copy=1, when=WHEN, rounded=fitted(report)), paper_of("roll")))
    (free,) = [text for text in seen.texts if text.words.strip() == "21 mm free"]
    (lead,) = [text for text in seen.texts if text.words.strip() == "Lead"]
    assert free.top < lead.bottom


def test_a4_and_letter_are_set_larger_where_there_is_room(qapp):
    assert lay_out(plain(), paper_of("a4")).enlargement > 1.15
    assert lay_out(crowded(), paper_of("a4")).enlargement == 1.0


def test_text_can_be_searched_without_ligatures(qapp):
    report = sample_report(fluxes=(("f", "Silica flour, first fine", "sifted", 5.0, ()), *FLUXES[:2]))
    ticket = build(report, revision=1, copy=1, when=WHEN, rounded=fitted(report))
    words = read(pdf_bytes(ticket, PAPERS[0])).words
    assert "Silica flour, first fine" in words
    assert "sifted" in words


def test_everything_is_black_or_paper_white_and_no_line_is_too_thin_for_a_thermal_head(printed):
    _, _, content, _ = printed
    document = pdfium.PdfDocument(content)
    seen = 0
    for page in document:
        for part in page.get_objects():
            for ask in (pdfium_raw.FPDFPageObj_GetFillColor, pdfium_raw.FPDFPageObj_GetStrokeColor):
                red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
                if ask(part.raw, red, green, blue, alpha):
                    colour = (red.value, green.value, blue.value)
                    assert colour in ((0, 0, 0), (255, 255, 255)), colour
                    assert alpha.value == 255
            if part.type == pdfium_raw.FPDF_PAGEOBJ_PATH:
                fill, stroke = ctypes.c_int(), ctypes.c_int()
                pdfium_raw.FPDFPath_GetDrawMode(part.raw, fill, stroke)
                wide, matrix = ctypes.c_float(), pdfium_raw.FS_MATRIX()
                pdfium_raw.FPDFPageObj_GetStrokeWidth(part.raw, wide)
                pdfium_raw.FPDFPageObj_GetMatrix(part.raw, matrix)
                if stroke.value:
                    seen += 1
                    assert wide.value * math.hypot(matrix.a, matrix.b) >= 0.149 * POINTS_PER_MM
    document.close()
    assert seen > 10


@pytest.mark.parametrize("caution", [DAMP, FOAM])
def test_an_outstanding_block_stops_the_pdf_and_leaves_the_old_file(qapp, tmp_path, caution):
    report = sample_report(cautions=(caution,))
    ticket = build(report, revision=1, copy=1, when=WHEN, rounded=fitted(report))
    path = tmp_path / "ticket.pdf"
    path.write_bytes(b"old")
    with pytest.raises(TicketBlocked, match=caution.title):
        write_pdf(ticket, path, PAPERS[0])
    assert path.read_bytes() == b"old"


def test_a_block_for_preview_shows_not_yet_confirmed(qapp):
    report = sample_report(cautions=(DAMP,))
    ticket = build(report, revision=1, copy=1, when=WHEN, rounded=fitted(report))
    assert hidden_by(ticket) == ()
    assert len(lay_out(ticket, PAPERS[0]).pages) == 1
    # the same words, once the operator confirms, may go out
    confirmed = replace(ticket, cautions=tuple(replace(c, confirmed=True) for c in ticket.cautions))
    words = read(pdf_bytes(confirmed, PAPERS[0])).words
    assert "Confirmed." in words
    assert "Not yet" not in words


def test_a_full_disk_gives_a_sentence_and_keeps_the_old_file(qapp, tmp_path, monkeypatch):
    path = tmp_path / "ticket.pdf"
    path.write_bytes(b"old")

    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StoreProblem, match="the disk is full"):
        write_pdf(plain(), path, PAPERS[0])
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def run_python(script: str, environment: dict[str, str]) -> subprocess.CompletedProcess[str]:
    root = Path(__file__).resolve().parents[2]
    command = [sys.executable, "-c", script]
    return subprocess.run(command, check=False, env=environment, cwd=root, capture_output=True, text=True, timeout=60)


def test_the_command_line_writes_a_pdf_without_a_window_or_a_display(tmp_path):
    path = tmp_path / "ticket.pdf"
    script = (
        "from pathlib import Path\n"
        "from fluxlab.gui.ticket_painter import PAPERS, write_pdf\n"
        "from tests.gui.test_ticket_pdf import plain\n"
        f"write_pdf(plain(), Path({str(path)!r}), PAPERS[0])\n"
    )
    bare = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
    bare.pop("QT_QPA_PLATFORM", None)
    run = run_python(script, bare)
    assert run.returncode == 0, run.stderr
    assert "Charge as weighed" in read(path.read_bytes()).words


def test_the_printing_part_of_qt_is_not_loaded_until_something_is_printed():
    script = (
        "import sys\n"
        "import fluxlab.gui.ticket_painter, fluxlab.gui.vessel.view, fluxlab.gui.weigh.place\n"
        "heavy = ('PySide6.QtPrintSupport', 'numpy', 'pint', 'pyqtgraph')\n"
        "sys.exit(', '.join(name for name in heavy if name in sys.modules) or None)\n"
    )
    run = run_python(script, dict(os.environ))
    assert run.returncode == 0, run.stderr


def test_a_figure_of_thousands_stays_on_one_line(qapp):
    words = "thin it with 19\u202f000 m³ of air"
    for room in range(math.ceil(sheet.width("19\u202f000", 8.0)), 60):
        told = sheet.lines_of(words, 8.0, float(room))
        assert any("19\u202f000" in line for line in told)
        assert " ".join(told) == words
