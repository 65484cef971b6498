"""Changes of the plan that let a charge fit: more feeds, another pot or mould, a smaller charge."""

from collections.abc import Iterable, Iterator
from math import floor, log10

from fluxlab.design.balance import balance
from fluxlab.design.edits.plan import set_charge, set_crucible, set_feeds, set_mould
from fluxlab.design.holding import holds
from fluxlab.design.offer_types import Offer
from fluxlab.design.recipe import Work
from fluxlab.design.report_types import Mend
from fluxlab.vessel.crucible import crucible_profile
from fluxlab.vessel.mould import mould_profile

FILLS = frozenset({"loose_fill", "gas_fill", "melt_fill", "mould_fill", "mould_room"})
_MOST_FEEDS = 6
_HALVINGS = 12
_LEAST_SHARE = 0.05


def plan_offers(work: Work, fighting: Iterable[str]) -> tuple[Offer, ...]:
    """Single changes of the plan that let every target hold, where a vessel is among the targets that fight."""
    if not {key.partition("#")[0] for key in fighting} & FILLS:
        return ()
    first = [next(each, None) for each in (_feeds(work), _pots(work), _moulds(work))]
    made = tuple(offer for offer in first if offer is not None)
    return made or tuple(_charge(work))


def _feeds(work: Work) -> Iterator[Offer]:
    for feeds in range(max(1, work.recipe.feeds) + 1, _MOST_FEEDS + 1):
        if holds(balance(set_feeds(work, feeds)[1])):
            words = f"Feed in {feeds} parts"
            yield Offer("plan", "", f"{words}: the heap then fits", Mend(words, "set_feeds", (feeds,)))


def _pots(work: Work) -> Iterator[Offer]:
    """Pots of the shelf of the same material, the smallest that does."""
    own = work.shelf.crucible(work.recipe.crucible)
    sized = [(profile.brim, pot) for pot in work.shelf.crucibles if (profile := crucible_profile(pot)[0])]
    for _, pot in sorted(sized, key=lambda pair: pair[0]):
        other = own is not None and pot.material == own.material and pot.uid != own.uid
        if other and holds(balance(set_crucible(work, pot.uid)[1])):
            mend = Mend(f"Take {pot.name}", "set_crucible", (pot.uid,))
            yield Offer("plan", "", f"Another pot would do: {pot.name}", mend)


def _moulds(work: Work) -> Iterator[Offer]:
    sized = [(profile.brim, mould) for mould in work.shelf.moulds if (profile := mould_profile(mould)[0])]
    for _, mould in sorted(sized, key=lambda pair: pair[0]):
        if mould.uid != work.recipe.mould and holds(balance(set_mould(work, mould.uid)[1])):
            mend = Mend(f"Take {mould.name}", "set_mould", (mould.uid,))
            yield Offer("plan", "", f"Another mould would do: {mould.name}", mend)


def _charge(work: Work) -> Iterator[Offer]:
    """The largest smaller charge found by halving that fits, in two figures."""
    low, high, best = _LEAST_SHARE * work.recipe.charge, work.recipe.charge, 0.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if holds(balance(set_charge(work, middle)[1])):
            low = best = middle
        else:
            high = middle
    if best <= 0.0:
        return
    digit = 10.0 ** (floor(log10(best)) - 1)
    mass = floor(best / digit) * digit
    if holds(balance(set_charge(work, mass)[1])):
        words = f"Melt {mass:.10g} g at a time"
        yield Offer("plan", "", f"{words}: that much fits", Mend(words, "set_charge", (mass,)))
