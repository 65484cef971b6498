"""Melts for tests; every figure is invented."""

from datetime import datetime

from fluxlab.learn.melt import Beforehand, Fineness, Melt, Weighing

WHEN = datetime(2026, 3, 1, 16, 20)
SAID = Beforehand(silver=1.54, gold=0.02, grade_error=4.0, charge_error=1.0, limit=1.56)


def melt(uid: str = "m1", **changes: object) -> Melt:
    """A melt of 90 g that gave a button of 1.5 g, nine tenths silver."""
    usual: dict[str, object] = {
        "ore": "o1",
        "recipe": "r1",
        "revision": 1,
        "ticket": 1,
        "poured": WHEN,
        "weighed": (Weighing("calcine", "Calcine", 90.0), Weighing("soda", "Soda ash", 60.0)),
        "balance_step": 0.01,
        "button": 1.5,
        "fineness": Fineness(90.0, by="assayer"),
        "beforehand": SAID,
    }
    return Melt(uid, **{**usual, **changes})  # type: ignore[arg-type]
