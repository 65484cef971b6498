"""Edits of the ore type."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Literal

from fluxlab.design.edits.common import Edited, figure, with_ore, with_recipe
from fluxlab.design.recipe import Work
from fluxlab.ore.ore_types import Grade, Lot, OreType, Share
from fluxlab.ore.roast_types import RoastKind, RoastPlan

KnownBy = Literal["minerals", "oxides", "elements"]
RoastFigure = Literal[
    "conversion", "sulphate", "arsenate", "antimony_fumed", "magnetite", "silver_loss", "balance_error"
]


def _shares(work: Work, kind: KnownBy) -> tuple[Share, ...]:
    shares: tuple[Share, ...] = getattr(work.recipe.ore, kind)
    return shares


def set_ore(work: Work, ore: OreType, label: str = "Ore type") -> Edited:
    """Replace the ore type as a whole."""
    return label, with_recipe(work, ore=ore)


def set_known_by(work: Work, kind: KnownBy) -> Edited:
    """Choose which of the three descriptions counts."""
    words = {"minerals": "minerals by eye", "oxides": "oxide assay", "elements": "element assay"}
    return f"Known by {words[kind]}", with_ore(work, known_by=kind)


def set_share(work: Work, kind: KnownBy, index: int, share: Share) -> Edited:
    """Replace one row of a description [mass %]."""
    shares = _shares(work, kind)
    old = shares[index]
    word = f"{figure(old.likely)} → {figure(share.likely)} %" if old.likely != share.likely else "range"
    return f"{share.what} {word}", with_ore(work, **{kind: (*shares[:index], share, *shares[index + 1 :])})


def add_share(work: Work, kind: KnownBy, share: Share) -> Edited:
    """Add a row to a description; a row of the same name is replaced."""
    shares = tuple(s for s in _shares(work, kind) if s.what != share.what)
    return f"Add {share.what}", with_ore(work, **{kind: (*shares, share)})


def remove_share(work: Work, kind: KnownBy, index: int) -> Edited:
    """Take a row out of a description."""
    shares = _shares(work, kind)
    return f"Remove {shares[index].what}", with_ore(work, **{kind: (*shares[:index], *shares[index + 1 :])})


def paste_shares(work: Work, kind: KnownBy, shares: Sequence[Share]) -> Edited:
    """Take over rows from a spreadsheet, replacing rows of the same name: one undo step."""
    new = {s.what: s for s in shares}
    kept = tuple(new.pop(s.what, s) for s in _shares(work, kind))
    return f"Paste {len(shares)} shares", with_ore(work, **{kind: (*kept, *new.values())})


def tick_mineral(work: Work, name: str, on: bool) -> Edited:
    """Allow or forbid a mineral that an assay may be turned into."""
    rest = tuple(m for m in work.recipe.ore.ticked if m != name)
    return f"{'Allow' if on else 'Leave out'} {name}", with_ore(work, ticked=(*rest, name) if on else rest)


def set_grade(work: Work, metal: Literal["silver", "gold"], grade: Grade | None) -> Edited:
    """Set the silver or gold grade, None = unknown."""
    word = "unknown" if grade is None else f"{figure(grade.value)} {grade.unit}"
    return f"{metal.capitalize()} {word}", with_ore(work, **{metal: grade})


def set_lot(work: Work, lot: Lot | None, label: str = "") -> Edited:
    """Say what lot the concentrate came from, None = not told; `label` says what of it was changed."""
    plain = "No lot" if lot is None else "Lot" if lot.mass is None else f"Lot {figure(lot.mass)} g"
    return label or plain, with_ore(work, lot=lot)


def set_lot_figure(work: Work, name: str, value: float | None) -> Edited:
    """Set one of the operator's own figures of the lot, in the unit of its row in the report; None = the shipped one.

    A figure that makes no sense leaves the work as it was, and the label says why.
    """
    from fluxlab.ore.lot_figures import lot_figures
    from fluxlab.ore.own_figures import named, refusal

    ore = work.recipe.ore
    lot, known = ore.lot or Lot(), lot_figures(ore)
    others = tuple(pair for pair in lot.figures if pair[0] != name)
    if value is None:
        kept = None if ore.lot is None else replace(lot, figures=others)
        return f"Lot: {named(known, name)} as shipped", with_ore(work, lot=kept)
    if why := refusal(known, name, value):
        return why, work
    own = tuple(sorted((*others, (name, value))))
    return f"Lot: {named(known, name)} {figure(value)}", with_ore(work, lot=replace(lot, figures=own))


def set_roast(work: Work, roast: RoastPlan, label: str = "Roast") -> Edited:
    """Replace the plan of the roast as a whole."""
    return label, with_recipe(work, roast=roast)


def set_roast_kind(work: Work, kind: RoastKind) -> Edited:
    """Choose whether the roast is reckoned as perfect, as planned, or by its weights."""
    words = {"perfect": "perfect", "planned": "as planned", "weighed": "by its weights"}
    return f"Roast {words[kind]}", with_recipe(work, roast=replace(work.recipe.roast, kind=kind))


def plan_roast(work: Work, finish_temperature: float, minutes: float) -> Edited:
    """Set the finish [degC] and the time [min] of the roast; one reckoned as perfect is then reckoned as planned."""
    roast = replace(work.recipe.roast, finish_temperature=finish_temperature, minutes=minutes)
    label = f"Roast to {figure(finish_temperature)} °C, {figure(minutes)} min"
    return label, with_recipe(work, roast=roast if roast.kind == "weighed" else replace(roast, kind="planned"))


def lay_bed(work: Work, depth: float, rabbled: bool, particle_size: float) -> Edited:
    """Set depth of the bed and size of the grain [mm] and whether it is stirred."""
    stirred = "stirred" if rabbled else "not stirred"
    label = f"Bed {figure(depth)} mm, {stirred}, grain {figure(particle_size)} mm"
    roast = replace(work.recipe.roast, bed_depth=depth, rabbled=rabbled, particle_size=particle_size)
    return label, with_recipe(work, roast=roast)


def weigh_roast(work: Work, before: float | None, after: float | None) -> Edited:
    """Enter the weights before and after the roast [g], which is then reckoned by them; None = not weighed."""
    both = before is not None and after is not None
    if both:
        label = f"Roast weighed {figure(before)} → {figure(after)} g"
    elif before is None and after is None:
        label = "Roast not weighed"
    else:
        label = f"Roast after {figure(after)} g" if before is None else f"Roast before {figure(before)} g"
    kind: RoastKind = "weighed" if both else work.recipe.roast.kind
    return label, with_recipe(work, roast=replace(work.recipe.roast, kind=kind, before=before, after=after))


def set_roast_figure(work: Work, figure_of: RoastFigure, value: float | tuple[tuple[str, float], ...] | None) -> Edited:
    """Set one of the operator's own figures of the roast; None (or no pairs) = the program's own."""
    own: dict[str, Any] = {figure_of: value}
    return f"Roast: own {figure_of.replace('_', ' ')}", with_recipe(work, roast=replace(work.recipe.roast, **own))


def set_programme_figure(work: Work, name: str, value: float | None) -> Edited:
    """Set one of the operator's own figures of the roast's programme, in the unit of its row in the report; None = the
    shipped one.

    A figure that makes no sense leaves the work as it was, and the label says why.
    """
    from fluxlab.ore.own_figures import named
    from fluxlab.ore.roast_figure_list import refused_by_roast, roast_figures

    roast, said = work.recipe.roast, named(roast_figures(), name)
    others = tuple(pair for pair in roast.figures if pair[0] != name)
    if value is None:
        return f"Roast: {said} as shipped", with_recipe(work, roast=replace(roast, figures=others))
    if why := refused_by_roast(dict(others), name, value):
        return why, work
    own = tuple(sorted((*others, (name, value))))
    return f"Roast: {said} {figure(value)}", with_recipe(work, roast=replace(roast, figures=own))


def set_roast_share(work: Work, of: Literal["conversion", "sulphate"], name: str, share: float | None) -> Edited:
    """Set the operator's own share, from 0 to 1, of a mineral burnt or split or of a metal (by symbol) left as
    sulphate; None = the program's own."""
    kept = tuple(pair for pair in getattr(work.recipe.roast, of) if pair[0] != name)
    own: dict[str, Any] = {of: kept if share is None else (*kept, (name, share))}
    what = f"{name} {'burnt' if of == 'conversion' else 'left as sulphate'}"
    said = "the program's figure" if share is None else f"{figure(100.0 * share)} %"
    return f"Roast: {what} {said}", with_recipe(work, roast=replace(work.recipe.roast, **own))
