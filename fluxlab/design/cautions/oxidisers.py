"""Rules on nitrates and on what never goes into a furnace: R09 to R14, R26."""

from fluxlab.design.cautions.exposure import limit_words
from fluxlab.design.cautions.findings import Finding, block, past_to, rough, warn
from fluxlab.design.facts import Facts

NITRE_SHARE_LIMIT = 12.0  # mass % of one feed, judgement
NITRE_SHARE_LIMIT_LITHARGE = 15.0  # with twice its weight of litharge in a clay pot, in feeds; judgement
NITRE_ENERGY_LIMIT = 0.30  # kJ/g of one feed, judgement
NITRE_SHARE_WARN, NITRE_ENERGY_WARN = 5.0, 0.15  # mass %, kJ/g of one feed; judgement
NITRE_WITH_FUEL_LIMIT = 2.0  # mass %, judgement
NITRE_IN_GRAPHITE_LIMIT = 3.0  # mass %, judgement
SULPHIDE_LIMIT = 10.0  # mass % of the charge, judgement
CARBON_PER_NITRE = 0.15  # g carbon that a gram of nitre can burn to carbon dioxide, computed
GRAPHITE_POTS = ("clay-graphite", "silicon carbide")  # silicon carbide pots are bonded with carbon: from memory
NITRE_ROUTES = ("nitre", "lead collection")


def _litharge_cools(f: Facts) -> bool:
    # Much litharge takes up the heat and the charge melts early; only then are larger doses of nitre usual.
    enough = f.litharge >= 2 * (f.nitre + f.raw_sulphide)
    return f.route in NITRE_ROUTES and enough and f.pot_material == "clay" and f.feeds > 1


def _load(f: Facts, share: float, energy: float) -> str:
    """The nitrate of one feed in words, told from the limits of its share and its energy."""
    told = past_to(f.nitre_share, share, 1)
    return f"{told} % nitrate in one feed, {past_to(f.nitre_energy, energy, 2)} kJ per gram of it"


def nitre_load(f: Facts) -> Finding:
    """R09: more nitrate in one feed than it can bear."""
    if f.nitre <= 0.0 or not (f.nitre_share > NITRE_SHARE_LIMIT or f.nitre_energy > NITRE_ENERGY_LIMIT):
        return None
    cools = _litharge_cools(f)
    if cools and f.nitre_share <= NITRE_SHARE_LIMIT_LITHARGE:
        return warn(_load(f, NITRE_SHARE_LIMIT, NITRE_ENERGY_LIMIT))
    return block(_load(f, NITRE_SHARE_LIMIT_LITHARGE if cools else NITRE_SHARE_LIMIT, NITRE_ENERGY_LIMIT))


def nitre_by_the_spoon(f: Facts) -> Finding:
    """R10: enough nitrate that it has to go in by small portions."""
    much = f.nitre_share > NITRE_SHARE_WARN or f.nitre_energy > NITRE_ENERGY_WARN
    load = nitre_load(f)
    if not (f.nitre > 0.0 and much and (load is None or load[0] == "warn")):
        return None
    fume = f"its fume holds nitrogen oxides, the brown one: {limit_words('NO2')}"
    return warn(f"{_load(f, NITRE_SHARE_WARN, NITRE_ENERGY_WARN)}; {fume}")


def nitre_with_fuel(f: Facts) -> Finding:
    """R11: nitrate and a reducer in one dry mix."""
    if f.nitre_share > NITRE_WITH_FUEL_LIMIT and f.reducers:
        return block(f"{past_to(f.nitre_share, NITRE_WITH_FUEL_LIMIT, 1)} % nitrate beside {', '.join(f.reducers)}")
    return None


def nitre_on_sulphide(f: Facts) -> Finding:
    """R12: nitrate on raw sulphide."""
    if f.nitre <= 0.0 or f.raw_sulphide_share <= SULPHIDE_LIMIT:
        return None
    because = f"{past_to(f.raw_sulphide_share, SULPHIDE_LIMIT)} % raw sulphide with {rough(f.nitre, 3)} g nitrate"
    if f.route in NITRE_ROUTES:
        load = nitre_load(f)
        return None if load is None else (load[0], because)
    return block(because)


def nitre_in_graphite(f: Facts) -> Finding:
    """R13: nitrate in a pot that burns."""
    if f.pot_material in GRAPHITE_POTS and f.nitre_share > NITRE_IN_GRAPHITE_LIMIT:
        burnt = CARBON_PER_NITRE * f.nitre
        told = past_to(f.nitre_share, NITRE_IN_GRAPHITE_LIMIT, 1)
        return warn(f"{told} % nitrate can burn {rough(burnt)} g of the pot's carbon")
    return None


def forbidden(f: Facts) -> Finding:
    """R14: a substance that has no place in this work."""
    return block(", ".join(f.forbidden)) if f.forbidden else None


def iron_against_nitre(f: Facts) -> Finding:
    """R26: iron, graphite and nitrate in one pot."""
    if f.iron > 0.0 and f.nitre > 0.0 and f.pot_material in GRAPHITE_POTS:
        return block(f"{rough(f.iron, 3)} g iron and {rough(f.nitre, 3)} g nitrate in a {f.pot_material} pot")
    return None
