"""Start the desktop program: `python -m fluxlab`."""

import sys

from fluxlab.one_thread import keep_to_one_thread


def main() -> int:
    """Open the window; the exit code of the program."""
    keep_to_one_thread()
    from fluxlab.gui.app import run

    return run()


if __name__ == "__main__":
    sys.exit(main())
