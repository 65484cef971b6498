"""Set fluxlab up in a private environment of its own, then start, test or check it (standard library only).

    python3 packaging/dev.py run   [what fluxlab takes]      start fluxlab
    python3 packaging/dev.py test  [what pytest takes]       run its tests
    python3 packaging/dev.py check                           format, lint, types, arrows, and the tests with Qt blocked

On Windows: py packaging\\dev.py run. The environment is the folder .venv; delete it to begin afresh.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

from system_parts import ensure, say

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "fluxlab-installed.json"
LOG = VENV / "fluxlab-install.log"
GOOD_MINORS = (13, 12, 11)
# the whole suite goes over all processors, file by file
SPREAD = ["-n", "auto", "--dist", "loadfile"]

PIP_TROUBLE = (
    (("No space left",), "The disk is full. Make room, then start again."),
    (("externally-managed",), "pip took the system's Python for ours. Delete the folder .venv, then start again."),
    (("CERTIFICATE_VERIFY_FAILED",), "The server's certificate is not trusted here. Ask who runs your network."),
    (
        ("Temporary failure", "NameResolution", "Max retries", "connection", "No matching distribution", "timed out"),
        "The packages could not be fetched. Check the network (or proxy), then start again.",
    ),
    (("Permission denied", "Access is denied"), "A folder cannot be written. Check who owns this folder and .venv."),
)


def other_python() -> list[str] | None:
    """How to call a Python on this machine that fluxlab can use."""
    for minor in GOOD_MINORS:
        for call in ([f"python3.{minor}"], ["py", f"-3.{minor}"]):
            if not shutil.which(call[0]):
                continue
            probe = subprocess.run([*call, "-c", ""], capture_output=True, stdin=subprocess.DEVNULL, check=False)
            if probe.returncode == 0:
                return call
    return None


def digest() -> str:
    """What the installed state depends on."""
    parts = [(ROOT / "pyproject.toml").read_bytes(), str(ROOT).encode(), sys.version.encode()]
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def read_stamp() -> dict[str, object]:
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def usable() -> bool:
    """Whether .venv starts, with the Python this script runs on."""
    if not PYTHON.exists():
        return False
    ask = [str(PYTHON), "-c", "import sys, pip; print(sys.version)"]
    told = subprocess.run(ask, capture_output=True, text=True, stdin=subprocess.DEVNULL, check=False).stdout
    return told.strip() == sys.version.strip()


def make_environment() -> bool:
    say("making the private environment .venv")
    base = getattr(sys, "_base_executable", None) or sys.executable
    done = subprocess.run(
        [base, "-m", "venv", "--clear", str(VENV)],
        capture_output=True,
        text=True,
        stdin=subprocess.DEVNULL,
        check=False,
    )
    if done.returncode:
        say(f"the private environment could not be made:\n{(done.stdout + done.stderr).strip()[-1500:]}")
    return done.returncode == 0


def pip_install(requirements: list[str]) -> bool:
    command = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-input"]
    foreign = ("PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PYTHONHOME")
    environment = {name: value for name, value in os.environ.items() if name not in foreign}
    done = subprocess.run(
        [*command, *requirements],
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode == 0:
        return True
    told = done.stdout + done.stderr
    reasons = [words for signs, words in PIP_TROUBLE if any(sign in told for sign in signs)]
    errors = [line.strip() for line in told.splitlines() if "error:" in line.lower()]
    LOG.write_text(told, encoding="utf-8")
    say(f"installing failed. {reasons[0] if reasons else 'The words of pip are in the log.'} The log: {LOG}")
    for line in errors[:3]:
        print("    " + line, file=sys.stderr, flush=True)
    return False


def development_group() -> list[str]:
    import tomllib

    groups = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["dependency-groups"]
    return list(groups["dev"])


def prepare(development: bool) -> bool:
    """Bring .venv to what pyproject.toml asks for; quick when nothing changed."""
    stamp = read_stamp()
    if stamp.get("digest") == digest() and (stamp.get("development") or not development) and PYTHON.exists():
        return True
    STAMP.unlink(missing_ok=True)
    kept = usable()
    if not kept and not make_environment():
        return False
    development = development or (kept and bool(stamp.get("development")))
    say("installing fluxlab" + (" and its test tools" if development else "") + " into .venv")
    started = time.monotonic()
    if not pip_install(["--editable", str(ROOT), *(development_group() if development else [])]):
        return False
    STAMP.write_text(json.dumps({"digest": digest(), "development": development}), encoding="utf-8")
    say(f"installed in {time.monotonic() - started:.0f} s")
    return True


def call(*command: str, **variables: str) -> int:
    return subprocess.run(command, cwd=ROOT, env=dict(os.environ, **variables), check=False).returncode


def headless(arguments: list[str]) -> int:
    """Everything below the window, with Qt and the plotting library out of reach of all processes it starts."""
    blocked = str(ROOT / "tests" / "headless" / "blocked")
    command = [str(PYTHON), "-m", "pytest", "-p", "no:pytest-qt", *SPREAD, *arguments]
    return call(*command, PYTHONPATH=blocked, FLUXLAB_NO_QT="1")


def check() -> int:
    python = str(PYTHON)
    steps = {
        "format": [python, "-m", "ruff", "format", "--check", "."],
        "lint": [python, "-m", "ruff", "check", "."],
        "types": [python, "-m", "mypy"],
        "arrows": [python, "-c", "from importlinter.cli import lint_imports_command as go; go()"],
    }
    failed = []
    for name, command in steps.items():
        say("check: " + name)
        if call(*command):
            failed.append(name)
    say("check: tests with Qt blocked")
    if headless(["-q"]):
        failed.append("tests with Qt blocked")
    say("checks failed: " + ", ".join(failed) if failed else "all checks passed")
    return 1 if failed else 0


def main(arguments: list[str]) -> int:
    command, rest = (arguments[0], arguments[1:]) if arguments else ("", [])
    if command not in ("run", "test", "check"):
        print(__doc__)
        return 0 if command in ("-h", "--help", "help") else 2
    if sys.version_info[:1] != (3,) or sys.version_info[1] not in GOOD_MINORS:
        other = other_python()
        if other:
            return subprocess.run([*other, str(Path(__file__)), *arguments], check=False).returncode
        say(f"needs Python 3.11, 3.12 or 3.13; this one is {sys.version.split()[0]}. Install one of those beside it.")
        return 1
    if not ensure(window=command != "check", tests=command == "test") or not prepare(development=command != "run"):
        return 1
    if command == "run":
        module = "fluxlab.cli" if rest else "fluxlab"
        return subprocess.run([str(PYTHON), "-m", module, *rest], check=False).returncode
    return check() if command == "check" else call(str(PYTHON), "-m", "pytest", *(rest or SPREAD))


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
