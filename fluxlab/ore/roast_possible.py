"""Between which changes of weight every roast of an ore ends."""

from dataclasses import replace

from fluxlab.ore.analysis import mix
from fluxlab.ore.ore_types import OreType
from fluxlab.ore.roast_reading import ends_of
from fluxlab.ore.roast_state import sound_plan
from fluxlab.ore.roast_tables import settings
from fluxlab.ore.roast_types import PERFECT_PLAN, RoastPlan


def possible_change(ore: OreType, plan: RoastPlan = PERFECT_PLAN) -> tuple[float, float] | None:
    """Least and most change of the weight in the roast [% of what goes on the tray, with its moisture].

    Beyond them no roast explains a weight that was read without error, as `roast_reading` judges it. None for an ore
    that is described as calcine, or without minerals to burn.
    """
    m = mix(ore)
    if ore.stage == "calcine" or m.pooled or not m.entries:
        return None
    plan, _ = sound_plan(plan)
    s = settings(plan.figures)["weighing"]
    off = float(s["worst"] * s["model"])
    dry = 1.0 - (ore.moisture / 100.0 if 0.0 <= ore.moisture < 100.0 else 0.0)
    low, high = ends_of(m.entries, replace(plan, kind="weighed"))
    return 100.0 * (dry * (1.0 + (low - off) / 100.0) - 1.0), 100.0 * (dry * (1.0 + (high + off) / 100.0) - 1.0)
