"""The oxide basis keeps mass, and fluorine takes calcium of its own substance."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fluxlab.materials import oxides
from fluxlab.materials.formulas import atomic_mass, formula


def mass_of(placed: oxides.Placed) -> float:
    return float(oxides.grams(placed.oxides).sum()) + sum(n * atomic_mass(s) for s, n in placed.rest.items())


def named(n: oxides.Vec) -> dict[str, float]:
    return {s: float(v) for s, v in zip(oxides.OXIDES, n, strict=True) if v != 0.0}


def test_the_basis_has_its_agreed_members_in_order() -> None:
    assert " ".join(oxides.OXIDES) == (
        "SiO2 B2O3 P2O5 Al2O3 TiO2 FeO Fe2O3 MnO ZnO PbO Cu2O CaO MgO BaO SrO Na2O K2O Li2O CaF2 F "
        "ZrO2 Cr2O3 Sb2O3 As2O3 NiO CoO SnO2 Bi2O3 CdO CeO2"
    )


def test_fluorspar_stays_whole() -> None:
    assert named(oxides.place(formula("CaF2").atoms).oxides) == {"CaF2": 1.0}


def test_fluorine_without_calcium_stays_loose() -> None:
    placed = oxides.place(formula("Na3AlF6").atoms)
    assert named(placed.oxides) == {"Al2O3": 0.5, "Na2O": 1.5, "F": 6.0}
    assert not placed.rest


def test_apatite_keeps_the_lime_that_its_fluorine_leaves() -> None:
    assert named(oxides.place(formula("Ca5(PO4)3F").atoms).oxides) == {"P2O5": 1.5, "CaO": 4.5, "CaF2": 0.5}


def test_iron_is_split_without_loss() -> None:
    split = oxides.split_iron(oxides.vector({"FeO": 3.0, "Fe2O3": 1.0}), 0.4)
    assert named(split) == pytest.approx({"FeO": 3.0, "Fe2O3": 1.0})
    assert named(oxides.place({"Fe": 1.0}, 1.0).oxides) == {"Fe2O3": 0.5}


def test_what_has_no_place_is_handed_back() -> None:
    placed = oxides.place(formula("KFe3(SO4)2(OH)6").atoms)
    assert dict(placed.rest) == {"S": 2.0, "H": 6.0, "O": 10.5}


SYMBOLS = [*sorted(oxides.ELEMENTS), "S", "C", "H", "O", "Ag"]


@given(st.dictionaries(st.sampled_from(SYMBOLS), st.floats(1e-3, 50.0), min_size=1))
def test_mass_is_kept_whatever_the_substance(atoms: dict[str, float]) -> None:
    for ferric in (0.0, 0.3, 1.0):
        whole = sum(n * atomic_mass(s) for s, n in atoms.items())
        assert mass_of(oxides.place(atoms, ferric)) == pytest.approx(whole, rel=1e-12)


def test_model_percent_writes_fluorspar_as_lime_and_fluorine() -> None:
    share = dict(
        zip(oxides.OXIDES, oxides.model_weight_percent(oxides.vector({"CaF2": 1.0, "SiO2": 1.0})), strict=True)
    )
    lime, fluorine, silica = 56.077, 2 * 18.998, 60.083
    whole = lime + fluorine + silica
    assert share["CaO"] == pytest.approx(100 * lime / whole, rel=1e-4)
    assert share["F"] == pytest.approx(100 * fluorine / whole, rel=1e-4)
    assert share["CaF2"] == 0.0


def test_an_empty_composition_has_no_percentages() -> None:
    assert not oxides.weight_percent(np.zeros(oxides.SIZE)).any()
    assert not oxides.model_weight_percent(np.zeros(oxides.SIZE)).any()


def test_percentages_sum_to_a_hundred() -> None:
    n = oxides.from_masses({"SiO2": 40.0, "Na2O": 30.0, "CaF2": 20.0, "F": 10.0})
    assert oxides.weight_percent(n).sum() == pytest.approx(100.0)
    assert oxides.model_weight_percent(n).sum() == pytest.approx(100.0)
    assert oxides.weight_percent(n)[oxides.INDEX["Na2O"]] == pytest.approx(30.0)


def test_loose_fluorine_with_soda_has_the_volume_of_sodium_fluoride() -> None:
    soda, fluorine = oxides.INDEX["Na2O"], oxides.INDEX["F"]
    volume = oxides.MASS[soda] / oxides.MELT_DENSITY[soda] + 2 * oxides.MASS[fluorine] / oxides.MELT_DENSITY[fluorine]
    assert volume == pytest.approx(2 * 41.988 / 2.0, rel=1e-4)


def test_a_symbol_outside_the_basis_is_our_fault() -> None:
    with pytest.raises(KeyError):
        oxides.vector({"SO3": 1.0})


def test_the_tables_cannot_be_written_to() -> None:
    with pytest.raises(ValueError, match="read-only"):
        oxides.MASS[0] = 1.0


def test_every_row_names_its_sources() -> None:
    from fluxlab import resources

    for row in resources.table("oxides.csv"):
        for title, text in row.items():
            if title.endswith("_source"):
                assert text, (row["symbol"], title)
