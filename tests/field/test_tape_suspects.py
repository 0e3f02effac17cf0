"""The reading that does not belong, its likely slip, and equal diagonals that prove nothing."""

from __future__ import annotations

import pytest
from making import sample
from taping import taped

from staking.field.tape_adjust import adjust
from staking.field.tape_check import held_corners
from staking.field.tape_findings import tape_findings
from staking.field.tape_slips import slips
from staking.field.tape_suspects import _likeliest, _Try
from staking.units import UNITS, parse_length

SHED = sample("tape_only_shed")
ROWS = {
    "101,102": "40' 3\"",
    "102,103": "30' 3\"",
    "103,104": "40' 3\"",
    "104,101": "30' 3\"",
    "101,103": "50' 4-3/16\"",
    "102,104": "50' 4-3/16\"",
}


def _said(**changed: str) -> dict[str, str]:
    """Messages and remedies by code, for the square form with some readings changed; an empty one is left out."""
    rows = {**ROWS, **{key.removeprefix("r").replace("_", ","): text for key, text in changed.items()}}
    text = "from,to,reading\n" + "\n".join(f"{pair},{read}" for pair, read in rows.items() if read)
    return {found.code: f"{found.message}\n{found.remedy}" for found in tape_findings(taped(SHED, text))}


def test_a_square_form_gives_no_trouble() -> None:
    """All that is said is that its place is not known, and that six readings check one another only once."""
    said = _said()
    assert set(said) == {"tape-not-placed", "tape-unchecked"}
    assert 'a slip of less than 1-11/16" may not show' in said["tape-unchecked"]


def test_a_foot_read_wrong_is_named_though_one_redundancy_cannot_tell() -> None:
    """The drawing tells which, and the slip is said."""
    said = _said(r101_102="41' 3\"")["tape-odd-reading"]
    assert "101 - 102 does not belong" in said
    assert "a foot too long" in said
    assert "left out below" in said


def test_a_foot_read_wrong_is_seen_where_nothing_checks_it() -> None:
    """Without the second diagonal the corners would lie a foot off the drawing."""
    said = _said(r103_104="39' 3\"", r102_104="")
    assert "103 - 104 does not belong" in said["tape-odd-reading"]
    assert "read a foot too short" in said["tape-odd-reading"]


def test_readings_that_cannot_be_told_apart_are_all_named() -> None:
    """A form set by half inches, and an inch and a quarter in one of six readings: the likeliest first; no cure yet."""
    rows = {"r102_104": "50' 3-7/8\"", "r102_103": "30' 3-1/2\"", "r104_101": "30' 2-3/4\""}
    said = _said(r101_103="50' 5-7/16\"", **rows)
    assert "the others cannot tell which: 101 - 103 (line 6) or 104 - 101 (line 5)" in said["tape-odd-reading"]
    assert "measure these again, 101 - 103 first" in said["tape-odd-reading"]
    assert "tape-out" not in said


def test_a_crew_that_set_all_else_to_the_drawing_is_believed() -> None:
    """Five readings are the drawing to a sixteenth: that another slip made four of them so is not believed."""
    said = _said(r101_103="50' 5-7/16\"")
    assert "101 - 103 does not belong: by the drawing" in said["tape-odd-reading"]


@pytest.mark.parametrize("read", ["403'", "4'", "1 in", "3 m"])
def test_a_reading_that_is_nowhere_near_is_said(read: str) -> None:
    """No corners are looked for before it is settled."""
    said = _said(r101_102=read)
    assert "and the drawing has 40' 3\"" in said["tape-odd-reading"]
    assert "tape-out" not in said


def test_equal_diagonals_alone_prove_nothing() -> None:
    """The sides to measure are named."""
    said = _said(r101_102="", r102_103="", r103_104="", r104_101="")
    assert "that alone does not make the form square" in said["tape-equal-diagonals"]
    assert "3 more readings are needed" in said["tape-too-few"]


def test_equal_diagonals_between_edges_that_are_no_sides_prove_nothing_either() -> None:
    """Check rectangles of an ell have edges along several sides; the edge to measure is named by its ends."""
    ell = sample("ell_house_on_grid")
    one, other = (each for each in ell.diagonals if each.of == ell.diagonals[0].of)
    write = ell.notation.length
    text = (
        f"from,to,reading\n{one.start},{one.end},{write(one.length)}\n{other.start},{other.end},{write(other.length)}"
    )
    (told,) = (each for each in tape_findings(taped(ell, text)) if each.code == "tape-equal-diagonals")
    assert "that alone does not make the form square" in told.message
    ring = (one.start, other.start, one.end, other.end)
    sides = {frozenset((side.start, side.end)) for side in ell.sides}
    assert not all(frozenset(pair) in sides for pair in zip(ring, (*ring[1:], ring[0]), strict=True))
    assert all(f"{a} - {b}" in told.remedy for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))


