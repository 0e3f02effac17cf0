"""Chances of sums of squares against scipy."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from staking.survey.chances import chi_square, ratio_of_pair

values = st.floats(0, 500)


@given(values, st.integers(1, 60))
def test_sums_of_squares_agree_with_scipy(value: float, freedom: int) -> None:
    """The upper tail is scipy's, for even and odd freedoms."""
    assert chi_square(value, freedom) == pytest.approx(float(stats.chi2.sf(value, freedom)), rel=1e-9, abs=1e-300)


@given(values, st.integers(1, 60))
def test_ratios_of_a_pair_agree_with_scipy(value: float, freedom: int) -> None:
    """The upper tail is scipy's F with 2 degrees of freedom above."""
    assert ratio_of_pair(value, freedom) == pytest.approx(float(stats.f.sf(value, 2, freedom)), rel=1e-9)


def test_edges() -> None:
    """No freedom leaves nothing to doubt; huge sums have no chance; what is no sum of squares is refused."""
    assert (chi_square(5.0, 0), chi_square(1e12, 3), chi_square(0.0, 4)) == (1.0, 0.0, 1.0)
    with pytest.raises(ValueError, match="not below 0"):
        chi_square(-1.0, 2)
    with pytest.raises(ValueError, match="needs freedom"):
        ratio_of_pair(1.0, 0)
