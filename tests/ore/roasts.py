"""What the tests of the roast share: random mixes and states, and whether everything is accounted for."""

from collections.abc import Iterator, Mapping

import pytest
from hypothesis import strategies as st

from fluxlab.materials import oxides
from fluxlab.materials.formulas import atomic_mass, formula
from fluxlab.materials.minerals import Mineral, minerals
from fluxlab.ore.feed_types import Feed
from fluxlab.ore.roast_arrays import METALS
from fluxlab.ore.roast_types import RoastState

SHARE = st.floats(0.0, 1.0)
MIX = st.dictionaries(st.sampled_from(list(minerals())), st.floats(0.01, 60.0), min_size=1, max_size=9)


@st.composite
def states(draw: st.DrawFn) -> RoastState:
    through = draw(st.dictionaries(st.sampled_from(list(minerals())), SHARE, max_size=9))
    psi = draw(st.dictionaries(st.sampled_from(METALS), SHARE))
    return RoastState(tuple(through.items()), tuple(psi.items()), draw(SHARE), draw(SHARE), draw(SHARE))


@st.composite
def mixes_with_states(draw: st.DrawFn) -> tuple[list[Mineral], list[float], RoastState]:
    shares = draw(MIX)
    through = tuple((name, draw(SHARE)) for name in shares)
    state = draw(states())
    return (
        [minerals()[name] for name in shares],
        list(shares.values()),
        RoastState(through, state.sulphate, state.arsenate, state.antimony_fumed, state.magnetite),
    )


def named(*names: str) -> list[Mineral]:
    return [minerals()[name] for name in names]


def elements(*parts: Mapping[str, float]) -> dict[str, float]:
    found: dict[str, float] = {}
    for part in parts:
        for species, grams in part.items():
            for symbol, share in formula(species).mass_fractions.items():
                found[symbol] = found.get(symbol, 0.0) + grams * share
    return found


def assert_all_accounted_for(f: Feed) -> None:
    limit = 1e-9 * max(1.0, f.dry)
    out = float(oxides.MASS @ f.oxides) + sum(f.apart.values()) + sum(f.metal.values()) + sum(f.gases.values())
    assert f.dry + f.oxygen == pytest.approx(out + f.unnamed, abs=limit)
    assert f.roast is not None
    solids, gases = sum(f.roast.solids.values()), sum(f.roast.gases.values())
    assert f.roast.raw + f.roast.oxygen == pytest.approx(solids + gases + f.unnamed, abs=limit)
    assert f.roast.calcine == pytest.approx(f.dry, abs=limit)
    for element, brought, told in elements_told(f):
        assert brought == pytest.approx(told, abs=limit), element


def elements_told(f: Feed) -> Iterator[tuple[str, float, float]]:
    """Every element but oxygen, as it is found in what the feed brings and as the feed tells it [g]."""
    found: dict[str, float] = {}
    for n, symbol in zip(f.oxides, oxides.OXIDES, strict=True):
        for element, count in formula(symbol).atoms.items():
            found[element] = found.get(element, 0.0) + float(n) * count * atomic_mass(element)
    for part in (f.apart, f.metal, f.gases):
        for species, mass in part.items():
            for element, share in formula(species).mass_fractions.items():
                found[element] = found.get(element, 0.0) + mass * share
    found.pop("O", None)
    for element in found.keys() | f.elements.keys():
        yield element, found.get(element, 0.0), f.elements.get(element, 0.0)
