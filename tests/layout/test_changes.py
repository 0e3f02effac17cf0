"""Two revisions held against one another: what moved, what only changed its name, and what is dangerous."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from making import PLAIN, RandomSite, Turn, layout_of, random_sites, turns
from revised import LATER, OFFSETS, STAKED, changes, codes, revised, revision

from staking import check
from staking.app.revisions import revision_of
from staking.errors import InputError
from staking.exports.points_csv import points_csv
from staking.layout.changed import STAYS, Changes
from staking.layout.changes import changes_of
from staking.layout.changes_found import CODES
from staking.layout.other_system import in_measured

FOOT = 0.3048
EXACT = 1e-6  # metres; numbers of a layout.json have six decimals of the unit
MARKS = '[[stakes]]\nkind = "along"\nspacing = 10\n'
DEEPER = ("depth = 24", "depth = 26")
BACK = ("distance = 40", 'distance = "40\' 6"')


def names(found: Changes) -> list[str]:
    """The stakes that moved."""
    return [each.new.name for each in found.moved]


def test_nothing_changes_between_a_revision_and_itself() -> None:
    """Every stake stays, and there is nothing to do."""
    found = changes()
    assert (len(found.staying), found.to_do, found.findings) == (12, False, ())


def test_only_the_date_changed() -> None:
    """A new letter and a new date move no stake."""
    found = changes(LATER, ('unit = "ft"', 'unit = "ft"\ndate = 2026-06-09'))
    assert not found.to_do


def test_the_slab_moved_back_as_a_whole() -> None:
    """Every stake moved six inches toward the back, in from the front string and out from that of the back."""
    found = changes(LATER, BACK)
    assert len(found.moved) == 12
    assert all(abs(each.move.length - FOOT / 2) < EXACT for each in found.moved)
    assert {(wall.side, round(wall.out / FOOT, 4)) for wall in found.moved[0].walls} == {("4-1", 0.0), ("1-2", -0.5)}
    assert {(wall.side, round(wall.out / FOOT, 4)) for wall in found.moved[2].walls} == {("2-3", 0.0), ("3-4", 0.5)}
    assert found.whole is not None
    assert found.whole.same_shape
    assert abs(found.whole.shift.length - FOOT / 2) < EXACT


def test_the_slab_is_longer() -> None:
    """Front corners and their offsets stay; the back ones move out; sides, diagonals and area are listed."""
    found = changes(LATER, DEEPER)
    assert names(found) == ["103", "104", "204", "205", "206", "207"]
    assert [stake.name for stake in found.to_pull] == names(found)
    sizes = {size.what: size for size in found.sizes}
    assert set(sizes) == {"right side 2-3", "left side 4-1", "diagonal 101 to 103", "diagonal 102 to 104", "area"}
    assert sizes["area"].after == pytest.approx(36 * 26 * FOOT**2, abs=1e-6)


def test_an_offset_goes_farther_out() -> None:
    """Only the offset stakes move, each along its own string."""
    found = changes(LATER, OFFSETS)
    assert names(found) == [f"20{number}" for number in range(1, 9)]
    assert all(abs(abs(each.walls[0].along) - FOOT) < EXACT for each in found.moved)
    assert all(abs(each.walls[0].out) < EXACT for each in found.moved)


def test_a_new_numbering_moves_nothing() -> None:
    """Stakes that only change their names stay, and a name that means something else is the strongest warning."""
    found = changes(LATER, ("[floor]", "[numbering]\ncorners = 201\noffsets = 101\n[floor]"))
    assert (found.moved, len(found.renamed), found.to_pull) == ((), 12, ())
    assert [(it.old.name, it.new.name) for it in found.renamed[:2]] == [("101", "201"), ("102", "202")]
    assert "changes-name-reused" in codes(found)


def test_a_shifted_numbering_is_told_from_a_move() -> None:
    """Where the slab moves and is numbered anew at once, each stake is followed by what it is for."""
    found = changes(LATER, BACK, ("[floor]", "[numbering]\ncorners = 501\n[floor]"))
    assert [(it.old.name, it.new.name) for it in found.moved[:4]] == [
        ("101", "501"), ("102", "502"), ("103", "503"), ("104", "504"),
    ]  # fmt: skip


def test_an_old_stake_in_the_place_of_another() -> None:
    """A slab that slides by its own width has old corner 102 where 101 is wanted."""
    found = changes(LATER, ("clear = 30", "clear = 66"))
    assert ("102", "101") in {(old.name, new.name) for old, new in found.traps}
    assert "changes-in-the-way" in codes(found)


def test_a_higher_floor_voids_the_marks() -> None:
    """Stakes stay where they are, and what was written on them of cut and fill is void."""
    found = changes(LATER, ("elevation = 101", "elevation = '101 ft 2 in'"))
    assert (found.moved, len(found.regraded)) == ((), 12)
    assert all(each.rise == pytest.approx(FOOT / 6, abs=EXACT) for each in found.regraded)
    assert [size.what for size in found.sizes] == ["floor"]


def test_heights_that_come_and_go() -> None:
    """Where one revision has no floor, marks of heights are void or wanting."""
    text = revised(("[floor]\nelevation = 101\n", ""))
    both = changes_of(revision(text), revision(STAKED)), changes_of(revision(STAKED), revision(text))
    assert [len(found.regraded) for found in both] == [12, 12]
    assert all(each.rise is None for found in both for each in found.regraded)


def test_stakes_new_and_gone() -> None:
    """What the new file asks for besides is new; what it asks for no more is gone, and is to be pulled."""
    added = changes_of(revision(STAKED), revision(STAKED + MARKS))
    taken = changes_of(revision(STAKED + MARKS), revision(STAKED))
    assert {stake.kind for stake in added.fresh} == {"mark"}
    assert [stake.name for stake in taken.to_pull] == [stake.name for stake in added.fresh]
    assert (added.moved, taken.moved, added.to_do, taken.to_do) == ((), (), True, True)


def test_marks_in_the_place_of_corners() -> None:
    """Where corners are staked no more, the marks in their places are the old stakes with new names."""
    text = STAKED + MARKS
    found = changes_of(revision(text), revision(revised(('[[stakes]]\nkind = "corners"\n', ""), text=text)))
    assert {it.old.name for it in found.renamed if it.old.kind == "corner"} == {"101", "102", "103", "104"}
    assert found.gone == found.fresh == ()


def test_as_many_marks_are_followed_in_order() -> None:
    """Marks farther apart on a longer side are the same marks, moved."""
    found = changes(LATER, ("width = 36", "width = 38"), text=STAKED + MARKS)
    front = [it for it in found.followed if it.new.kind == "mark" and it.new.side == "front side 1-2"]
    assert [round(it.move.length / FOOT, 4) for it in front] == [0.5, 1.0, 1.5]


def test_an_ell_out_of_a_rectangle() -> None:
    """With another number of corners they are told by name; what has none is gone or new."""
    ell = (
        "width = 36\ndepth = 24",
        'kind = "ell"\nwidth = 36\ndepth = 24\nmissing = "back-right"\ncut_width = 12\ncut_depth = 8',
    )
    found = changes(LATER, ell)
    same = [(it.old.name, it.new.name) for it in found.followed if it.new.kind == "corner"]
    assert same == [("101", "101"), ("102", "102"), ("104", "106")]
    assert [stake.name for stake in found.gone if stake.kind == "corner"] == ["103"]
    assert found.whole is None


def test_the_front_becomes_the_back() -> None:
    """The same outline numbered from another corner: every corner stays and bears another name's meaning."""
    turned = (
        'side = "front"\nreference = "lot front"\ndistance = 40\ncorner = "front-left"',
        'side = "back"\nreference = "lot front"\ndistance = 40\ncorner = "back-right"',
    )
    found = changes(LATER, turned)
    assert found.whole is not None
    assert found.whole.other_numbers
    assert {("103", "101"), ("104", "102")} <= {(old.name, new.name) for old, new in found.traps}
    assert {"changes-corner-numbers", "changes-in-the-way"} <= codes(found)


