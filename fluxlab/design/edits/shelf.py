"""Edits of the shelf: fluxes, pots, moulds, balance."""

from fluxlab.design.edits.common import Edited, figure, replace_by_uid, with_shelf
from fluxlab.design.recipe import Work
from fluxlab.design.workshop import Workshop
from fluxlab.materials.flux_types import Component
from fluxlab.vessel.vessel_types import Crucible, Mould


def put_flux(work: Work, component: Component) -> Edited:
    """Put a flux on the shelf, or replace the one of the same id."""
    return f"Shelf: {component.name}", with_shelf(work, fluxes=replace_by_uid(work.shelf.fluxes, component))


def remove_shelf_flux(work: Work, uid: str) -> Edited:
    """Take a flux off the shelf."""
    old = work.shelf.flux(uid)
    kept = tuple(c for c in work.shelf.fluxes if c.uid != uid)
    return f"Shelf: remove {old.name if old else uid}", with_shelf(work, fluxes=kept)


def put_crucible(work: Work, crucible: Crucible) -> Edited:
    """Put a pot on the shelf, or replace the one of the same id."""
    return f"Shelf: {crucible.name}", with_shelf(work, crucibles=replace_by_uid(work.shelf.crucibles, crucible))


def remove_crucible(work: Work, uid: str) -> Edited:
    """Take a pot off the shelf."""
    old = work.shelf.crucible(uid)
    kept = tuple(c for c in work.shelf.crucibles if c.uid != uid)
    return f"Shelf: remove {old.name if old else uid}", with_shelf(work, crucibles=kept)


def put_mould(work: Work, mould: Mould) -> Edited:
    """Put a mould on the shelf, or replace the one of the same id."""
    return f"Shelf: {mould.name}", with_shelf(work, moulds=replace_by_uid(work.shelf.moulds, mould))


def remove_mould(work: Work, uid: str) -> Edited:
    """Take a mould off the shelf."""
    old = work.shelf.mould(uid)
    kept = tuple(m for m in work.shelf.moulds if m.uid != uid)
    return f"Shelf: remove {old.name if old else uid}", with_shelf(work, moulds=kept)


def set_balance_step(work: Work, step: float) -> Edited:
    """Set the smallest step of the balance [g]."""
    return f"Balance step {figure(step)} g", with_shelf(work, balance_step=step)


def set_currency(work: Work, sign: str) -> Edited:
    """Set the sign shown beside prices."""
    return f"Currency {sign}", with_shelf(work, currency=sign)


def set_workshop(work: Work, workshop: Workshop) -> Edited:
    """State what the workshop card says of place, gear and habits."""
    return "Workshop card", with_shelf(work, workshop=workshop)
