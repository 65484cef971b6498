"""Start the desktop program: `python -m fluxlab`."""

import sys
from pathlib import Path

from fluxlab.one_thread import keep_to_one_thread


def main() -> int:
    """Open the window, with a recipe file if one is named; anything else that is named is a command. The exit code."""
    keep_to_one_thread()
    if sys.argv[1:] and not (Path(sys.argv[1]).is_file() or Path(sys.argv[1]).suffix):
        from fluxlab.cli import main as command

        return command()
    from fluxlab.gui.app import run

    return run()


if __name__ == "__main__":
    sys.exit(main())
