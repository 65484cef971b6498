"""One thread for the arithmetic library: our products are so small that waking others costs more than they bring."""

import os

CHOSEN_BY = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS")
"""What tells the arithmetic library its number of threads, read once when numpy is first imported."""


def keep_to_one_thread() -> None:
    """Set one thread for a process that has not imported numpy yet; a number that the user has set stays."""
    if not any(name in os.environ for name in CHOSEN_BY):
        os.environ.update(dict.fromkeys(CHOSEN_BY, "1"))
