"""Points that bear the names of others are named, and compared with what they lie on."""

from __future__ import annotations

from dataclasses import replace

import pytest
from making import sample
from measuring import HOW, as_designed, carried, codes, message, turned

from staking import Layout, MeasuredPoint, compare


@pytest.fixture(scope="module")
def shed() -> Layout:
    """A rectangle with corners 101 to 104 and offset stakes from 201."""
    return sample("tape_only_shed")


def _renamed(points: list[MeasuredPoint], names: dict[str, str]) -> list[MeasuredPoint]:
    return [replace(each, name=names.get(each.name, each.name)) for each in points]


def test_two_names_exchanged(shed: Layout) -> None:
    """Both are named once, and each is compared with its own place."""
    found = compare(shed, _renamed(as_designed(shed), {"101": "102", "102": "101"}), HOW)
    assert codes(found) == ["measured-exchanged"]
    assert {"101", "102"} <= set(message(found, "measured-exchanged").split())
    assert [each.plan.length for each in found.corners] == [0.0] * 4
    assert [each.by_name for each in found.corners] == [False, False, True, True]


@pytest.mark.parametrize(
    "names",
    [
        {"101": "102", "102": "103", "103": "104", "104": "101"},
        {"101": "101", "102": "104", "104": "102"},
        {"101": "103", "103": "101", "102": "104", "104": "102"},
    ],
)
def test_corners_in_another_order(shed: Layout, names: dict[str, str]) -> None:
    """Counted from another corner, or the other way round: no figure suffers."""
    found = compare(shed, _renamed(as_designed(shed), names), HOW)
    assert set(codes(found)) <= {"measured-order", "measured-exchanged"}
    assert codes(found)
    assert [each.plan.length for each in found.corners] == [0.0] * 4
    assert found.placement is not None
    assert found.placement.largest_shape < 1e-9


def test_an_offset_stake_measured_for_a_corner(shed: Layout) -> None:
    """The stake is named, the corner counts as not measured."""
    (stake,) = as_designed(shed, "203")
    found = compare(shed, [replace(stake, name="101"), *as_designed(shed)[1:]], HOW)
    assert codes(found) == ["measured-other-point"]
    assert message(found, "measured-other-point").startswith("101 lies on 203 (")
    assert [each.name for each in found.missing] == ["101"]


def test_a_common_shift_onto_other_stakes_is_no_exchange(shed: Layout) -> None:
    """A slab half an inch off is not said to lie on other points."""
    points = carried(as_designed(shed), turned(shed.slab.form.corners[0], 0.0, 0.0127, 0.0))
    assert not {"measured-other-point", "measured-exchanged", "measured-order"} & set(codes(compare(shed, points, HOW)))


@pytest.mark.parametrize("written", ["p1", "P-1", "p01", "P 1"])
def test_harmless_differences_of_names(shed: Layout, written: str) -> None:
    """Case, blanks, dashes and zeros in front make no stranger."""
    (pin,) = as_designed(shed, "P1")
    found = compare(shed, [*as_designed(shed), replace(pin, name=written)], HOW)
    assert [each.design.name for each in found.deviations][-1] == "P1"
    assert found.deviations[-1].by_name
