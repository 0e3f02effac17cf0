"""Volumes from sections: the published cases, then bad stations and heights that cross zero."""

from __future__ import annotations

from itertools import pairwise

import pytest
from making import published

from staking.survey.earthwork import apart_at_zero, end_area_volume, prismoidal_volume, section_area

CASES = {case["id"]: case for case in published("earthwork")}


def test_end_areas_with_pyramids() -> None:
    """Fill, cut and excess are as the textbook prints them."""
    case = CASES["e05"]
    fill, cut = (end_area_volume(case["stations"], case[key], pyramids=True) for key in ("fill", "cut"))
    assert fill == pytest.approx(case["fill_volume"], abs=0.05)
    assert cut == pytest.approx(case["cut_volume"], abs=0.05)
    assert fill - cut == pytest.approx(case["excess_fill"], abs=0.05)


def test_end_areas_are_too_much_where_prismoids_are_exact() -> None:
    """The handbook's cutting: end areas as printed, its middle areas corrected, and 3,750 cubic feet between them."""
    case = CASES["e06"]
    areas = [up * (case["base"] + case["slope"] * up) for up in case["heights"]]
    middles = [m * (case["base"] + case["slope"] * m) for m in ((a + b) / 2 for a, b in pairwise(case["heights"]))]
    assert areas == pytest.approx(case["areas_printed"], abs=0.8)
    assert middles == pytest.approx(case["middles"], abs=0.05)
    assert [(a + b) / 2 for a, b in pairwise(areas)] == pytest.approx(case["means_printed"], abs=0.8)
    stations = [case["spacing"] * number for number in range(5)]
    assert end_area_volume(stations, areas) == pytest.approx(case["volume_printed"], abs=60)
    assert prismoidal_volume([case["spacing"]] * 4, areas, middles) == pytest.approx(case["prismoidal"])


def test_areas_inside_contours() -> None:
    """Every second contour is a middle area for the prismoids."""
    case = CASES["e08"]
    stations = [case["interval"] * number for number in range(5)]
    assert end_area_volume(stations, case["areas"]) == case["trapezoidal"]
    prismoids = prismoidal_volume([2 * case["interval"]] * 2, case["areas"][::2], case["areas"][1::2])
    assert prismoids == pytest.approx(case["prismoidal"])


def test_sections_by_coordinates() -> None:
    """Two areas and the volume between them, to the printed digit."""
    case = CASES["e09"]
    areas = [section_area([(at, up) for up, at in case[key]]) for key in ("first", "second")]
    assert areas == pytest.approx(case["areas"], abs=5e-5)
    assert end_area_volume([0, case["spacing"]], areas) == pytest.approx(case["volume"])


def test_a_strip_is_parted_where_it_crosses_zero() -> None:
    """Two triangles, on both sides of zero; nothing below where all is above."""
    assert apart_at_zero(10, 1, -3) == pytest.approx((1.25, 11.25))
    assert apart_at_zero(10, 1, 3) == (20, 0)
    assert apart_at_zero(10, -1, -3) == (0, 20)


def test_stations_that_run_back_are_refused() -> None:
    """So are middles that do not fit the ends."""
    with pytest.raises(ValueError, match="run back"):
        end_area_volume([0, 10, 5], [1, 1, 1])
    with pytest.raises(ValueError, match="one end area more"):
        prismoidal_volume([1], [1], [1])
