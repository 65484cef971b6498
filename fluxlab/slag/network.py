"""Non-bridging oxygen per network former, an estimate of how broken the glass network is."""

from fluxlab.materials.oxides import INDEX, OXYGENS, Vec

# judgement: alkalis and alkaline earths make up the charge that a trivalent former lacks, two charges an oxide
_CHARGE_BRINGERS = [INDEX[symbol] for symbol in ("Na2O", "K2O", "Li2O", "CaO", "MgO", "BaO", "SrO")]


def nbo_per_t(n: Vec, with_boron: bool = False) -> float | None:
    """Non-bridging oxygens per network former of a composition [mol], an estimate [-]; None without a former.

    NBO/T = 2 (O - 2 T)/T with T = Si + P, and of Al and then ferric iron as much as alkalis and alkaline earths
    balance. Without boron its oxide is left out altogether. With it, boron takes what charge is left to stand with four
    oxygens; the rest stands with three, all of them bridging, so that pure boric oxide comes out at nil.
    """
    boric = n[INDEX["B2O3"]]
    oxygen = float(OXYGENS @ n) - OXYGENS[INDEX["B2O3"]] * boric
    charge = 2.0 * float(n[_CHARGE_BRINGERS].sum())
    aluminium = min(2.0 * n[INDEX["Al2O3"]], charge)
    ferric = min(2.0 * n[INDEX["Fe2O3"]], charge - aluminium)
    formers = n[INDEX["SiO2"]] + 2.0 * n[INDEX["P2O5"]] + aluminium + ferric
    non_bridging = 2.0 * oxygen - 4.0 * formers
    if with_boron:
        fourfold = min(2.0 * boric, charge - aluminium - ferric)
        threefold = 2.0 * boric - fourfold
        formers += fourfold + threefold
        non_bridging += 2.0 * OXYGENS[INDEX["B2O3"]] * boric - 4.0 * fourfold - 3.0 * threefold
    return float(non_bridging / formers) if formers > 0.0 else None
