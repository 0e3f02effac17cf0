"""What the plan shows, and how far it looks."""

from __future__ import annotations

from making import PLACED_RECTANGLE, layout_of

from staking.drawing.marks import CircleMark, LineMark, PathMark, SymbolMark, TextMark
from staking.drawing.plan_marks import MANY, features_of_kind, plan_marks, shown_points
from staking.drawing.window import window_of

CURB = '[[references]]\nname = "curb"\nthrough = ["K1", "K2"]\ngiven_by = "taped"\n[slab]'
FAR = PLACED_RECTANGLE.replace("[lot]", "K1 = [-10, -900]\nK2 = [-10, 900]\nX = [900, 900]\n[lot]", 1)
STAKED = PLACED_RECTANGLE + '[[stakes]]\nkind = "corners"\n[[stakes]]\nkind = "offsets"\ndistance = 5\n'


def test_the_window_is_the_lot_and_a_little_more() -> None:
    """All corners lie well inside; a point 900 ft off does not."""
    layout = layout_of(FAR)
    west, south, east, north = window_of(layout).bounds
    a, c = layout.points["A"].at, layout.points["C"].at
    assert west < a.east < c.east < east
    assert south < a.north < c.north < north < layout.points["X"].at.north


def test_long_lines_are_cut_at_the_window() -> None:
    """A curb of 1800 ft is drawn as far as the plan looks, with its name and who gave it in sight."""
    layout = layout_of(FAR.replace("[slab]", CURB))
    marks = plan_marks(layout, stakes=True)
    (line,) = [mark for mark in marks if isinstance(mark, LineMark) and mark.layer == "REFERENCE"]
    west, _, east, _ = window_of(layout).bounds
    assert west - 0.001 <= min(line.start.east, line.end.east) < max(line.start.east, line.end.east) <= east + 0.001
    assert "curb, taped" in [mark.text for mark in marks if isinstance(mark, TextMark)]


def test_a_street_centre_with_a_distance_is_in_sight() -> None:
    """A line south of the lot, which the slab keeps 30 from, is on the plan; without that rule it is not."""
    street = PLACED_RECTANGLE.replace(
        "[slab]",
        '[[references]]\nname = "centre"\nthrough = ["K1", "K2"]\n[slab]',
        1,
    ).replace("[lot]", "K1 = [-40, -900]\nK2 = [-40, 900]\n[lot]", 1)
    rule = 'front = { ordinance = 25, center = "centre", from_center = 30 }'
    for text, shown in ((street, 0), (street.replace("front = 25", rule), 1)):
        marks = plan_marks(layout_of(text), stakes=True)
        assert sum(isinstance(mark, LineMark) and mark.layer == "REFERENCE" for mark in marks) == shown


def test_circles_are_cut_too() -> None:
    """A circle larger than the lot is drawn as the piece of it that the plan sees."""
    text = PLACED_RECTANGLE.replace("[slab]", '[[keep_clear]]\nname = "mast"\naround = "D"\nradius = 80\n[slab]')
    marks = plan_marks(layout_of(text), stakes=True)
    assert not any(isinstance(mark, CircleMark) for mark in marks)
    assert any(isinstance(mark, PathMark) and mark.layer == "KEEP-CLEAR" for mark in marks)


def test_far_points_and_corners_of_features_are_not_shown() -> None:
    """Only what stands on the plan is named on it."""
    shed = '[[features]]\nname = "shed"\noutline = ["S1", "S2", "S3"]\n'
    points = "S1 = [80, 50]\nS2 = [80, 70]\nS3 = [100, 50]\nBM = [5, 5]\n[lot]"
    layout = layout_of(FAR.replace("[lot]", points, 1) + shed)
    assert [name for name, _ in shown_points(layout, window_of(layout))] == ["BM"]


def test_of_many_points_only_those_in_use_are_shown() -> None:
    """A long list of shots would bury the lot; the ends of reference lines stay."""
    shots = "\n".join(f"Q{n} = [{n}, 3]" for n in range(MANY))
    near = "K1 = [-10, 2]\nK2 = [-10, 90]\n"
    layout = layout_of(PLACED_RECTANGLE.replace("[lot]", f"{near}{shots}\n[lot]", 1).replace("[slab]", CURB))
    assert [name for name, _ in shown_points(layout, window_of(layout))] == ["K1", "K2"]


def test_two_names_for_one_pin_share_its_symbol() -> None:
    """A point measured on a lot corner is named beside it, not drawn over it."""
    layout = layout_of(PLACED_RECTANGLE.replace("[lot]", "F1 = [0.02, 0.01]\n[lot]", 1))
    names = [mark.label for mark in plan_marks(layout, stakes=True) if isinstance(mark, SymbolMark)]
    assert "A, F1" in names
    assert "F1" not in names


def test_offset_stakes_are_shown_when_asked_for() -> None:
    """Only where the site file asks, and never while stakes are withheld."""
    asked = layout_of(f"{STAKED}[plan]\nstakes = true\n")
    count = {
        stakes: sum(mark.layer == "OFFSET" for mark in plan_marks(asked, stakes=stakes)) for stakes in (True, False)
    }
    assert count == {True: 8, False: 0}
    assert not any(mark.layer == "OFFSET" for mark in plan_marks(layout_of(STAKED), stakes=True))


def test_a_wide_ledge_is_drawn() -> None:
    """The building line shows where it can be told from the outline."""
    layers = [{mark.layer for mark in plan_marks(layout_of(_ledge(it)), stakes=True)} for it in ("2 in", "12 in")]
    assert ["BUILDING-LINE" in drawn for drawn in layers] == [False, True]


def _ledge(width: str) -> str:
    return PLACED_RECTANGLE.replace("depth = 24", f'depth = 24\nledge = "{width}"')


def test_features_are_found_by_kind() -> None:
    """In the order of the file."""
    text = "".join(
        f'[[features]]\nkind = "{kind}"\nname = "{kind}"\npoints = ["A", "B"]\n' for kind in ("walk", "fence")
    )
    layout = layout_of(PLACED_RECTANGLE + text)
    assert [feature.name for feature in features_of_kind(layout, "walk", "drive")] == ["walk"]
