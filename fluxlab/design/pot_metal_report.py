"""Metal, sulphur and silver of the pot, for the report."""

from collections.abc import Iterator

from fluxlab.design.pot_text import METALS, lead_sentence, recovery_sentence, sulphur_sentence
from fluxlab.design.pot_types import (
    AS_SULPHATE,
    BURNT,
    IN_MATTE,
    IN_SLAG,
    STILL_SULPHATE,
    ButtonReport,
    CupelReport,
    MetalRow,
    SilverRow,
    SulphurReport,
    SulphurRow,
)
from fluxlab.design.report_types import Amount
from fluxlab.fusion.bullion import Bullion
from fluxlab.fusion.cupel import CupelAdvice, cupel_data
from fluxlab.fusion.pot_types import FusionCharge, InThePot
from fluxlab.fusion.pot_words import against_matte, grams
from fluxlab.fusion.tables import Tables
from fluxlab.materials.estimate import Estimate
from fluxlab.materials.formulas import atomic_mass, formula

_OWN = "the operator's own"
_LEAST = 1e-3
_SULPHATE = formula("Na2SO4").mass / atomic_mass("S")


def amount(estimate: Estimate) -> Amount:
    """An estimate as a figure of the report."""
    return Amount(estimate.value, estimate.low, estimate.high)


def button_report(found: Bullion, tables: Tables, lead: float | None = None) -> ButtonReport:
    """The button with its metals [g, %]; `lead` [g Pb] is what litharge gives where a lead button is aimed at."""
    recovery = None if found.silver_recovery is None else amount(found.silver_recovery)
    gold = None if found.gold_recovery is None else amount(found.gold_recovery)
    told = recovery_sentence(found.yields, gold, "gold") if recovery is None and gold else None
    told = told or recovery_sentence(found.yields, recovery)
    return ButtonReport(
        mass=amount(found.mass),
        metals=tuple(
            MetalRow(
                p.symbol, METALS.get(p.symbol, p.symbol), amount(p.grams), p.percent, _metal_source(p.symbol, tables)
            )
            for p in found.parts
            if p.grams.value > _LEAST * found.mass.value
        ),
        silver_fineness=amount(found.silver_fineness),
        gold_fineness=amount(found.gold_fineness),
        density=None if found.density is None else amount(found.density),
        yield_percent=found.yields,
        silver_recovery_percent=recovery,
        gold_recovery_percent=gold,
        sentence=" ".join(part for part in (_of_lead(found, lead), told) if part),
        source=f"shares of the metals: {_shares(tables)}; density: {tables.bullion['pores']['source']}",
    )


def _of_lead(found: Bullion, lead: float | None) -> str:
    where = found.ends.elements.get("Pb")
    return "" if lead is None or where is None else lead_sentence(lead, where, found.mass.value)


def _shares(tables: Tables) -> str:
    """Where the shares of the metals are from."""
    own = ", ".join(METALS.get(symbol, symbol) for symbol in tables.own)
    stands = str(tables.deportment["source"])
    return f"{_OWN} for {own}; otherwise {stands}" if own else stands


def _metal_source(symbol: str, tables: Tables) -> str:
    if symbol == "Ag":
        return "what slag, matte, speiss, drops and fume leave of it; see the places of the silver"
    if symbol == "Au":
        return str(tables.sulphur["gold"]["source"])
    share, own = str(tables.deportment["source"]), tables.own.get(symbol)
    if own is not None:
        share = _OWN if own.metal is not None else f"{_OWN} as far as given; otherwise {share}"
    if symbol == "Pb":
        return f"lead of litharge by the balance of oxygen, other lead by its share: {share}"
    return f"share of the metal: {share}"


def silver_rows(found: Bullion, tables: Tables, step: float = 0.0) -> tuple[SilverRow, ...]:
    """Where the silver is, the button first [g, %]; nothing without silver.

    What to do is told of more silver than a `step` of the balance [g] shows.
    """
    places = found.silver
    if places is None:
        return ()
    total = found.ends.elements["Ag"].total
    table, drops, lost = tables.sulphur["silver"], tables.losses, tables.deportment
    told = (
        ("button", places.button, "", lost["source"]),
        ("drops of metal in the slag", places.drops, "Crush the slag, screen and pan it.", drops["prills"]["source"]),
        ("dissolved in the slag", places.slag, "Only another melt with a collector gets it.", table["slag"]["source"]),
        ("matte", places.matte, "Keep the matte: roast it dead and melt it again.", table["matte"]["source"]),
        ("speiss", places.speiss, "Keep the speiss apart; it is hard to treat.", table["speiss"]["source"]),
        ("fume", places.fume, "Do not overheat, keep a cover of slag.", _shares(tables)),
        ("pot, mould and tools", places.handling, "Keep pots and sweepings.", lost["handling"]["source"]),
    )
    return tuple(
        SilverRow(place, amount(each), 100.0 * each.value / total, words if each.value > step else "", source)
        for place, each, words, source in told
        if place == "button" or each.high > 1e-9 * total
    )


