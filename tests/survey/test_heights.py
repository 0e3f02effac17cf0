"""The elevation factor against published combined factors, and back again."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.survey.heights import elevation_factor, height_of_factor, mean_radius
from staking.survey.projected_systems import system
from staking.survey.projections import earth_radius, from_lonlat, grid_scale


@pytest.mark.parametrize("case", published("factors"), ids=lambda case: str(case["code"]))
def test_published_combined_factors_come_out(case: Mapping[str, Any]) -> None:
    """Grid scale times elevation factor is the combined factor that NGS prints."""
    which = system(case["code"])
    at = (case["east"] * float(which.unit_metres), case["north"] * float(which.unit_metres))
    scale = grid_scale(which, at)
    combined = scale * elevation_factor(earth_radius(which, at), case["height"])
    assert scale == pytest.approx(case["scale"], abs=0.5e-8)
    assert combined == pytest.approx(case["combined"], abs=case["within"])


@pytest.mark.parametrize(("geoid", "ppm"), [(21.952, 3.4), (33.902, 5.3)])
def test_the_elevation_in_place_of_the_height_costs_ppm(geoid: float, ppm: float) -> None:
    """Geoid heights of NGS datasheets RD2119 and NH0936: 3.4 and 5.3 ppm."""
    radius = mean_radius(45.0, 6378137.0, 6356752.314140356)
    off = elevation_factor(radius, 358.6 - geoid) / elevation_factor(radius, 358.6) - 1
    assert off * 1e6 == pytest.approx(ppm, abs=0.06)


@given(st.floats(-400.0, 8000.0))
def test_the_height_comes_back_from_its_factor(height: float) -> None:
    """A factor leads back to the height it was made from."""
    assert height_of_factor(6.37e6, elevation_factor(6.37e6, height)) == pytest.approx(height, abs=1e-6)


def test_what_has_no_factor_is_refused() -> None:
    """Latitudes beyond the pole, heights below the middle of the earth, factors below 0."""
    with pytest.raises(ValueError, match="no latitude"):
        mean_radius(91.0, 6378137.0, 6356752.3)
    with pytest.raises(ValueError, match="no ground"):
        elevation_factor(6.37e6, -7e6)
    with pytest.raises(ValueError, match="no elevation factor"):
        height_of_factor(6.37e6, 0.0)


def test_a_datasheet_factor_comes_out_of_elevation_and_geoid() -> None:
    """NGS datasheet NH0936 (WI S, UTM 16): scale 1.00021177 and H 358.6 m with N -33.902 m make 1.00016082.

    As used in J. Mahun's open-access surveying text, XIII, ch. J-L. Its latitude stands in a picture and was not read:
    that of Madison, 43.07, is taken; half a degree of it is a billionth. H and N differ by 0.1 m from the height there,
    hence 3e-8.
    """
    radius = mean_radius(43.07, 6378137.0, 6356752.314140356)
    assert 1.00021177 * elevation_factor(radius, 358.6 - 33.902) == pytest.approx(1.00016082, abs=3e-8)


@pytest.mark.parametrize(("zone", "ppm"), [tuple(each) for case in published("distortion") for each in case["zones"]])
def test_distortion_of_three_zones_at_one_place(zone: str, ppm: float) -> None:
    """Grid scale and elevation factor together; the zone laid out for the ground there hardly stretches it."""
    (case,) = published("distortion")
    which = system(zone)
    (place,), _ = from_lonlat(which, [(case["lon"], case["lat"])])
    factor = grid_scale(which, place) * elevation_factor(earth_radius(which, place), case["height"])
    assert (factor - 1) * 1e6 == pytest.approx(ppm, abs=case["within"])
