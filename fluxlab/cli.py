"""The program without its window: solve, report, check and print the ticket of an exported recipe.

Exit codes: 0 all well, 1 targets gave way or problems were found, 2 bad input or a refusal of the disk, 3 no Qt for a
PDF, 4 stopped by a caution, 70 a fault of the program.
"""

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import NoReturn

from fluxlab import __version__
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Report
from fluxlab.design.ticket import Ticket
from fluxlab.issue import Issue, Severity
from fluxlab.one_thread import keep_to_one_thread
from fluxlab.store import document
from fluxlab.store.files import SIZE_LIMIT, read_text, text_of
from fluxlab.store.problem import StoreProblem

OK, GAVE_WAY, BAD_INPUT, NO_QT, BLOCKED, OUR_FAULT = 0, 1, 2, 3, 4, 70
_PAPERS = ("a5", "a4", "letter", "roll80")


class Refusal(Exception):  # noqa: N818 (it is the sentence that matters)
    """What ends a command: a sentence for the error stream, and the exit code."""

    def __init__(self, sentence: str, code: int = BAD_INPUT) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.code = code


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and return its exit code; without any the window is started."""
    keep_to_one_thread()
    words = sys.argv[1:] if arguments is None else list(arguments)
    if not words:
        from fluxlab.__main__ import main as window

        return window()
    _speak_utf8()
    try:
        given = _parser().parse_args(words)
        run: Callable[[argparse.Namespace], int] = given.run
        code = run(given)
        sys.stdout.flush()
    except Refusal as refusal:
        print(f"fluxlab: {refusal.sentence}", file=sys.stderr)
        return refusal.code
    except StoreProblem as problem:
        print(f"fluxlab: {problem.sentence}", file=sys.stderr)
        return BAD_INPUT
    except BrokenPipeError:
        # Whoever read has enough; the interpreter must not stumble over the closed pipe once more on its way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OK
    except KeyboardInterrupt:
        return 130
    except Exception:
        import traceback

        traceback.print_exc()
        print("fluxlab: this is a fault of the program; please report the lines above.", file=sys.stderr)
        return OUR_FAULT
    return code


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise Refusal(f"{message}. Try “{self.prog} --help”.")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="fluxlab",
        description="Design the flux for a small melt of silver- and gold-bearing ore. "
        "Without a command the window opens.",
        epilog="FILE is a recipe exported from the window, - reads it from standard input. Exit codes: 0 all well, "
        "1 targets gave way or problems were found, 2 bad input, 3 no Qt for the PDF, 4 stopped by a caution.",
    )
    parser.add_argument("--version", action="version", version=f"fluxlab {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND", parser_class=_Parser)

    def command(name: str, run: Callable[[argparse.Namespace], int], help_: str) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=help_, description=help_)
        made.set_defaults(run=run)
        return made

    command("example", _example, "print an invented recipe as an exported document")
    for name, run, help_ in (
        ("solve", _solve, "work out what to add, and say what gave way"),
        ("report", _report, "print everything that is known of the recipe"),
        ("check", _check, "say what stands against the recipe: missed targets, cautions, problems"),
        ("ticket", _ticket, "print the weigh-out ticket"),
    ):
        made = command(name, run, help_)
        made.add_argument("file", metavar="FILE", help="an exported recipe, - for standard input")
        made.add_argument("--json", action="store_true", help="print JSON, every figure with its unit")
        if name in ("check", "ticket"):
            made.add_argument(
                "--confirm", metavar="RULES", default="", help="cautions whose control is in place, such as R01,R02"
            )
        if name == "ticket":
            made.add_argument("--pdf", metavar="OUT", help="write a PDF file instead of text")
            made.add_argument("--paper", choices=_PAPERS, help="paper of the PDF, else the usual one")
    return parser


def _example(given: argparse.Namespace) -> int:
    from fluxlab.design.start import demo_work

    sys.stdout.write(document.recipe_text(demo_work()))
    return OK


def _solve(given: argparse.Namespace) -> int:
    report = _evaluated(given.file)
    if given.json:
        from fluxlab.store.report_document import solution_text

        sys.stdout.write(solution_text(report))
    else:
        from fluxlab.design.report_text import solution_text as words

        sys.stdout.write(words(report))
    return _verdict(report)


def _report(given: argparse.Namespace) -> int:
    report = _evaluated(given.file)
    if given.json:
        from fluxlab.store.report_document import report_text

        sys.stdout.write(report_text(report))
    else:
        from fluxlab.design.report_text import text_of as words

        sys.stdout.write(words(report))
    return _verdict(report)


def _check(given: argparse.Namespace) -> int:
    from fluxlab.design.cautions import outstanding

    confirmed = _rules(given.confirm)
    report = _evaluated(given.file, all_issues=True)
    _refuse_idle(confirmed, report)
    blocks = outstanding(report.cautions, confirmed)
    if given.json:
        from fluxlab.store.report_document import findings_text

        sys.stdout.write(findings_text(report, tuple(block.rule for block in blocks)))
    else:
        from fluxlab.design.report_text import findings_text as words

        sys.stdout.write(words(report))
    return BLOCKED if blocks else _verdict(report)


def _ticket(given: argparse.Namespace) -> int:
    from fluxlab.design.ticket import build, printable

    confirmed = _rules(given.confirm)
    if given.paper and not given.pdf:
        raise Refusal("--paper belongs to --pdf. Add --pdf OUT, or leave it out.")
    report = _evaluated(given.file)
    _refuse_idle(confirmed, report)
    ticket = build(report, revision=None, copy=1, when=datetime.now().replace(microsecond=0), confirmed=confirmed)
    blocks = printable(ticket)
    if blocks:
        for block in blocks:
            print(f"fluxlab: {_block_words(block.rule, block.title, block.sentence, block.lift)}", file=sys.stderr)
        return BLOCKED
    if given.pdf:
        _write_pdf(ticket, Path(given.pdf), given.paper)
    if given.json:
        from fluxlab.store.report_document import ticket_text

        sys.stdout.write(ticket_text(ticket))
    elif not given.pdf:
        from fluxlab.design.ticket_text import text_of as words

        sys.stdout.write(words(ticket))
    return _verdict(report)


def _block_words(rule: str, title: str, sentence: str, lift: str) -> str:
    may = {
        "operator": f"If that is in place, confirm it with --confirm {rule}.",
        "cause": "Mend the cause; it cannot be confirmed away.",
        "never": "Nobody may lift this.",
    }[lift]
    if not rule:
        return f"no ticket: {sentence}"
    return f"no ticket, stopped by {rule} {title}: {sentence} {may}"


def _write_pdf(ticket: Ticket, path: Path, paper: str | None) -> None:
    try:
        from fluxlab.gui import ticket_painter
    except ImportError as fault:
        raise Refusal(
            f"a PDF needs the Qt toolkit, which cannot be loaded here ({fault}). Leave out --pdf for the text form.",
            NO_QT,
        ) from fault
    named = ticket_painter.paper_of("roll" if paper == "roll80" else paper) if paper else None
    ticket_painter.write_pdf(ticket, path, named or ticket_painter.default_paper())


def _rules(text: str) -> frozenset[str]:
    from fluxlab import resources

    known = resources.toml("cautions.toml").keys()
    rules = frozenset(word.upper() for word in re.split(r"[,\s]+", text) if word)
    unknown = sorted(rules - known)
    if unknown:
        raise Refusal(f"--confirm: there is no rule {', '.join(unknown)}; known are {', '.join(sorted(known))}.")
    return rules


def _refuse_idle(confirmed: frozenset[str], report: Report) -> None:
    """Refuse to confirm what does not stop this recipe: it may be a slip, and hide one."""
    stops = {c.rule: c.title for c in report.cautions if c.level == "block"}
    idle = sorted(confirmed - stops.keys())
    if not idle:
        return
    are = ", ".join(f"{rule} {title}" for rule, title in stops.items()) or "nothing"
    does = "does" if len(idle) == 1 else "do"
    raise Refusal(f"--confirm: {', '.join(idle)} {does} not stop this recipe; what stops it: {are}.")


def _evaluated(name: str, *, all_issues: bool = False) -> Report:
    from fluxlab.design.evaluate import evaluate

    return evaluate(_work(name, all_issues))


def _work(name: str, all_issues: bool) -> Work:
    if name == "-":
        data = sys.stdin.buffer.read(SIZE_LIMIT + 1)
        if len(data) > SIZE_LIMIT:
            raise Refusal(f"standard input is larger than {SIZE_LIMIT // 1_000_000} MB. Give a recipe.")
        text, shown = text_of(data, "standard input"), "standard input"
    else:
        text, shown = read_text(Path(name)), name
    read = document.read_work(text)
    if read.value is None:
        raise Refusal(_refused(shown, read.issues, all_issues))
    return read.value


def _refused(name: str, issues: Sequence[Issue], all_issues: bool) -> str:
    if all_issues:
        return "\n".join(f"{name}: {issue.sentence} {issue.remedy}".rstrip() for issue in issues)
    rest = f" ({len(issues) - 1} more; “fluxlab check” lists them)" if len(issues) > 1 else ""
    return f"{name}: {issues[0].sentence} {issues[0].remedy}".rstrip() + rest


def _verdict(report: Report) -> int:
    wrong = any(issue.severity is Severity.ERROR for issue in report.issues)
    return GAVE_WAY if wrong or report.solve.status != "ok" else OK


def _speak_utf8() -> None:
    # A Windows console pipe speaks an old code page, in which “°” or “µ” would end the program.
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")


if __name__ == "__main__":
    sys.exit(main())
