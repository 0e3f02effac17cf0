"""Books of tape readings: what their words mean, what is corrected, and every mistake at once."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of, sample
from taping import taped

from staking.errors import InputError
from staking.field.tape_book import Names, Today, read_tape_book, spans_of
from staking.survey.tape import corrected
from staking.units import UNITS

SHED = sample("tape_only_shed")
HEAD = "from,to,reading\n"
FOOT = 0.3048


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("101", "101"),
        ("corner 1", "101"),
        ("1", "101"),
        ("front-left", "101"),
        ("Front Left", "101"),
        ("P1", "P1"),
        ("p1", "P1"),
        ("Lot Front", "lot front"),
        ("curb", "curb"),
        ("201", "201"),
    ],
)
def test_what_a_word_means(word: str, name: str) -> None:
    """Stakes, corners by number and name, given points and lines, in any case."""
    assert Names(SHED).meant(word) == name


def test_a_line_may_stand_first() -> None:
    """From the lot line to the corner, or from the corner to the line: the same tie."""
    (one, other) = taped(SHED, f"{HEAD}101,lot west,14' 3\"\nlot west,101,14' 3\"\n").book.readings
    assert one.span == other.span
    assert (one.span.kind, one.span.start, one.span.end) == ("tie", "101", "lot west")


def test_rows_without_a_figure_are_not_read() -> None:
    """A book may be filled in from the top; comments and empty lines count for nothing."""
    book = taped(SHED, f"# a note\n\n{HEAD}101,102,40' 3\"\n102,103,\n").book
    assert [reading.line for reading in book.readings] == [4]


def test_the_unit_may_stand_in_the_header() -> None:
    """Bare numbers are then in that unit; the site's where it does not say."""
    (metres,) = taped(SHED, "from,to,reading (m)\n101,102,12.268\n").book.readings
    (feet,) = taped(SHED, f"{HEAD}101,102,40.25\n").book.readings
    assert metres.read == pytest.approx(12.268)
    assert feet.read == pytest.approx(40.25 * FOOT)


def test_commas_that_a_spreadsheet_leaves_behind() -> None:
    """Columns that were once filled end every line; a figure in one of them is still told."""
    (reading,) = taped(SHED, "from,to,reading,,\n101,102,40' 3\",,\n").book.readings
    assert reading.line == 2
    with pytest.raises(InputError, match="the row has 4 cells for 3 columns"):
        taped(SHED, f"{HEAD}101,102,40' 3\",7\n")


def test_a_reading_to_a_stake_that_no_other_fixes_is_set_aside() -> None:
    """It would leave the whole open; two readings fix the stake, and are judged."""
    one = taped(SHED, f"{HEAD}101,102,40' 3\"\n101,201,5'\n")
    assert [reading.words for reading in one.book.aside] == ["101 - 201"]
    assert len(one.book.readings) == 1
    two = taped(SHED, f"{HEAD}101,102,40' 3\"\n101,201,5'\n102,201,40' 6-3/4\"\n")
    assert two.book.aside == ()


def test_a_comma_stands_before_decimals_where_it_parts_no_columns() -> None:
    """Semicolons or tabs between columns, as offices write that count in metres; a note keeps its commas."""
    text = "from;to;reading (m);note\n101;102;12,268;front, at noon\n102\t103\t9,22\n".replace("\t", ";")
    first, second = taped(SHED, text).book.readings
    assert (first.read, second.read) == pytest.approx((12.268, 9.22))
    assert first.note == "front, at noon"


def test_a_reading_is_corrected_as_its_row_says() -> None:
    """Temperature, pull, spans and slope, by the tape of the site file; rows that say nothing take what holds today."""
    site = PLACED_RECTANGLE + (
        '[tape]\ntrue_length = "100.02 ft"\npull = "12 lb"\nweight = "2.25 lb"\nsection = "0.004 sq in"\n'
    )
    layout = layout_of(site)
    head = "from,to,reading,temperature,pull,support,rise\n"
    text = f"{head}1,2,40',95 F,20 lb,ends,6 in\n1,2,40',,,ground,\n"
    first, second = read_tape_book(text, "b.csv", layout, Today(temperature=35.0)).readings
    tape = layout.site.declared.tape.as_survey()
    assert first.value == pytest.approx(corrected(first.read, tape, first.held))
    assert first.held.spans == pytest.approx((40 * FOOT,))
    assert first.corrections.sag < 0 < first.corrections.temperature
    assert first.corrections.slope == pytest.approx(-(0.5**2) / 80 * FOOT, rel=0.01)
    assert second.corrections.temperature == pytest.approx(first.corrections.temperature)
    assert second.corrections.sag == 0


