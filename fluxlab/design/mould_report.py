"""What lies in the mould after the pour, for the report."""

from fluxlab.design.balance import Balance
from fluxlab.design.button_words import LEAD_ROUTE
from fluxlab.design.hot_layers import predicted
from fluxlab.design.pot_types import PotReport
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import MouldReport
from fluxlab.vessel.filling import stand


def mould_report(work: Work, found: Balance, pot: PotReport | None = None) -> MouldReport | None:
    """Metal, speiss, matte and slag in the mould by volume and level [cm3, mm]; None without a mould.

    Where the pot is not known, the metal is what the assay allows. The slag is without what came down from it, but
    with what the targets reckon as metal and does not come down: it hangs there as drops.
    """
    s = found.setting
    if s.mould is None:
        return None
    unknown = ((None, s.metal_volume), (0.0, 0.0), (0.0, 0.0))
    metal, speiss, matte = unknown if pot is None else predicted(pot, s.temperature)
    aimed, under = float(s.volumes @ found.n) + s.metal_and_more, metal[1] + speiss[1] + matte[1]
    slag = max(aimed - under, 0.0)
    whole = stand(s.mould, under + slag)
    return MouldReport(
        capacity=s.mould.brim,
        metal_volume=metal[1],
        metal_level=s.mould.level(metal[1]),
        slag_volume=slag,
        slag_level=whole.level,
        fraction=whole.fraction,
        freeboard=whole.from_rim,
        metal_name="metal" if pot is None else "lead" if work.recipe.route == LEAD_ROUTE else "button",
        metal_mass=metal[0],
        speiss_mass=speiss[0],
        speiss_volume=speiss[1],
        speiss_level=s.mould.level(metal[1] + speiss[1]),
        matte_mass=matte[0],
        matte_volume=matte[1],
        matte_level=s.mould.level(under),
        aimed_volume=aimed,
    )
