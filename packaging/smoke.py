"""Try the packed program as a user would: `python packaging/smoke.py dist/fluxlab` (standard library only).

It runs with an empty home, no display, and outside the project's folder, so that nothing of the checkout helps it.
"""

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
EXE = ".exe" if os.name == "nt" else ""


def version() -> str:
    line = next(
        x for x in (ROOT / "fluxlab" / "__init__.py").read_text(encoding="utf-8").splitlines() if "version" in x
    )
    return line.split('"')[1]


def start(program: Path, *arguments: str, home: Path) -> str:
    """What the program prints; stops the whole trial unless it ends with 0 or 1 (1: a target gave way)."""
    environment = {
        **os.environ,
        "HOME": str(home),
        "APPDATA": str(home),
        "LOCALAPPDATA": str(home),
        "XDG_DATA_HOME": str(home / "data"),
        "XDG_CONFIG_HOME": str(home / "config"),
        "QT_QPA_PLATFORM": "offscreen",
        "FLUXLAB_EXIT_AFTER_PAINT": "1",
    }
    environment.pop("PYTHONPATH", None)
    told = subprocess.run(
        [str(program), *arguments],
        cwd=home,
        env=environment,
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    if told.returncode not in (0, 1):
        raise SystemExit(f"{program.name} {' '.join(arguments)} ended with {told.returncode}:\n{told.stderr[-2000:]}")
    return told.stdout


def missing_files(folder: Path) -> set[str]:
    """Files of resources/ that were not packed."""
    packed = next(found.parent for found in folder.rglob("notices.toml"))
    wanted = {found.relative_to(ROOT / "resources") for found in (ROOT / "resources").rglob("*") if found.is_file()}
    return {str(name) for name in wanted if not (packed / name).is_file()}


def main(folder: Path) -> int:
    talking, windowed = folder / f"fluxlab{EXE}", folder / f"fluxlab-window{EXE}"
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        recipe, ticket = home / "recipe.json", home / "ticket.pdf"
        recipe.write_text(start(talking, "example", home=home), encoding="utf-8")
        facts = {
            "says its version": start(talking, "--version", home=home).strip() == f"fluxlab {version()}",
            "holds every packaged file": not missing_files(folder),
            "reports on the example": "report"
            in json.loads(start(talking, "report", "--json", str(recipe), home=home)),
            "checks the example": bool(start(talking, "check", str(recipe), home=home)),
            "writes the ticket": start(
                talking, "ticket", "--confirm", "R50", "--pdf", str(ticket), str(recipe), home=home
            )
            is not None
            and ticket.read_bytes().startswith(b"%PDF"),
            "paints its window": "first_recipe" in json.loads(start(windowed, home=home).strip().splitlines()[-1]),
        }
    for fact, holds in facts.items():
        print(("yes  " if holds else "NO   ") + fact)
    return 0 if all(facts.values()) else 1


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]).resolve()))
