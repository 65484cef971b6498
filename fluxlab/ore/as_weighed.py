"""A roast that was weighed: raw material and precious metal behind a gram of charge go by the weights.

The reckoned state ends near the weights, not on them: dust and shares other than the likely make the difference. It is
put down to what holds neither silver nor gold, so that the grade of the calcine is that of the raw material over the
weighed yield; that dust takes silver with it is counted in the silver lost.
"""

import numpy as np
from numpy.typing import NDArray

from fluxlab.ore.mix_types import Mix
from fluxlab.ore.roast_figures import RoastOf
from fluxlab.ore.roast_types import RoastReading

_LEAST, _MOST = 0.5, 2.0
"""Beyond these the description is so far off that nothing more is put down to its shares; judgement."""


def explained(roast: RoastOf | None) -> RoastReading | None:
    """The reading of the weights where some roast explains them and something is left."""
    reading = None if roast is None else roast.figures.reading
    return reading if reading is not None and reading.explained and reading.weighed > -100.0 else None


def parts_of_minerals(m: Mix, roast: RoastOf) -> NDArray[np.float64]:
    """For each entry of the mix, how much of what the reckoned roast leaves of it is in the charge [g/g].

    One throughout where nothing was weighed, or no roast explains the weights.
    """
    parts = np.ones(len(m.entries))
    reading, left = explained(roast), roast.left
    if reading is None or left is None:
        return parts
    other = np.array([not {"Ag", "Au"} & e.mineral.read.atoms.keys() for e in m.entries])
    leaves = np.array([e.likely for e in m.entries]) * left.ratio
    precious, rest = float(leaves[~other].sum()), float(leaves[other].sum())
    if rest > 0.0:
        parts[other] = min(max((1.0 + reading.weighed / 100.0 - precious) / rest, _LEAST), _MOST)
    return parts
