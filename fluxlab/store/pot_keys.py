"""What each number of the pot's report means, as in `keys`."""

from fluxlab.design.pot_types import (
    ButtonReport,
    CupelReport,
    DropsReport,
    FigureRow,
    GasSource,
    GasStage,
    HeatReport,
    HeatRow,
    MetalRow,
    OxygenRow,
    PotGasReport,
    RedoxReport,
    SilverRow,
    SulphurReport,
    SulphurRow,
)
from fluxlab.store.keys import Figure

_GRAMS = Figure("g")
_GRAMS_NAMED = Figure("g", named=True)
_PERCENT_NAMED = Figure("%", named=True)
_RATIO = Figure("-")
_LITRES = Figure("L", named=True)
_LEVEL = Figure("mm")
_DEGREES = Figure("degC")
_MINUTES = Figure("min")
_MINUTES_NAMED = Figure("min", named=True)
_HEAT = Figure("kJ")
_SIZE = Figure("um")
_FINENESS = Figure("per mille")

POT_FIGURES: dict[type, dict[str, Figure]] = {
    OxygenRow: {"oxygen": _GRAMS, "lead": _GRAMS, "met_percent": _PERCENT_NAMED},
    RedoxReport: {
        "supply": _GRAMS,
        "demand": _GRAMS,
        "supply_lead": _GRAMS,
        "demand_lead": _GRAMS,
        "budget": _RATIO,
        "budget_low": _RATIO,
        "budget_high": _RATIO,
        "lead": _GRAMS,
        "lead_there": _GRAMS,
        "ferric_percent": _PERCENT_NAMED,
        "nitre_percent": _PERCENT_NAMED,
        "lead_wanted": _GRAMS,
        "reducer_wanted": _GRAMS,
        "nitre_wanted": _GRAMS,
        "pot_burnt": _GRAMS,
    },
    SulphurRow: {"sulphur": _GRAMS, "mass": _GRAMS},
    SulphurReport: {
        "total": _GRAMS,
        "matte": _GRAMS,
        "dissolved": _GRAMS,
        "speiss": _GRAMS,
        "soda_used": _GRAMS,
        "iron_wanted": _GRAMS,
        "nitre_wanted": _GRAMS,
    },
    MetalRow: {"grams": _GRAMS_NAMED, "percent": _PERCENT_NAMED},
    ButtonReport: {
        "mass": _GRAMS,
        "silver_fineness": _FINENESS,
        "gold_fineness": _FINENESS,
        "density": Figure("g/cm3"),
        "yield_percent": _PERCENT_NAMED,
        "silver_recovery_percent": _PERCENT_NAMED,
        "gold_recovery_percent": _PERCENT_NAMED,
    },
    SilverRow: {"grams": _GRAMS_NAMED, "percent": _PERCENT_NAMED},
    DropsReport: {
        "size": _SIZE,
        "settled_size": _SIZE,
        "trapped_percent": _PERCENT_NAMED,
        "planned": _MINUTES,
        "wanted": _MINUTES,
        "advised": _MINUTES,
    },
    GasStage: {"low": _DEGREES, "high": _DEGREES, "litres": _LITRES, "foam": _LEVEL},
    GasSource: {"grams": _GRAMS_NAMED, "litres": _LITRES, "low": _DEGREES, "high": _DEGREES},
    PotGasReport: {
        "litres": _LITRES,
        "degrees_a_minute": Figure("degC/min", named=True),
        "foam": _LEVEL,
        "free": _LEVEL,
        "minutes_needed": _MINUTES_NAMED,
        "minutes_planned": _MINUTES_NAMED,
        "feeds_needed": _RATIO,
    },
    HeatRow: {"heat": _HEAT},
    HeatReport: {"total": _HEAT, "minutes": _MINUTES_NAMED, "propane": _GRAMS, "power": Figure("kW")},
    FigureRow: {"value": Figure("see unit"), "shipped": Figure("see unit")},
    CupelReport: {"cupel": _GRAMS, "silver_loss_percent": _PERCENT_NAMED},
}
