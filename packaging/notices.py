"""Write NOTICE from resources/notices.toml: `python packaging/notices.py` (standard library only)."""

import sys
import textwrap
import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
KINDS = {
    "program": "The program",
    "toolkit": "Toolkit",
    "font": "Fonts",
    "library": "Libraries",
    "runtime": "Language",
    "data": "Data and texts",
}


def read() -> dict[str, Any]:
    return tomllib.loads((ROOT / "resources" / "notices.toml").read_text(encoding="utf-8"))


def wrapped(words: str, indent: str = "") -> list[str]:
    return textwrap.wrap(
        " ".join(words.split()), 100, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False
    )


def entry(notice: dict[str, Any]) -> list[str]:
    lines = wrapped(notice["name"])
    lines += wrapped("For: " + notice["used_for"], "  ")
    lines += wrapped("By: " + notice["holder"], "  ")
    lines += wrapped("Licence: " + notice["licence"], "  ")
    lines += [f"  Text: resources/{name}" for name in notice["text"]]
    lines += [f"  Home: {notice['address']}"] if "address" in notice else []
    lines += wrapped("Source code: " + notice["source"], "  ") if "source" in notice else []
    lines += wrapped("Replacing it: " + notice["replace"], "  ") if "replace" in notice else []
    return [*lines, ""]


def render(document: dict[str, Any]) -> str:
    """The text of NOTICE, all notices grouped by kind."""
    lines = ["NOTICE", "", *wrapped(document["heading"]), ""]
    for kind, title in KINDS.items():
        lines += [title, "=" * len(title), ""]
        for notice in document["notice"]:
            if notice["kind"] == kind:
                lines += entry(notice)
    return "\n".join(lines).rstrip() + "\n"


if __name__ == "__main__":
    (ROOT / "NOTICE").write_text(render(read()), encoding="utf-8")
    sys.stdout.write("NOTICE written.\n")
