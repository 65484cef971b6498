"""Rules that the litharge model is set beside: that of C. and J. J. Beringer, and stoichiometry.

The author's own reducing powers and nitre 4.0 g: A Text-Book of Assaying, 9th ed., Griffin, London 1904, pp. 96-98.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tests.fusion.powers import power_limits
from tests.published.beringer_fusions import Fusion

AUTHORS_POWERS = {"FeS2": 11.0, "CuFeS2": 7.5, "ZnS": 7.5, "Sb2S3": 6.0, "PbS": 3.35}
"""Lead that a gram of each sulphide throws down [g/g]."""
AUTHORS_NITRE = 4.0
"""Lead that a gram of nitre keeps up [g/g]."""
CONVENTIONS = ("sulphate without quartz, dioxide with it", "all to sulphate", "all to dioxide")
"""What stoichiometry may be taken to mean; the first is what is called so here."""


def authors_misses(fusions: Sequence[Fusion]) -> NDArray[np.float64]:
    """Lead by the author's powers less that weighed [g]: five powers, one to a mineral, from these same fusions."""
    return np.array([AUTHORS_POWERS[f.mineral] * f.sulphide - AUTHORS_NITRE * f.nitre - f.lead for f in fusions])


def stoichiometry_misses(
    fusions: Sequence[Fusion], convention: str = CONVENTIONS[0], nitre: float = AUTHORS_NITRE
) -> NDArray[np.float64]:
    """Lead by equations alone less that weighed [g].

    A sulphide throws down the lead of one of its two limits (`power_limits`), by one of `CONVENTIONS`; a gram of nitre
    keeps up `nitre` [g Pb]. No lead below nought is kept from being told.
    """

    def limit(fusion: Fusion) -> float:
        dioxide, sulphate = power_limits(fusion.mineral)
        held = {CONVENTIONS[0]: fusion.quartz == 0.0, CONVENTIONS[1]: True, CONVENTIONS[2]: False}[convention]
        return sulphate if held else dioxide

    return np.array([limit(f) * f.sulphide - nitre * f.nitre - f.lead for f in fusions])