def test_a_control_point_was_corrected() -> None:
    """It is named with how far and which way, and what was set from it moved."""
    found = changes(LATER, ("B = [0, 100]", "B = [0.5, 100]"))
    assert [(point.name, round(point.move.north / FOOT, 4)) for point in found.control_changed] == [("B", 0.5)]
    assert {"changes-control", "changes-pull"} <= codes(found)
    assert found.shifted is None


def test_a_benchmark_that_all_heights_hang_on() -> None:
    """Where every given elevation and the floor rise alike, no mark is void; the benchmark is named."""
    both = (("A = [0, 0, 100]", "A = [0, 0, 100.5]"), ("elevation = 101", "elevation = 101.5"))
    found = changes(LATER, *both)
    assert not found.regraded
    assert found.lift == pytest.approx(FOOT / 2)
    assert "changes-benchmark" in codes(found)
    lower = changes(LATER, both[0])
    assert all(each.rise == pytest.approx(-FOOT / 2) for each in lower.regraded)


@given(random_sites, turns)
@settings(max_examples=30, deadline=None)
def test_coordinates_that_changed_together(site: RandomSite, turn: Turn) -> None:
    """A whole site shifted and turned moves no stake: its figures changed, and that is said.

    Unless a given point stays where it is, such as one that the site is turned about: then the others moved.
    """
    found = changes_of(revision(site.text()), revision(site.text(turn)))
    assume(len({point.move.length > STAYS for point in found.given}) == 1)
    assert (found.moved, found.gone, found.fresh) == ((), (), ())
    far = math.hypot(turn.east, turn.north) + abs(math.sin(math.radians(turn.angle)))
    assert (found.shifted is not None) or far < 0.1


