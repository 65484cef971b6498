"""From the lot to the concentrate to the calcine: ratios, recoveries, and how sure they are.

Recovery by weight is what the concentrate holds over what the lot held; the two-product formula needs the three grades
and no weight, and errs less where the tailing is poor. Ranges are nine in ten, the errors free of one another.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import exp, isfinite, sqrt

from fluxlab.issue import Issue, error, note, warning
from fluxlab.materials.estimate import NINE_IN_TEN, Estimate
from fluxlab.ore.grade import converted, fraction
from fluxlab.ore.lot_figures import figures_of
from fluxlab.ore.lot_types import GradeErrors, LotBalance, LotFigures, MetalBalance
from fluxlab.ore.ore_types import Grade, GradeUnit, Lot, OreType
from fluxlab.ore.sampling import sampling_of

_Three = tuple[Grade | None, Grade | None, Grade | None]
_WHERE = "ore.lot"
_GRADES = "computed; errors of assays and weights: "
_SAMPLED = "; sampling: Gy, from memory"


def concentration_ratio(lot: float, concentrate: float) -> float:
    """Parts of lot that make one part of concentrate [g/g], by weight."""
    return lot / concentrate


def ratio_by_grades(head: float, concentrate: float, tail: float) -> float:
    """Parts of lot that make one part of concentrate [g/g], from three grades in one unit: (c - t)/(h - t)."""
    return (concentrate - tail) / (head - tail)


def two_product_recovery(head: float, concentrate: float, tail: float) -> float:
    """Share of the metal that is in the concentrate [0..1], from three grades in one unit: c(h - t)/(h(c - t))."""
    return concentrate * (head - tail) / (head * (concentrate - tail))


def calcine_grade(concentrate: float, change: float, lost: float) -> float:
    """Grade of the calcine in the unit of the concentrate's: it rises as the mass falls.

    `change` of the mass in the roast [g/g] and the share of the metal `lost` in it [g/g].
    """
    return concentrate * (1.0 - lost) / (1.0 + change)


def lot_balance(ore: OreType, change: Estimate, silver_loss: Estimate) -> LotBalance:
    """What became of the ore's lot [g, dry]: ratios, table recoveries and the metals down to the calcine.

    The grades of the ore type are the concentrate's, or the lot's own where it is described as ore. `change` of the
    concentrate's mass in the roast [%] and `silver_loss` [%]; gold is taken to stay. Errors of assays and weights are
    the lot's own figures or the shipped ones; its sampling is added. What cannot be reckoned is None, and what
    contradicts itself is an issue.
    """
    lot = ore.lot or Lot()
    figures, refused = figures_of(ore)
    issues: list[Issue] = list(refused)
    whole = _mass("lot", lot.mass, issues)
    product = _mass("concentrate", lot.concentrate, issues)
    if whole is not None and product is not None and product > whole:
        sentence = f"The concentrate of {product:g} g weighs more than the lot of {whole:g} g."
        issues.append(error(_WHERE, sentence, "Give both dry and in grams."))
        product = None
    left = 1.0 + change.value / 100.0
    stays = {
        "silver": _kept(silver_loss),
        "gold": Estimate(100.0, 100.0, 100.0, "gold stays in the roast: common practice, no source"),
    }
    metals, by_grades = [], None
    for metal, symbol, three, carrier in _told(ore, lot):
        h, c, t = _sound(metal, three, issues)
        if h is None and c is None and t is None:
            continue
        sampling, odd = sampling_of(lot, h, carrier, symbol, figures)
        issues.extend(odd)
        metals.append(_metal(metal, (h, c, t), (whole, product), left, stays[metal], (figures, sampling), issues))
        if h and c and t and by_grades is None:
            by_grades = ratio_by_grades(fraction(h), fraction(c), fraction(t))
    return LotBalance(
        lot=whole,
        concentrate=product,
        calcine=None if product is None else product * left,
        ratio=None if whole is None or product is None else concentration_ratio(whole, product),
        ratio_by_grades=by_grades,
        metals=tuple(metals),
        issues=tuple(issues),
    )


def _kept(loss: Estimate) -> Estimate:
    """Silver that a roast keeps [%], from what it loses."""
    source = f"silver lost in the roast, {loss.source}" if loss.source else ""
    return Estimate(100.0 - loss.value, 100.0 - loss.high, 100.0 - loss.low, source)


def _told(ore: OreType, lot: Lot) -> Iterator[tuple[str, str, _Three, str]]:
    """The metals of which a grade is told: name, symbol, grades of lot, concentrate and tailing, carrier."""
    of_product, of_lot = ore.stage == "concentrate", ore.stage == "ore"
    for metal, symbol, head, own, tail, carrier in (
        ("silver", "Ag", lot.silver, ore.silver, lot.tail_silver, ore.silver_carrier),
        ("gold", "Au", lot.gold, ore.gold, lot.tail_gold, ore.gold_carrier),
    ):
        three = (head or (own if of_lot else None), own if of_product else None, tail)
        if any(grade is not None for grade in three):
            yield metal, symbol, three, carrier


def _metal(
    metal: str,
    grades: _Three,
    masses: tuple[float | None, float | None],
    left: float,
    kept: Estimate,
    unsure: tuple[LotFigures, Estimate | None],
    issues: list[Issue],
) -> MetalBalance:
    (head, product, tail), (lot, mass), (figures, sampling) = grades, masses, unsure
    errors = _with(figures.errors, sampling)
    unit = next(g.unit for g in (product, head, tail) if g is not None)
    burnt = calcine_grade(_in_unit(product, unit) or 0.0, left - 1.0, 0.0)
    h, c, t = (None if g is None else fraction(g) for g in (head, product, tail))
    in_lot = None if h is None or lot is None else _spread(errors.source, h * lot, errors.head, errors.weighing)
    in_product = (
        None
        if c is None or mass is None
        else _spread(figures.errors.source, c * mass, errors.concentrate, errors.weighing)
    )
    by_weight = two_product = None
    if in_lot is not None and in_product is not None and in_lot.value > 0.0 and errors.head <= figures.untold:
        share = 100.0 * in_product.value / in_lot.value
        off = (errors.head, errors.concentrate, errors.weighing, errors.weighing)
        by_weight = _spread(errors.source, share, *off)
    if in_lot is not None and errors.head > figures.untold:
        issues.append(note(_WHERE, f"The {metal} grade of the lot is too unsure to tell a recovery by weight from it."))
    if h and c and t is not None:
        two_product = _two_product(h, c, t, errors)
    recovery = _surer(metal, by_weight, two_product, figures.apart, issues)
    enrichment = _spread(errors.source, c / h, errors.head, errors.concentrate) if h and c else None
    return MetalBalance(
        metal=metal,
        unit=unit,
        head=_in_unit(head, unit),
        concentrate=_in_unit(product, unit),
        tail=_in_unit(tail, unit),
        calcine=None if product is None else _product(_spread(figures.errors.source, burnt, errors.concentrate), kept),
        in_lot=in_lot,
        in_concentrate=in_product,
        in_calcine=None if in_product is None else _product(in_product, kept),
        enrichment=enrichment,
        by_weight=by_weight,
        two_product=two_product,
        recovery=recovery,
        kept=kept,
        overall=None if recovery is None else _product(recovery, kept),
        sampling=sampling,
    )


def _sound(metal: str, three: _Three, issues: list[Issue]) -> _Three:
    """Head, concentrate and tail as far as they can be: a tailing that is no poorer than the lot is left out."""
    kept = []
    for name, grade in zip(("lot", "concentrate", "tailing"), three, strict=True):
        if grade is not None and not 0.0 <= fraction(grade) <= 1.0:
            sentence = (
                f"The {metal} grade of the {name}, {grade.value:g} {grade.unit}, is not possible; it is left out."
            )
            issues.append(error(_WHERE, sentence, "Give it as the laboratory did, with its unit."))
            grade = None
        kept.append(grade)
    h, c, t = kept
    if h is not None and c is not None and fraction(c) <= fraction(h):
        sentence = f"By its {metal} the concentrate is no richer than the lot."
        issues.append(warning(_WHERE, sentence, "Check which grade is whose, and the units."))
        t = None
    if h is not None and t is not None and fraction(t) >= fraction(h):
        sentence = f"By its {metal} the tailing is no poorer than the lot; it is left out."
        issues.append(warning(_WHERE, sentence, "Check which grade is whose, and the units."))
        t = None
    return h, c, t


def _mass(what: str, mass: float | None, issues: list[Issue]) -> float | None:
    if mass is None or (isfinite(mass) and mass > 0.0):
        return mass
    issues.append(error(_WHERE, f"A {what} of {mass:g} g is not possible.", "Give its dry mass in grams."))
    return None


def _two_product(h: float, c: float, t: float, errors: GradeErrors) -> Estimate:
    """The two-product recovery [%], between nothing and all: what each grade's range does to it, added as squares.

    Where a grade is very unsure the range is lopsided, since a lot no richer than its tailing gives nothing.
    """
    value = _recovered(h, c, t)
    ends = [
        sorted((_recovered(*_moved((h, c, t), which, -off)), _recovered(*_moved((h, c, t), which, off))))
        for which, off in enumerate((errors.head, errors.concentrate, errors.tail))
    ]
    down, up = (sqrt(sum((pair[end] - value) ** 2 for pair in ends)) for end in (0, 1))
    return Estimate(value, max(value - down, 0.0), min(value + up, 100.0), _GRADES + errors.source)


def _moved(grades: tuple[float, float, float], which: int, off: float) -> tuple[float, float, float]:
    """The three grades with one of them at an end of its nine-in-ten range, `off` its error [%] with a sign."""
    h, c, t = (g * exp(NINE_IN_TEN * off / 100.0) if i == which else g for i, g in enumerate(grades))
    return h, c, t


def _recovered(h: float, c: float, t: float) -> float:
    """Two-product recovery [%]; nothing from a lot that is no richer than its tailing."""
    return 100.0 * min(max(two_product_recovery(h, c, t), 0.0), 1.0) if c > t else 0.0


def _surer(
    metal: str, one: Estimate | None, other: Estimate | None, apart: float, issues: list[Issue]
) -> Estimate | None:
    """The recovery with the narrower range; a figure above 100 % or two that contradict each other are said."""
    known = [r for r in (one, other) if r is not None]
    if not known:
        return None
    best = min(known, key=lambda r: r.high - r.low)
    if one is not None and other is not None:
        sigma = sqrt((one.high - one.low) ** 2 + (other.high - other.low) ** 2) / (2.0 * NINE_IN_TEN)
        if abs(one.value - other.value) > apart * sigma:
            sentence = (
                f"By weight {one.value:.0f} % of the {metal} is in the concentrate, by the three grades"
                f" {other.value:.0f} %: they do not go together."
            )
            issues.append(warning(_WHERE, sentence, "Weigh again, or sample the lot and the tailing again."))
    if best.value > 100.0:
        sentence = f"The concentrate holds {best.value:.0f} % of the {metal} that the lot is said to hold."
        remedy = (
            "The grade of the lot is the likeliest to be off: coarse silver and gold are easily missed by a sample."
        )
        issues.append(warning(_WHERE, sentence, remedy))
    elif best.high > 100.0:
        issues.append(
            note(_WHERE, f"The range of the {metal} recovery reaches past 100 %: the assays are that unsure.")
        )
    return best


def _with(errors: GradeErrors, sampling: Estimate | None) -> GradeErrors:
    """The errors with the chance of the lot's sample added to that of its grade."""
    if sampling is None:
        return errors
    return replace(errors, head=sqrt(errors.head**2 + sampling.value**2), source=errors.source + _SAMPLED)


def _spread(source: str, value: float, *errors: float) -> Estimate:
    """A value with the nine-in-ten range of its relative errors [%] from that source, a log-normal one."""
    off = NINE_IN_TEN * sqrt(sum((e / 100.0) ** 2 for e in errors))
    return Estimate(value, value * exp(-off), value * exp(off), _GRADES + source)


def _product(one: Estimate, share: Estimate) -> Estimate:
    """An estimate times a share [%] of its own range: the relative distances to each end add as squares."""
    value = one.value * share.value / 100.0
    if value <= 0.0 or not share.value > 0.0:
        return Estimate(value, value, value, one.source)
    down = sqrt((1.0 - one.low / one.value) ** 2 + (1.0 - share.low / share.value) ** 2)
    up = sqrt((one.high / one.value - 1.0) ** 2 + (share.high / share.value - 1.0) ** 2)
    return Estimate(
        value, value * max(1.0 - down, 0.0), value * (1.0 + up), f"{one.source}; {share.source}".strip("; ")
    )


def _in_unit(grade: Grade | None, unit: GradeUnit) -> float | None:
    return None if grade is None else converted(grade, unit).value