def test_another_tape_may_be_named_in_its_row() -> None:
    """What that tape really measures over its length."""
    (reading,) = taped(SHED, "from,to,reading,tape\n101,102,50',99.98 ft\n").book.readings
    assert reading.corrections.length == pytest.approx(-0.01 * FOOT)


def test_what_could_not_be_corrected_is_said() -> None:
    """A pull without the figures of the tape; a span without a pull."""
    pulled = taped(SHED, "from,to,reading,pull,support\n101,102,40' 3\",12 lb,ends\n").book
    assert any("states no pull" in words for words in pulled.uncorrected)
    assert any("states no weight" in words for words in pulled.uncorrected)
    hung = taped(SHED, "from,to,reading,support\n101,102,40' 3\",ends\n").book
    assert any("no pull was noted" in words for words in hung.uncorrected)


@pytest.mark.parametrize(
    ("support", "spans"),
    [
        ("", ()),
        ("ground", ()),
        ("ends", (30.48, 9.52)),
        ("2", (20.0, 20.0)),
        ("50' + 50 ft", (15.24, 15.24)),
    ],
)
def test_how_a_tape_was_held_up(support: str, spans: tuple[float, ...]) -> None:
    """On the ground, from its ends tape length by tape length, in equal spans, or as measured."""
    assert spans_of(support, 40.0, 30.48, UNITS["ft"]) == pytest.approx(spans)


def test_every_mistake_is_said_with_its_line() -> None:
    """All rows that cannot be used in one run, each with what to write instead."""
    rows = [
        ("101,109,40'", "no stake, corner, point or line"),
        ("lot west,lot front,30'", "both lines"),
        ("101,101,30'", "both ends"),
        ("101,102,40' 13\"", "cannot be read as a length"),
        ("101,102,0", "no reading of a tape"),
        ("101,102,-3", "no reading of a tape"),
        ("101,102,40',hot", "cannot be read as a temperature"),
        ("101,102,40',,hard", "cannot be read as a pull"),
        ("101,102,40',,,chairs", "does not say how the tape was held up"),
        ("101,102,40',,,30' + 20'", "longer than the reading"),
        (",102,40'", "nothing says from where"),
        ("101,102,40',,,,50 ft", "does not measure"),
        ("101,102,40',,,,,0", "an error is more than 0"),
        ("101,102,40',,,,,,a,b", "10 cells for 9 columns"),
        ('101,102,"40', "a quote is opened"),
        ("101,102,40',20 C,2 lb,ends", ""),
    ]
    text = "from,to,reading,temperature,pull,support,tape,error,note\n" + "\n".join(row for row, _ in rows)
    with pytest.raises(InputError) as caught:
        taped(SHED, text)
    wanted = [said for _, said in rows if said]
    assert len(caught.value.findings) == len(wanted)
    for number, (finding, said) in enumerate(zip(caught.value.findings, wanted, strict=True), 2):
        assert said in finding.message
        assert finding.remedy
        assert finding.place
        assert finding.place.line == number


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no rows"),
        ("from,to,reading\n", "no readings"),
        ("from,to\n101,102\n", "no column reading"),
        ("from,to,reading,mood\n", 'no column is called "mood"'),
        ("from,to,reading,distance\n", "two columns mean reading"),
        ("from,to,reading (m),rise (ft)\n", "units differ"),
        ("from,to,reading\n" + "101,102,1\n" * 2001, "more than 2000 rows"),
        ("from,to,reading,rise\n101,102,3',4'\n", "rises more than it is long"),
    ],
)
def test_a_book_that_is_none_is_refused(text: str, said: str) -> None:
    """Its header, its length, its contents."""
    with pytest.raises(InputError) as caught:
        taped(SHED, text)
    assert said in caught.value.findings[0].message
