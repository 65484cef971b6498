"""What the tests of the roast share: random mixes and states, and the elements of solids and gases."""

from collections.abc import Mapping

from hypothesis import strategies as st

from fluxlab.materials.formulas import formula
from fluxlab.materials.minerals import Mineral, minerals
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
