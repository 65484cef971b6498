"""The shelf card of the workshop: place, gear and habits, as far as the operator has stated them."""

from dataclasses import dataclass
from typing import Literal

Fuel = Literal["", "propane", "electric", "other"]


@dataclass(frozen=True, slots=True)
class Workshop:
    """What the operator has stated of the workshop; None (fuel and disposal: "") stands for "not stated".

    What is not stated is never taken as safe: a rule that needs it reminds of it, and stops the ticket where something
    dangerous was stated or `ppe` was not. `capture` is an enclosed hood with a scrubber, `cylinder_far` a gas cylinder
    3 m or more from the fire, `air_ratio` air over the air that the gas needs [-], `mould_opened_after` [min] after the
    pour, `pot_wall_left` [% of new] of the pot in use. `ppe` is the gear that the caution rules name, at hand and
    fitting. What is planned or done by habit is False until stated: grinding ore dry, quenching in water, wetting or
    washing slag, matte and dross with acid, keeping the matte for another melt.
    """

    indoors: bool | None = None
    capture: bool | None = None
    fuel: Fuel = ""
    co_alarm: bool | None = None
    cylinder_far: bool | None = None
    air_ratio: float | None = None
    yellow_flame: bool = False
    alone: bool | None = None
    told_somebody: bool | None = None
    minor: bool | None = None
    ppe: bool | None = None
    dry_milling: bool = False
    quench: bool = False
    wet_residues: bool = False
    matte_kept: bool = False
    mould_opened_after: float | None = None
    pot_wall_left: float | None = None
    pot_cracked: bool = False
    pot_after_sulphide: bool = False
    disposal: str = ""