@given(random_sites, turns)
@settings(max_examples=20, deadline=None)
def test_moves_are_those_of_the_written_lists(site: RandomSite, turn: Turn) -> None:
    """How far and which way each stake moved is what the two lists of points say, to their last digit."""
    deeper = replace(site, depth=site.depth + 0.75, aside=site.aside + 0.25)
    texts = site.text(turn), deeper.text(turn)
    lists = [
        {row["name"]: row for row in csv.DictReader(io.StringIO(points_csv(layout_of(text)).decode("utf-8")))}
        for text in texts
    ]
    for each in changes_of(*map(revision, texts)).followed:
        steps = [float(lists[1][each.new.name][way]) - float(lists[0][each.old.name][way]) for way in ("east", "north")]
        assert (each.move.east, each.move.north) == pytest.approx(steps, abs=1.5e-4)  # two figures of four decimals


def test_a_turned_system_keeps_its_margins() -> None:
    """Where only the figures changed, no margin and no size did."""
    site = RandomSite(((0.0, 0.0), (40.0, 0.0), (40.0, 60.0), (0.0, 60.0)), 14.0, 12.0, 9.0, 7.0)
    found = changes_of(revision(site.text()), revision(site.text(Turn(30.0, 5000.0, 9000.0), slab=PLAIN)))
    assert (found.rooms, found.sizes) == ((), ())
    assert found.shifted is not None
    assert found.shifted.turn == pytest.approx(30.0, abs=1e-6)


def test_a_figure_that_is_too_near_now() -> None:
    """A setback that grew is named where the slab crosses it, though no stake moved."""
    found = changes(LATER, ("rear = 20", "rear = 80"))
    assert [change.either.of for change in found.crossed] == ["rear"]
    short = found.new.notation.length((40 + 24 + 80 - 120) * FOOT)
    (said,) = (each.message for each in found.findings if each.code == "changes-crossed")
    assert said.startswith(f"the new revision is {short} too near: setback rear")
    assert (found.moved, "changes-crossed" in codes(found), found.to_do) == ((), True, True)


def test_room_that_grew_is_listed_only() -> None:
    """A margin that changed is no reason to do anything on the ground."""
    found = changes(LATER, ("rear = 20", "rear = 10"))
    assert [(it.either.of, it.crossed) for it in found.rooms] == [("rear", False)]
    assert not found.to_do


def test_what_counts_as_unmoved() -> None:
    """Up to half of the tightest tolerance of a layout a stake stays; beyond it, it moved."""
    small, large = (("distance = 40", f"distance = '{40 * 0.3048 + by} m'") for by in (STAYS * 0.99, STAYS * 1.01))
    assert (len(changes(LATER, small).moved), len(changes(LATER, large).moved)) == (0, 12)


def test_the_same_letter_is_no_new_revision() -> None:
    """Stakes that changed under one letter are warned of; a letter alone is no reason."""
    assert "changes-same-letter" in codes(changes(BACK))
    assert "changes-same-letter" not in codes(changes())


@pytest.mark.parametrize(
    ("made", "code"),
    [
        ((('name = "lot"', 'name = "another lot"'),), "changes-other-job"),
        ((('unit = "ft"', 'unit = "ftUS"'),), "changes-unit"),
        ((("[lot]", '[coordinates]\nvalues = "ground"\nvertical = "NAVD 88"\n[lot]'),), "changes-vertical"),
    ],
)
def test_what_else_is_said(made: tuple[tuple[str, str], ...], code: str) -> None:
    """Another job, unit or height system is named."""
    assert codes(changes(*made)) & set(CODES) >= {code}


def test_a_later_date_comes_later() -> None:
    """Revisions in the wrong order are noticed by their dates."""
    dated = [revision(revised(('unit = "ft"', f'unit = "ft"\ndate = 2026-06-0{day}'))) for day in (1, 2)]
    assert "changes-backwards" in codes(changes_of(dated[1], dated[0]))
    assert "changes-backwards" not in codes(changes_of(*dated))


