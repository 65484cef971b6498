"""The reasons of the recipe against solving anew with one thing changed."""

from dataclasses import replace

import numpy as np
import pytest

from fluxlab.blend.problem import compile, update
from fluxlab.blend.solve import solve
from fluxlab.design.balance import Balance, balance
from fluxlab.design.evaluate import evaluate
from fluxlab.design.recipe import Line, Target, Work
from fluxlab.design.why_report import why_report
from fluxlab.design.why_types import Move
from fluxlab.materials.oxides import INDEX, MASS
from tests.works import DIRTY, with_lines, with_target, work_of

PARTS = with_target(work_of(DIRTY), Target("parts", lo=2.5))
WORKS: dict[str, Work] = {
    "flux to ore": work_of(),
    "parts of gangue": PARTS,
    "zinc": with_target(work_of(), Target("cap:ZnO", hi=3.9)),
    "lead collection": work_of(route="lead collection"),
    "fixed sand": with_lines(work_of(), Line("borax-glass"), Line("soda-ash-dense"), Line("silica-sand", 55.0)),
}


def fresh(found: Balance) -> tuple[object, np.ndarray]:
    c = found.compiled
    windows = tuple(
        replace(w, lo=float(c.window_lo[k]), hi=float(c.window_hi[k])) for k, w in enumerate(c.problem.windows)
    )
    made, _ = compile(replace(c.problem, b=c.b, windows=windows))
    return made, solve(made).x


def grams(moves: tuple[Move, ...]) -> dict[str, float]:
    return {m.flux: m.grams for m in moves}


@pytest.mark.parametrize("name", WORKS)
def test_one_more_gram_of_an_oxide_asks_for_what_solving_anew_gives(name: str) -> None:
    work = WORKS[name]
    found = balance(work)
    made, before = fresh(found)
    report = why_report(work, found)
    assert report.oxides
    for each in report.oxides:
        amount = 0.01 if each.holds_for is None else min(0.01, 0.5 * each.holds_for)
        if amount <= 1e-6 or found.result.status != "ok":
            continue
        b = found.compiled.b.copy()
        b[INDEX[each.oxide]] += amount / MASS[INDEX[each.oxide]]
        update(made, b=b)  # type: ignore[arg-type]
        if each.oxide in ("SiO2", "Al2O3", "CaO", "K2O") and "parts#lo" in made.index:  # type: ignore[attr-defined]
            lo = found.compiled.window_lo[found.compiled.index["parts#lo"]]
            update(made, limits={"parts#lo": (lo * (1 + amount / found.setting.gangue), np.inf)})  # type: ignore[arg-type]
        after = solve(made).x  # type: ignore[arg-type]
        made, _ = fresh(found)
        moved = (after - before) / amount
        told = grams(each.moves)
        for line, g in zip(found.fluxes.lines, moved, strict=False):
            assert told.get(line.flux, 0.0) == pytest.approx(g, abs=max(0.011, 0.021 * np.abs(moved).max())), each


def test_parts_of_gangue_ask_for_flux_with_every_gram_of_gangue() -> None:
    """Least flux under "2.5 parts to one of gangue" and nothing else: 2.5 g for a gram of silica."""
    work = replace(PARTS, recipe=replace(PARTS.recipe, targets=(Target("parts", lo=2.5),)))
    found = balance(work)
    silica = next(o for o in why_report(work, found).oxides if o.oxide == "SiO2")
    assert sum(m.grams for m in silica.moves) == pytest.approx(2.5, abs=0.02)


@pytest.mark.parametrize("name", WORKS)
def test_opening_a_limit_buys_what_solving_anew_gives(name: str) -> None:
    work = WORKS[name]
    found = balance(work)
    for each in why_report(work, found).limits:
        made, before = fresh(found)
        k = made.index[each.limit]  # type: ignore[attr-defined]
        part = float(made.tol[k])  # type: ignore[attr-defined]
        lo, hi = float(made.window_lo[k]) - part, float(made.window_hi[k]) + part  # type: ignore[attr-defined]
        update(made, limits={each.limit: (lo, hi)})  # type: ignore[arg-type]
        moved = solve(made).x - before  # type: ignore[arg-type]
        told = grams(each.moves)
        for line, g in zip(found.fluxes.lines, moved, strict=False):
            assert told.get(line.flux, 0.0) == pytest.approx(g, abs=max(0.02, 0.05 * np.abs(moved).max()))
        assert each.flux == pytest.approx(float((found.fluxes.is_flux * moved[: len(found.x)]).sum()), abs=0.05)


def test_each_row_says_what_the_table_says_and_what_opening_it_takes_off() -> None:
    work = WORKS["flux to ore"]
    report, table = why_report(work, balance(work)), evaluate(work)
    assert [line.flux for line in report.lines] == [line.flux for line in table.lines]
    for ours, theirs in zip(report.lines, table.lines, strict=True):
        assert ours.sentence.startswith(theirs.why)
        assert ours.grams == pytest.approx(theirs.grams)
        assert ("opening that by" in ours.sentence) <= bool(ours.limit)
    assert any("opening that by" in line.sentence and "takes off" in line.sentence for line in report.lines)


def test_a_fixed_row_is_held_by_the_hand_and_by_no_limit() -> None:
    work = WORKS["fixed sand"]
    row = why_report(work, balance(work)).lines[2]
    assert (row.limit, row.sentence) == ("", "Fixed by you")


def test_the_sentences_speak_of_fluxes_by_name() -> None:
    work = WORKS["zinc"]
    report = why_report(work, balance(work))
    zinc = next(o for o in report.oxides if o.oxide == "ZnO")
    assert zinc.sentence.startswith("One more gram of ZnO in the charge asks for ")
    assert "soda ash, dense" in zinc.sentence
    assert "soda-ash-dense" not in zinc.sentence
    assert any(w.sentence.startswith("Opening zinc oxide at most 3.9 % by 0.5 %: ") for w in report.limits)


def test_money_is_told_where_fluxes_have_prices() -> None:
    work = WORKS["zinc"]
    shelf = replace(work.shelf, currency="€", fluxes=tuple(replace(c, price=4.0) for c in work.shelf.fluxes))
    priced = replace(work, shelf=shelf)
    for each in why_report(priced, balance(priced)).limits:
        assert each.cost is not None
        assert each.cost == pytest.approx(4e-3 * sum(m.grams for m in each.moves), abs=1e-3)
        assert "€" in each.sentence


def test_nothing_to_explain_is_no_fault() -> None:
    work = work_of()
    bare = replace(work, recipe=replace(work.recipe, lines=(), targets=()))
    report = why_report(bare, balance(bare))
    assert report.lines == ()
    assert report.limits == ()
