"""What the caution rules ask about a plan, gathered in one value."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Facts:
    """Figures of one charge that decide on cautions. Masses [g], shares [mass %], temperatures [degC], fractions [-].

    `feeds` is the number of parts in which the charge goes in; shares and fractions speak of the fullest of them.
    `nitre_energy` [kJ per g of feed] and `nitre_share` belong to the part with the nitrate.
    """

    route: str
    dry: bool
    moisture: float
    mould_preheat: float | None
    heap_fraction: float | None
    foam_fraction: float | None
    feeds: int
    pot_material: str
    nitre: float
    nitre_share: float
    nitre_energy: float
    reducers: tuple[str, ...]
    raw_sulphide: float
    raw_sulphide_share: float
    litharge: float
    forbidden: tuple[str, ...]
    mercury: float
    arsenic: float
    lead: float
    fluorspar_share: float
    hydrated_with_fluoride: tuple[str, ...]
    scrap: bool