def test_without_a_common_point_nothing_is_sure() -> None:
    """Two files whose given points bear other names may not mean the same ground."""
    text = STAKED
    for letter in "ABCD":
        text = text.replace(f"\n{letter} = ", f"\nP{letter} = ").replace(f'"{letter}"', f'"P{letter}"')
    found = changes_of(revision(STAKED), revision(text))
    assert "changes-no-control" in codes(found)
    assert not found.moved


GRID = '[coordinates]\ncrs = "EPSG:{}"\nvalues = "{}"\ncombined_factor = {}\n[lot]'


def _on_grid(crs: int = 6556, values: str = "grid", factor: float = 0.9999) -> str:
    text = STAKED.replace("[lot]", GRID.format(crs, values, factor), 1)
    for name, north, east in (("A", 0, 0), ("B", 0, 100), ("C", 120, 100), ("D", 120, 0)):
        up = ", 100" if name == "A" else ""
        text = text.replace(f"{name} = [{north}, {east}{up}]", f"{name} = [{900000 + north}, {7500000 + east}{up}]")
    return text


@pytest.mark.parametrize("other", [STAKED, _on_grid(6557), _on_grid(values="ground")])
def test_systems_that_cannot_be_compared(other: str) -> None:
    """Local and grid, two grids, grid and ground: refused in one sentence."""
    with pytest.raises(InputError) as refused:
        changes_of(revision(_on_grid()), revision(other))
    assert [finding.code for finding in refused.value.findings] == ["revisions-apart"]


PAIRS = "".join(
    f'[[pairs]]\npoint = "{name}"\nnorth = {north}\neast = {east}\n'
    for name, north, east in (("A", 5000, 1000), ("B", 5000, 1100), ("C", 5120, 1100), ("D", 5120, 1000))
)


def test_a_fit_that_was_added_moves_nothing() -> None:
    """It adds a second system, and leaves the given one as it is, on local coordinates as on a grid."""
    for text in (STAKED, _on_grid()):
        bare, fitted = revision(text), revision(text + PAIRS)
        assert (bare.system.which, fitted.system.which) == ("", "given")
        for pair in ((bare, fitted), (fitted, bare)):
            found = changes_of(*pair)
            assert (len(found.staying), found.to_do) == (12, False)


@pytest.mark.parametrize(
    ("scale", "words"),
    [("", "without the scale of its fit"), ("[fit]\nscale = true\n", "with the scale of its fit")],
)
def test_the_measured_system_is_not_the_given_one(scale: str, words: str) -> None:
    """What each of the two holds is said, and it is not the same."""
    layout = in_measured(layout_of(STAKED + scale + PAIRS.replace("5120", "5120.06")))
    with pytest.raises(InputError, match="the old revision holds ground values of a local system") as refused:
        changes_of(revision(STAKED), revision_of(layout, check(layout), "site.toml"))
    assert words in str(refused.value)


def test_on_a_grid_a_foot_is_a_foot_on_the_ground() -> None:
    """A move on grid values is told in ground distance; another factor is told too."""
    old = revision(_on_grid())
    moved = changes_of(old, revision(revised(("distance = 40", "distance = 41"), text=_on_grid())))
    assert moved.moved[0].move.length == pytest.approx(FOOT, abs=EXACT * 10)
    assert "changes-factor" in codes(changes_of(old, revision(_on_grid(factor=0.99995))))


@pytest.mark.parametrize(("away", "other"), [(24, 22), (24, 30), (30, 24)])
def test_an_arc_that_rises_more_or_less_is_another_shape(away: int, other: int) -> None:
    """The corners stay; the side between two of them bulges out farther, or less far."""
    steps = 'kind = "traced"\nsteps = ["right 36", "away 24 curve left {}", "left 36", "toward 24"]\n'
    text = STAKED.replace("width = 36\ndepth = 24\n", steps.format(away)).replace('"front-left"', "1")
    found = changes(
        LATER, (f"curve left {away}", f"curve left {other}"), text=text.replace('side = "front"', 'side = "1-2"')
    )
    assert found.whole is not None
    assert not found.whole.same_shape
    assert found.moved == ()


def test_elevations_that_changed_by_different_amounts_lift_nothing() -> None:
    """One given point a foot higher, another three: heights are compared as they are, and the floor did not change."""
    text = STAKED.replace("B = [0, 100]", "B = [0, 100, 100]")
    found = changes(LATER, ("0, 0, 100]", "0, 0, 101]"), ("0, 100, 100]", "0, 100, 103]"), text=text)
    assert [round(each.rise or 0.0, 6) for each in found.staying] == [0.0] * len(found.staying)
    assert found.staying
