"""Start the desktop program: `python -m fluxlab`."""

import sys


def main() -> int:
    """Open the window; the exit code of the program."""
    from fluxlab.gui.app import run

    return run()


if __name__ == "__main__":
    sys.exit(main())
