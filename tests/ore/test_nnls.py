"""Our least squares without negative amounts against scipy's."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import nnls as referee

from fluxlab.ore.nnls import nnls


@settings(deadline=None, max_examples=300)
@given(
    st.integers(0, 2**32 - 1), st.integers(1, 14), st.integers(1, 14), st.sampled_from(["normal", "sparse", "twins"])
)
def test_the_residual_is_as_small_as_scipy_s(seed: int, rows: int, columns: int, kind: str) -> None:
    rng = np.random.default_rng(seed)
    a = rng.normal(size=(rows, columns)) if kind == "normal" else rng.random((rows, columns))
    if kind == "sparse":
        a *= rng.random((rows, columns)) < 0.4
    if kind == "twins" and columns > 1:
        a[:, 1] = a[:, 0]
    b = rng.normal(size=rows) if kind == "normal" else rng.random(rows)
    x = nnls(a, b)
    assert (x >= 0.0).all()
    assert np.linalg.norm(a @ x - b) == pytest.approx(referee(a, b)[1], abs=1e-10)


def test_an_exact_mix_is_found_again() -> None:
    rng = np.random.default_rng(5)
    a = rng.random((9, 6))
    truth = np.array([0.4, 0.0, 0.3, 0.0, 0.2, 0.1])
    assert nnls(a, a @ truth) == pytest.approx(truth, abs=1e-10)


def test_nothing_asked_gives_nothing() -> None:
    assert not nnls(np.ones((3, 2)), np.zeros(3)).any()
