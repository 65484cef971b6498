"""What gives off gas and when, in words."""

from fluxlab.design.pot_types import GasSource, PotGasReport

LEAST = 0.05
"""Gas of less than this [L] is not told."""


def given_off(gas: PotGasReport) -> str:
    """Litres of cold gas of each flux and mineral with the temperatures at which they come, most first; empty for none.

    Gases of one source that come together, as steam and carbon dioxide of bicarbonate, count together.
    """
    litres: dict[tuple[str, str], float] = {}
    for source in gas.sources:
        key = source.name, _when(source)
        litres[key] = litres.get(key, 0.0) + source.litres
    told = sorted(((name, when, each) for (name, when), each in litres.items() if each >= LEAST), key=lambda t: -t[2])
    return "; ".join(f"{name} {each:.1f} L {when}".rstrip() for name, when, each in told)


def _when(source: GasSource) -> str:
    return "" if source.low is None or source.high is None else f"from {source.low:.0f} to {source.high:.0f} °C"
