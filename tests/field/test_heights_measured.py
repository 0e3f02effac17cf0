"""Heights: one rod height, all of them, or the slab?"""

from __future__ import annotations

from making import sample
from measuring import HOW, as_designed, codes, message, off

from staking import Layout, MeasuredPoint, compare


def _site() -> Layout:
    return sample("sloping_lot")


def _raised(points: list[MeasuredPoint], by: float) -> list[MeasuredPoint]:
    return [off(each, up=by) for each in points]


def test_all_high_without_a_benchmark() -> None:
    """Slab or rod, nobody can tell: read a benchmark."""
    layout = _site()
    found = compare(layout, _raised(as_designed(layout), 0.05), HOW)
    assert codes(found) == ["measured-all-high"]
    assert "nobody can tell" in message(found, "measured-all-high")


def test_all_high_and_the_benchmark_too() -> None:
    """The rod, not the slab."""
    layout = _site()
    found = compare(layout, _raised(as_designed(layout, *layout.corner_names, "BM", "GUT"), 0.05), HOW)
    assert codes(found) == ["measured-rod-heights"]


def test_all_high_and_the_benchmarks_in_order() -> None:
    """The slab stands so."""
    layout = _site()
    points = [*_raised(as_designed(layout), -0.0508), *as_designed(layout, "BM", "GUT")]
    found = compare(layout, points, HOW)
    assert "measured-all-high" in codes(found)
    assert "2 in low alike" in message(found, "measured-all-high")
    assert "so it stands so" in message(found, "measured-all-high")


def test_a_height_that_is_not_known_is_not_judged() -> None:
    """A point without elevation in the list, or in the drawing, has no difference of height."""
    layout = sample("tape_only_shed")
    points = [MeasuredPoint(each.name, each.at, 12.0) for each in as_designed(layout)]
    found = compare(layout, points, HOW)
    assert {each.up for each in found.deviations} == {None}
    assert {each.answer_up for each in found.deviations} == {"not judged"}


def test_given_points_that_contradict_one_another_tell_nothing() -> None:
    """One benchmark agrees and the other does not: neither rod nor slab is called wrong as a whole."""
    layout = _site()
    benches = as_designed(layout, "BM", "GUT")
    found = compare(layout, [*_raised(as_designed(layout), 0.05), off(benches[0], up=-0.2), benches[1]], HOW)
    assert not {"measured-all-high", "measured-rod-heights"} & {*codes(found)}
