"""Where the packed program begins: one set of files under two names, `fluxlab` for the shell and `fluxlab-window`."""

import sys
from pathlib import Path


def main() -> int | None:
    if Path(sys.executable).stem == "fluxlab-window":
        from fluxlab.__main__ import main as start
    else:
        from fluxlab.cli import main as start
    return start()


if __name__ == "__main__":
    sys.exit(main())
