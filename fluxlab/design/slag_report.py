"""The slag, for the report."""

from fluxlab.design.balance import Balance
from fluxlab.design.ore_report import apart_rows
from fluxlab.design.pour_volume import pour_density, pour_volume
from fluxlab.design.report_types import Amount, IndexReport, ShareRow, SlagReport
from fluxlab.materials.oxides import MASS, OXIDES, weight_percent
from fluxlab.slag.indices import indices


def slag_report(found: Balance) -> SlagReport:
    """Mass [g], oxides [mass %], indices [-], density [g/cm3] and volume [cm3] of the slag."""
    n = found.n
    masses, percent = n * MASS, weight_percent(n)
    rows = [
        ShareRow(OXIDES[i], Amount(float(percent[i])), float(masses[i])) for i in range(len(OXIDES)) if masses[i] > 1e-9
    ]
    at = found.setting.temperature
    density, volume = pour_density(n, at), pour_volume(n, at)
    return SlagReport(
        mass=float(masses.sum()),
        oxides=tuple(sorted(rows, key=lambda row: -row.grams)),
        apart=apart_rows(found.feed),
        ferric_share=found.ferric_share,
        indices=_indices(found),
        density=Amount(0.0) if density is None else Amount(density.value, density.low, density.high),
        volume=Amount(volume.value, volume.low, volume.high),
    )


def _indices(found: Balance) -> IndexReport:
    each = indices(found.n, found.setting.borax_left * float(found.fluxes.borax_soda @ found.x))
    return IndexReport(
        degree={str(convention): value for convention, value in each.degree.items()},
        basicity_mass=each.basicity_mass,
        basicity_mole=each.basicity_mole,
        optical_basicity=each.optical_basicity,
        nbo_per_t=each.nbo_per_t,
        nbo_per_t_with_boron=each.nbo_per_t_with_boron,
        borate_share=each.borate_share,
    )
