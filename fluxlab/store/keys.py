"""What each number of a document means: its unit, the key that carries the unit, and the range that makes sense.

A key names its unit: `charge_g`, `depth_mm`, `pour_temperature_c`. A number whose key has no unit is a pure number, or
stands beside a `unit` key. resources/help/exchange.md lists them all; a test keeps it true.
"""

from dataclasses import dataclass
from math import inf

from fluxlab.design.recipe import Line, Recipe, Shelf, Target
from fluxlab.design.workshop import Workshop
from fluxlab.learn.melt import Beforehand, Fineness, Melt, Weighing
from fluxlab.materials.flux_types import ByAnalysis, Component, Part
from fluxlab.ore.ore_types import Grade, Lot, OreType, Share
from fluxlab.ore.roast_types import RoastPlan
from fluxlab.vessel.vessel_types import Crucible, Mould

# Ending of a key by unit; "" for a pure number and for one whose unit another key names.
ENDINGS = {
    "g": "g",
    "mm": "mm",
    "cm3": "cm3",
    "g/cm3": "g_per_cm3",
    "degC": "c",
    "min": "min",
    "%": "percent",
    "deg": "deg",
    "money/kg": "per_kg",
    "money": "",
    "parts": "parts",
    "g Pb/g": "g_lead_per_g",
    "g/t": "g_per_t",
    "L": "l",
    "kJ": "kj",
    "kW": "kw",
    "um": "um",
    "per mille": "per_mille",
    "Pa s": "pa_s",
    "mN/m": "mn_per_m",
    "-": "",
    "see unit": "",
}


@dataclass(frozen=True, slots=True)
class Figure:
    """The unit of a number and the range that makes sense for it; `named` if the field's own name says the unit."""

    unit: str
    low: float = -inf
    high: float = inf
    named: bool = False

    def key(self, field: str) -> str:
        """The key of the field in a document."""
        ending = "" if self.named else ENDINGS[self.unit]
        return f"{field}_{ending}" if ending else field


GRAMS = Figure("g", 0.0)
GRAMS_NAMED = Figure("g", 0.0, named=True)
MILLIMETRES = Figure("mm", 0.0)
CUBIC = Figure("cm3", 0.0)
DENSITY = Figure("g/cm3", 0.0)
PERCENT = Figure("%", 0.0)
SHARE = Figure("%", 0.0, 100.0)
FRACTION = Figure("-", 0.0, 1.0)
CELSIUS = Figure("degC", -273.15)
MINUTES = Figure("min", 0.0)
PARTS = Figure("parts", 0.0)
LEAD = Figure("g Pb/g")
COUNT = Figure("-", 0.0)

FIGURES: dict[type, dict[str, Figure]] = {
    Recipe: {
        "charge": GRAMS,
        "house": GRAMS,
        "ferric_share": FRACTION,
        "pour_temperature": CELSIUS,
        "hold": MINUTES,
        "mould_preheat": CELSIUS,
        "feeds": Figure("-", 1.0),
        "pot_figures": Figure("see unit", 0.0),
        "crystal_figures": Figure("see unit", 0.0),
    },
    Line: {"grams": GRAMS_NAMED, "least": GRAMS, "most": GRAMS},
    Target: {"lo": Figure("see unit"), "hi": Figure("see unit")},
    OreType: {"moisture": PERCENT, "bulk_density": DENSITY},
    Lot: {
        "mass": GRAMS,
        "concentrate": GRAMS,
        "sample": GRAMS,
        "top_size": MILLIMETRES,
        "figures": Figure("see unit", 0.0),
    },
    RoastPlan: {
        "finish_temperature": CELSIUS,
        "minutes": Figure("min", 0.0, named=True),
        "bed_depth": MILLIMETRES,
        "particle_size": MILLIMETRES,
        "before": GRAMS,
        "after": GRAMS,
        "start_temperature": CELSIUS,
        "balance_error": GRAMS,
        "conversion": FRACTION,
        "sulphate": FRACTION,
        "arsenate": FRACTION,
        "antimony_fumed": FRACTION,
        "magnetite": FRACTION,
        "silver_loss": FRACTION,
        "figures": Figure("see unit", 0.0),
    },
    Share: {"likely": PERCENT, "low": PERCENT, "high": PERCENT},
    Grade: {"value": Figure("see unit", 0.0)},
    Shelf: {"balance_step": GRAMS},
    Workshop: {
        "air_ratio": COUNT,
        "mould_opened_after": MINUTES,
        "pot_wall_left": Figure("%", 0.0, 100.0),
    },
    Component: {
        "purity": FRACTION,
        "purity_range": FRACTION,
        "loose_density": DENSITY,
        "tapped_density": DENSITY,
        "lead_power": LEAD,
        "lead_power_range": LEAD,
        "swell": COUNT,
        "price": Figure("money/kg", 0.0),
        "stock": GRAMS,
    },
    ByAnalysis: {"oxides": PERCENT},
    Part: {"likely": PARTS, "low": PARTS, "high": PARTS},
    Crucible: {
        "bottom_radius": MILLIMETRES,
        "rim_radius": MILLIMETRES,
        "depth": MILLIMETRES,
        "wall": MILLIMETRES,
        "base": MILLIMETRES,
        "bottom_depth": MILLIMETRES,
        "bilge_radius": MILLIMETRES,
        "measured_volume": CUBIC,
    },
    Mould: {
        "half_angle": Figure("deg", 0.0, 90.0),
        "depth": MILLIMETRES,
        "tip_radius": MILLIMETRES,
        "rim_radius": MILLIMETRES,
        "wall": MILLIMETRES,
    },
    Weighing: {"asked": GRAMS, "read": GRAMS},
    Fineness: {"silver": SHARE, "gold": SHARE, "error": PERCENT},
    Beforehand: {
        "silver": GRAMS,
        "gold": GRAMS,
        "grade_error": PERCENT,
        "charge_error": PERCENT,
        "limit": GRAMS,
        "button": GRAMS,
        "matte": GRAMS,
        "speiss": GRAMS,
        "slag": GRAMS,
        "silver_recovery": PERCENT,
        "gold_recovery": PERCENT,
        "pour_temperature": CELSIUS,
        "hold": MINUTES,
        "roast_least": Figure("%", -100.0),
        "roast_most": Figure("%", -100.0),
    },
    Melt: {
        "revision": Figure("-", 1.0),
        "ticket": Figure("-", 1.0),
        "balance_step": GRAMS,
        "button_step": GRAMS,
        "roast_before": GRAMS,
        "roast_after": GRAMS,
        "button": GRAMS,
        "skin": GRAMS,
        "matte": GRAMS,
        "slag": GRAMS,
        "speiss": GRAMS,
        "prills": GRAMS,
        "pot_change": Figure("g"),
        "in_fire": MINUTES,
        "hold": MINUTES,
        "roasted": MINUTES,
        "pour_temperature": CELSIUS,
        "roast_temperature": CELSIUS,
        "mould_temperature": CELSIUS,
        "froth": Figure("mm"),
        "button_density": DENSITY,
        "calcine_sulphur": SHARE,
        "fluidity": Figure("-", 1.0, 5.0),
    },
}
