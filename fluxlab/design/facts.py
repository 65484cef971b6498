"""What the caution rules ask about a plan, gathered in one value."""

from dataclasses import dataclass

from fluxlab.design.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Facts:
    """Figures of one charge that decide on cautions. Masses [g], shares [mass %], temperatures [degC], fractions [-].

    `feeds` is the number of parts in which the charge goes in; shares and fractions speak of the fullest of them.
    `nitre_energy` [kJ per g of feed] and `nitre_share` belong to the part with the nitrate. None, nothing and an empty
    list stand for "not known": the rule that asks stays silent, and no view takes its silence for an all-clear.

    Shares of sulphur, arsenic, carbonate, manganese oxides, sulphates and refractory minerals are of the charge.
    `residual_sulphur` is sulphide sulphur that neither iron nor an oxidiser of the charge takes, `sulphide_sulphur` [g]
    all that the pot does not burn, `sulphide_left` the same as a share, `lead_sulphate_sulphur` that of lead sulphate.
    `soda` is soda ash that is free to take up sulphur, `iron_asked` [g/g] the iron that takes a gram of sulphide
    sulphur from it. `chloride_soda` [g of soda ash], or reducers that take `chloride_oxygen` [g O], keep chloride from
    the silver; `reducing` [g O] is what reducers and iron take, and `carbon` names the reducers that are not iron.
    `arsenic_left` and `nickel_cobalt` [g] are in the pot; `speiss` [g] is what all its arsenic would make with iron,
    and `speiss_made` [g] what the pot makes of it, likely and high.
    `water`, `steam` [L at pour temperature] and `roast_so2_litres` [L, cold] are what the shares come to; `pot_so2` and
    `pot_so2_litres` are the sulphur dioxide of the melt itself.
    `reductant_budget` [-] is reducing power over what is wanted of it, `wall_budget` the part of it that is the wall of
    the pot and `takers` the names of the rest, with the band that the route or the operator asks for;
    `base_metal_wanted` says that metal is wanted from oxides, be it lead, copper or another.
    `soda_slag` [g sulphur per g soda], `speiss_from` [mass %] and `longest_hold` [min] are limits that the operator may
    replace.
    `foam_rise` and `free_height` [mm]; `viscosity` [Pa s] and `melt_free` [degC, no crystals above it] of the slag;
    `hold_needed` [min] until the prills that matter have settled. `workshop` None: no
    furnace is asked of.
    """

    route: str
    dry: bool
    moisture: float
    mould_preheat: float | None
    heap_fraction: float | None
    swollen_fraction: float | None
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
    water: float = 0.0
    steam: float | None = None
    mould_fraction: float | None = None
    mould_freeboard: float | None = None
    gas_formers: bool = False
    foam_rise: float | None = None
    free_height: float | None = None
    iron: float = 0.0
    antimony: float = 0.0
    tellurium: float = 0.0
    selenium: float = 0.0
    cadmium: float = 0.0
    chloride: float = 0.0
    silver: float = 0.0
    chloride_soda: float = 0.0
    chloride_oxygen: float = 0.0
    reducing: float = 0.0
    carbon: tuple[str, ...] = ()
    soda: float = 0.0
    iron_asked: float = 0.0
    soda_slag: float = 0.02
    pour_temperature: float | None = None
    hold: float | None = None
    roast_so2: float | None = None
    roast_so2_litres: float | None = None
    roast_minutes: float | None = None
    pot_so2: float = 0.0
    pot_so2_litres: float = 0.0
    roast_start: float | None = None
    roast_finish: float | None = None
    clotting: tuple[str, ...] = ()
    lead_with_silica: bool = False
    sulphide_sulphur: float = 0.0
    residual_sulphur: float | None = None
    sulphide_left: float | None = None
    lead_sulphate_sulphur: float | None = None
    arsenic_share: float | None = None
    speiss_metals: tuple[str, ...] = ()
    speiss: float | None = None
    speiss_made: tuple[float, float] | None = None
    speiss_from: float = 0.3
    arsenic_left: float = 0.0
    nickel_cobalt: float = 0.0
    reductant_budget: float | None = None
    wall_budget: float = 0.0
    takers: tuple[str, ...] = ()
    budget_low: float = 0.9
    budget_high: float = 1.5
    base_metal_wanted: bool = False
    viscosity: float | None = None
    melt_free: float | None = None
    hold_needed: float | None = None
    longest_hold: float = 20.0
    refractory: tuple[str, ...] = ()
    refractory_share: float = 0.0
    sulphate_share: float = 0.0
    carbonate_share: float = 0.0
    carbonate_litres: float | None = None
    manganese_share: float = 0.0
    silica: tuple[str, ...] = ()
    unknown_share: float = 0.0
    assayed: bool = True
    radioactive: tuple[str, ...] = ()
    workshop: Workshop | None = None
