"""Permitted differences of lengths, as the sheet prints them."""

from __future__ import annotations

import pytest

from staking.layout.tolerances import of_length

FOOT, INCH = 0.3048, 0.0254


@pytest.mark.parametrize("noise", [-1e-9, 0.0, 1e-9])
@pytest.mark.parametrize(("feet", "inches"), [(9.99, 0.125), (10.0, 0.25), (100.0, 0.25)])
def test_the_last_digits_of_a_length_choose_nothing(feet: float, inches: float, noise: float) -> None:
    """A side of 10 ft has the figure from 10 ft on, however its length came out of the arithmetic."""
    allowed = of_length(feet * FOOT + noise).plus_minus
    assert allowed == pytest.approx(inches * INCH)


def test_the_source_ends_at_100_ft() -> None:
    """A longer length has no figure, rather than one of our own."""
    assert of_length(100.1 * FOOT).plus_minus is None
