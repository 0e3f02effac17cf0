"""Instructions followed to the letter cure the form; a blunder is named; a clean book is not suspected."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import sample
from taping import exact, noisy, reading, set_wrong, sheet_spans

from staking import Layout
from staking.app.tape_words import move_words
from staking.field.tape_adjust import Net
from staking.field.tape_book import TapeBook, TapeReading
from staking.field.tape_check import Taped
from staking.field.tape_suspects import judge
from staking.field.taped import allowed
from staking.survey.points import Point, moved, vector
from staking.units import parse_length

SITES = ("tape_only_shed", "metric_hall", "ell_house_on_grid")
LAYOUTS: Mapping[str, Layout] = {name: sample(name) for name in SITES}
MOVE = re.compile(r"Move (\w+)(?: \(corner \d+\))? (toward|away from) (\w+) by (.+)\.")
CASES = 100


def _taped(layout: Layout, readings: list[TapeReading], held: tuple[str, ...] = ()) -> Taped:
    return Taped(layout, TapeBook("tape.csv", tuple(readings), ("",) * 9, layout.site.unit), held)


def _followed(taped: Taped, at: Mapping[str, Point]) -> dict[str, Point]:
    """The corners after a crew has done what is printed, and nothing else."""
    places = dict(at)
    for move in taped.cure.moves if taped.cure else ():
        found = MOVE.fullmatch(move_words(taped, move))
        assert found
        who, way, other, amount = found.groups()
        by = float(parse_length(amount, taped.layout.site.unit)) * (1 if way == "toward" else -1)
        places[who] = moved(places[who], vector(at[who], at[other]).unit(), by)
    return places


@pytest.mark.parametrize("site", SITES)
@given(seed=st.integers(0, 10**9), spread=st.floats(0.001, 0.05), tied=st.booleans())
@settings(max_examples=40, deadline=None)
def test_instructions_followed_cure_the_form(site: str, seed: int, spread: float, tied: bool) -> None:
    """Whatever was set wrong by inches: after the printed moves every check is within what it may differ."""
    layout, rng = LAYOUTS[site], random.Random(seed)  # noqa: S311
    at = set_wrong(layout, rng, spread)
    taped = _taped(layout, exact(layout, sheet_spans(layout, None if tied else 0, rng), at))
    assert taped.cure is not None
    assert taped.cure.cures
    after = _followed(taped, at)
    corners = set(layout.corner_names) | set(taped.net.known)
    for check in taped.checks:
        if set(check.span.ends) <= corners and check.allowed.plus_minus is not None:
            assert abs(check.off(after)) <= check.allowed.plus_minus + 1e-6


@given(seed=st.integers(0, 10**9), spread=st.floats(0.003, 0.04), side=st.sampled_from(["front", "left", "back"]))
@settings(max_examples=40, deadline=None)
def test_what_is_held_is_not_moved(seed: int, spread: float, side: str) -> None:
    """Both corners of a held side stay; all that is left out lies between them, or is said."""
    layout, rng = LAYOUTS["tape_only_shed"], random.Random(seed)  # noqa: S311
    at = set_wrong(layout, rng, spread)
    held = {"front": ("101", "102"), "left": ("104", "101"), "back": ("103", "104")}[side]
    taped = _taped(layout, exact(layout, sheet_spans(layout, 0, rng), at), held)
    assert taped.cure is not None
    assert not {move.way.corner for move in taped.cure.moves} & set(held)
    after = _followed(taped, at)
    out = {c.span.key for c in taped.checks if abs(c.off(after)) > (c.allowed.plus_minus or math.inf) + 1e-6}
    assert out == {check.span.key for check in taped.cure.left}
    if frozenset(held) not in out:
        assert not out


def _studied(layout: Layout, ties: int, seed: int) -> dict[str, int]:
    """Of CASES books: how often a clean one is suspected, and a blunder of 5 tolerances named, or among those named."""
    rng = random.Random(seed)  # noqa: S311
    count = dict.fromkeys(("named", "among", "other", "silent", "alarms"), 0)
    for _ in range(CASES):
        at = set_wrong(layout, rng, 0.008)
        clean = noisy(layout, exact(layout, sheet_spans(layout, ties, rng), at), rng)
        calm = judge(Net(layout, tuple(clean)))
        count["alarms"] += bool(calm.suspects) or not calm.agrees
        wrong = rng.randrange(len(clean))
        span, true = clean[wrong].span, clean[wrong].read
        blunder = 5 * (allowed(layout, span, true)[0] or 0.00635) * rng.choice((-1, 1))
        found = judge(Net(layout, (*clean[:wrong], reading(layout, span, true + blunder), *clean[wrong + 1 :])))
        named = {s.numbers for s in found.suspects}
        blamed = {number for numbers in named for number in numbers}
        count["named"] += named == {(wrong,)}
        count["among"] += wrong in blamed
        count["other"] += bool(blamed) and wrong not in blamed
        count["silent"] += not blamed and found.agrees
    return count


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_blunder_among_all_checks_of_the_sheet_is_named(seed: int) -> None:
    """Sides, diagonals and all ties, redundancy 6: named alone in 95 of 100; at most 5 of 100 clean are suspected."""
    count = _studied(LAYOUTS["tape_only_shed"], 8, seed)
    print(f"redundancy 6, seed {seed}: {count}")  # noqa: T201 - the figures themselves
    assert count["named"] >= 95
    assert count["among"] >= 98
    assert count["alarms"] <= 5


@pytest.mark.parametrize("ties", [5, 6])
def test_what_cannot_be_told_apart_is_named_together(ties: int) -> None:
    """With redundancy 3 or 4 several readings explain a blunder alike: all are named, and hardly ever a wrong one."""
    count = _studied(LAYOUTS["tape_only_shed"], ties, 1)
    print(f"redundancy {ties - 2}: {count}")  # noqa: T201 - the figures themselves
    assert count["other"] <= 5
    assert count["alarms"] <= 5
    assert count["among"] >= 85
