"""What each number of a report and of a ticket means, as in `keys`."""

from fluxlab.design.report_types import (
    FillReport,
    IndexReport,
    LineReport,
    LotReport,
    MetalReport,
    MouldReport,
    OreReport,
    Report,
    RoastReport,
    RoastStep,
    ShareRow,
    SlagReport,
    SolveReport,
    Stage,
    TargetReport,
)
from fluxlab.design.ticket import Ticket
from fluxlab.design.ticket_rows import TicketRow
from fluxlab.store.codec import Codec
from fluxlab.store.fluid_keys import FLUID_FIGURES
from fluxlab.store.keys import FIGURES, Figure
from fluxlab.store.pot_keys import POT_FIGURES

_GRAMS = Figure("g")
_GRAMS_NAMED = Figure("g", named=True)
_PERCENT = Figure("%")
_PERCENT_NAMED = Figure("%", named=True)
_MONEY = Figure("money")
_VOLUME = Figure("cm3")
_DENSITY = Figure("g/cm3")
_LEVEL = Figure("mm")
_RATIO = Figure("-")
_OWN_UNIT = Figure("see unit")

REPORT_FIGURES: dict[type, dict[str, Figure]] = {
    Report: {
        "flux_mass": _GRAMS,
        "flux_cost": _MONEY,
        "flux_to_ore": _RATIO,
        "flux_mass_without_wish": _GRAMS,
        "charge_total": _GRAMS,
        "precious_metal_limit": _GRAMS,
        "gas_litres": Figure("L", named=True),
    },
    ShareRow: {"percent": _PERCENT_NAMED, "grams": _GRAMS_NAMED},
    RoastReport: {
        "raw_mass": _GRAMS,
        "calcine_mass": _GRAMS,
        "mass_change_percent": _PERCENT_NAMED,
        "oxygen_needed": _GRAMS,
        "gases": _GRAMS,
        "sulphur_left": _GRAMS,
        "arsenic_left": _GRAMS,
        "sulphur_percent": _PERCENT_NAMED,
        "sulphide_sulphur_percent": _PERCENT_NAMED,
        "sulphate_sulphur_percent": _PERCENT_NAMED,
        "arsenic_percent": _PERCENT_NAMED,
        "silver_loss_percent": _PERCENT_NAMED,
        "air_litres": Figure("L", named=True),
        "weighed_change_percent": _PERCENT_NAMED,
    },
    RoastStep: {"low": Figure("degC"), "high": Figure("degC"), "minutes": Figure("min", named=True)},
    LotReport: {
        "lot_mass": _GRAMS,
        "concentrate_mass": _GRAMS,
        "calcine_mass": _GRAMS,
        "ratio": _RATIO,
        "ratio_by_grades": _RATIO,
    },
    MetalReport: {
        "head": _OWN_UNIT,
        "concentrate": _OWN_UNIT,
        "tail": _OWN_UNIT,
        "calcine": _OWN_UNIT,
        "in_lot": _GRAMS,
        "in_concentrate": _GRAMS,
        "in_calcine": _GRAMS,
        "enrichment": _RATIO,
        "by_weight_percent": _PERCENT_NAMED,
        "two_product_percent": _PERCENT_NAMED,
        "recovery_percent": _PERCENT_NAMED,
        "kept_percent": _PERCENT_NAMED,
        "overall_percent": _PERCENT_NAMED,
        "sampling_percent": _PERCENT_NAMED,
    },
    OreReport: {
        "charge": _GRAMS,
        "silver": _GRAMS,
        "gold": _GRAMS,
        "lead": _GRAMS,
        "copper": _GRAMS,
        "sulphur": _GRAMS,
        "arsenic": _GRAMS,
        "antimony": _GRAMS,
        "silver_grade_gpt": Figure("g/t", named=True),
        "gold_grade_gpt": Figure("g/t", named=True),
        "residual_percent": _PERCENT_NAMED,
        "earthy_gangue": _GRAMS,
        "bulk_density": _DENSITY,
    },
    LineReport: {
        "grams": _GRAMS_NAMED,
        "share": _PERCENT,
        "least": _GRAMS,
        "most": _GRAMS,
        "stock": _GRAMS,
        "cost": _MONEY,
        "loose_volume": _VOLUME,
    },
    TargetReport: {
        "value": _OWN_UNIT,
        "lo": _OWN_UNIT,
        "hi": _OWN_UNIT,
        "off_by": _OWN_UNIT,
        "floor": _OWN_UNIT,
        "decimals": _RATIO,
    },
    IndexReport: {
        "degree": _RATIO,
        "basicity_mass": _RATIO,
        "basicity_mole": _RATIO,
        "optical_basicity": _RATIO,
        "nbo_per_t": _RATIO,
        "nbo_per_t_with_boron": _RATIO,
        "borate_share": _RATIO,
    },
    SlagReport: {"mass": _GRAMS, "ferric_share": _RATIO, "density": _DENSITY, "volume": _VOLUME},
    Stage: {"mass": _GRAMS, "volume": _VOLUME, "from_rim": _LEVEL},
    FillReport: {
        "brim": _VOLUME,
        "loose_volume": _VOLUME,
        "loose_fraction": _RATIO,
        "loose_level": _LEVEL,
        "loose_from_rim": _LEVEL,
        "swollen_volume": _VOLUME,
        "swollen_fraction": _RATIO,
        "swollen_level": _LEVEL,
        "swollen_from_rim": _LEVEL,
        "melt_volume": _VOLUME,
        "melt_fraction": _RATIO,
        "melt_level": _LEVEL,
        "melt_from_rim": _LEVEL,
        "metal_volume": _VOLUME,
        "metal_level": _LEVEL,
        "cover": _LEVEL,
        "half_level": _LEVEL,
        "two_thirds_level": _LEVEL,
        "feeds": _RATIO,
        "feeds_needed": _RATIO,
        "melts_needed": _RATIO,
    },
    MouldReport: {
        "capacity": _VOLUME,
        "metal_volume": _VOLUME,
        "metal_level": _LEVEL,
        "slag_volume": _VOLUME,
        "slag_level": _LEVEL,
        "fraction": _RATIO,
        "freeboard": _LEVEL,
        "metal_mass": _GRAMS,
        "speiss_mass": _GRAMS,
        "speiss_volume": _VOLUME,
        "speiss_level": _LEVEL,
        "matte_mass": _GRAMS,
        "matte_volume": _VOLUME,
        "matte_level": _LEVEL,
        "aimed_volume": _VOLUME,
    },
    SolveReport: {"residual": _RATIO, "solves": _RATIO},
    Ticket: {
        "revision": _RATIO,
        "copy": _RATIO,
        "total": _GRAMS,
        "decimals": _RATIO,
        "slag_mass": _GRAMS,
    },
    TicketRow: {"grams": _GRAMS_NAMED},
    **POT_FIGURES,
    **FLUID_FIGURES,
}

REPORT_CODEC = Codec({**FIGURES, **REPORT_FIGURES})