def test_equal_diagonals_with_unequal_ends_are_explained() -> None:
    """An isosceles trapezoid has them too."""
    said = _said(r101_102="40' 6\"", r101_103="50' 5-3/8\"", r102_104="50' 5-3/8\"")
    assert "it is not square" in said["tape-equal-diagonals"]
    assert "one end is wider than the other" in said["tape-equal-diagonals"]


def test_a_rectangle_of_another_size_is_called_so() -> None:
    """Everything agrees but the drawing."""
    said = _said(r101_102="40' 6\"", r103_104="40' 6\"", r101_103="50' 6-9/16\"", r102_104="50' 6-9/16\"")
    assert "of another size" in said["tape-equal-diagonals"]


def test_what_is_held_and_out_is_said() -> None:
    """A front that is an inch long cannot be cured with both its corners held."""
    text = "from,to,reading\n" + "\n".join(
        f"{pair},{read}" for pair, read in {**ROWS, "101,102": "40' 4\"", "101,103": "50' 4-5/8\""}.items()
    )
    found = {each.code: each.message for each in tape_findings(taped(SHED, text, ("101", "102")))}
    assert "101 - 102 (front side 1-2)" in found["tape-held-out"]


@pytest.mark.parametrize(
    ("text", "meant", "words"),
    [
        ("41' 3\"", "40' 3\"", "a foot too long"),
        ("30' 6\"", "30' 9\"", "a 6 for a 9"),
        ("43' 3\"", "34' 3\"", "digits exchanged"),
        ("40' 3\"", "40.3 ft", "tenths of a foot written as inches"),
        ("40.3", "40' 3\"", "inches written as tenths"),
        ("20'", "120'", "a whole tape length is missing"),
    ],
)
def test_slips_of_the_trade(text: str, meant: str, words: str) -> None:
    """Each gives back what was meant."""
    foot = UNITS["ft"]
    found = slips(text, float(parse_length(text, foot)), 30.48, foot)
    wanted = float(parse_length(meant, foot))
    assert any(abs(slip.read - wanted) < 1e-9 and words in slip.words for slip in found)


def test_slips_in_metres() -> None:
    """A metre, or ten centimetres; no feet."""
    found = slips("12.34", 12.34, 30.0, UNITS["m"])
    assert {round(slip.read, 2) for slip in found} >= {11.34, 13.34, 12.24, 12.44}
    assert not any("foot" in slip.words for slip in found)


@pytest.mark.parametrize(
    ("text", "unit", "true", "words"),
    [
        ("40' 4\"", "ft", "40' 3\"", "read an inch too long"),
        ("40' 2\"", "ft", "40' 3\"", "read an inch too short"),
        ("41' 3\"", "ft", "40' 3\"", "read a foot too long"),
        ("39' 3\"", "ft", "40' 3\"", "read a foot too short"),
        ("12.5", "m", "11.5", "read a metre too long"),
        ("12.5", "m", "12.6", "read 10 cm too short"),
    ],
)
def test_a_miscount_is_off_by_its_amount(text: str, unit: str, true: str, words: str) -> None:
    """What may have been meant is the reading less, or more, exactly what was miscounted."""
    read, meant = (float(parse_length(each, UNITS[unit])) for each in (text, true))
    found = {slip.words.partition(",")[0]: slip.read for slip in slips(text, read, 30.48, UNITS[unit])}
    assert found[words] == pytest.approx(meant)


def test_sides_a_sixteenth_off_are_no_trap() -> None:
    """Equal diagonals and sides within what may differ: the form is square."""
    assert "tape-equal-diagonals" not in _said(r101_102="40' 3-1/16\"", r103_104="40' 3-1/16\"")


@pytest.mark.parametrize(("word", "corners"), [("back", ("103", "104")), ("left side", ("104", "101"))])
def test_a_side_that_is_held_holds_both_its_corners(word: str, corners: tuple[str, ...]) -> None:
    """The one it begins at and the one it leads to."""
    assert held_corners(SHED, [word]) == corners


def test_a_reading_far_likelier_than_the_others_is_told_without_the_drawing() -> None:
    """By sums of squares of 1 and 12: the first alone, and the drawing is not asked."""
    net = taped(SHED, "from,to,reading\n" + "\n".join(f"{pair},{read}" for pair, read in ROWS.items())).net
    fit = adjust(net)
    first, second = (_Try(number, fit, score, 40.0) for number, score in ((3, 1.0), (0, 12.0)))
    assert _likeliest(net, (second, first)) == ((first,), False)