def sulphur_report(pot: InThePot, charge: FusionCharge) -> SulphurReport:
    """Where sulphur and arsenic go [g]."""
    tables = charge.tables
    fate, layers = pot.sulphur, pot.bullion.layers
    matte, dissolved, speiss = amount(layers.matte), amount(layers.dissolved), amount(layers.speiss)
    left = fate.matte > _LEAST
    return SulphurReport(
        total=fate.total,
        rows=tuple(
            row for row in _sulphur_rows(pot, tables) if row.sulphur > _LEAST or (row.mass and row.mass.value > _LEAST)
        ),
        matte=matte,
        dissolved=dissolved,
        speiss=speiss,
        soda_used=fate.soda_used,
        iron_wanted=amount(fate.iron_wanted) if left and fate.iron_wanted.value > _LEAST else None,
        nitre_wanted=fate.nitre_wanted if left and fate.nitre_wanted > _LEAST else None,
        against=against_matte(charge, fate, pot.bullion),
        sentence=sulphur_sentence(matte, dissolved, speiss),
    )


def _sulphur_rows(pot: InThePot, tables: Tables) -> Iterator[SulphurRow]:
    fate, ends, layers = pot.sulphur, pot.bullion.ends, pot.bullion.layers
    data, held = tables.sulphur, tables.litharge["sulphate"]["constant_source"]
    in_slag = ends.matte.dissolved * formula("FeS").mass_fractions["S"]
    order = "copper first, then iron, lead and silver: computed free energies of the sulphides"
    back = tables.redox["sulphates"]["source"]
    alkali = fate.sulphate * _SULPHATE
    free = "with zinc, manganese or soda, or off as vapour"
    hood, layer = "Under a hood.", "A grey brittle layer on the metal; it holds silver."
    zinc = "What stays is diffused in the slag and may hold silver."
    speiss = "A hard white-grey layer; keep it apart."
    booked = "booked as Fe5As2: found, Collins, The Metallurgy of Lead, p. 144; masses computed; share of the arsenic: "
    yield SulphurRow(BURNT, fate.dioxide, None, hood, held)
    yield SulphurRow(AS_SULPHATE, fate.sulphate, Amount(alkali), "A watery layer on the slag; no flux.", held)
    yield SulphurRow(IN_MATTE, fate.matte - in_slag, amount(layers.matte), layer, order)
    own = amount(layers.dissolved)
    yield SulphurRow(IN_SLAG, in_slag, own, "No layer of its own.", data["dissolves"]["source"])
    yield SulphurRow(STILL_SULPHATE, fate.stays, None, "Stays in the slag or floats on it.", back)
    yield SulphurRow(free, fate.free, None, zinc, data["soda_slag"]["source"])
    yield SulphurRow("speiss (arsenic)", 0.0, amount(layers.speiss), speiss, booked + _shares(tables))


def cupel_report(advice: CupelAdvice | None) -> CupelReport | None:
    """The cupel of a lead button; None where no lead collects or hardly any comes down."""
    if advice is None:
        return None
    table, loss = cupel_data(), advice.silver_loss
    first = f"The button is too heavy to cupel: scorify it down to {advice.cupel:.0f} g first. " if advice.heavy else ""
    said = (first, f"A cupel of at least {advice.cupel:.0f} g, for the lead", _cupel_loss(advice), _cupel_harm(advice))
    rows = [table["cupel"]] if loss is None else [table[row] for row in _CUPEL_ROWS]
    told = [row["source"] for row in rows]
    if advice.extrapolated and loss is not None:
        told.append(table["together"]["beyond_source"])
    return CupelReport(
        cupel=advice.cupel,
        silver_loss_percent=None if loss is None else amount(loss),
        scorify=advice.scorify,
        sentence="".join(said),
        source="; ".join(told),
    )


_CUPEL_ROWS = ("cupel", "loss", "loss_by_silver", "loss_by_heat", "base", "together")


def _cupel_loss(advice: CupelAdvice) -> str:
    loss = advice.silver_loss
    if loss is None:
        return "."
    about = "at least" if advice.beyond else "about"
    beyond = " Lead or silver lies beyond what was measured." if advice.extrapolated else ""
    ends = f"({loss.low:.1f} to {loss.high:.1f} %, the more the hotter)"
    return f"; it keeps {about} {loss.value:.1f} % of the silver {ends}.{beyond}"


def _cupel_harm(advice: CupelAdvice) -> str:
    """What copper and antimony do, and whether to scorify for their sake."""
    named = {symbol: f"{grams(held)} of {METALS[symbol]}" for symbol, held in advice.harmful.items()}
    if advice.beyond:
        much = " and ".join(named[symbol] for symbol in advice.beyond)
        return f" {much} in the button is more than a cupel was tried with: scorify it with more lead first."
    counted = " and ".join(words for symbol, words in named.items() if advice.harmful[symbol] >= _COUNTS)
    return f" {counted} in it cost silver, which is counted." if counted and advice.silver_loss is not None else ""


_COUNTS = 0.005  # g of copper or antimony that is worth a word: judgement
