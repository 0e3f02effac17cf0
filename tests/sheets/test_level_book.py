"""The sheet of the level book: both ways, sums, misclosure with its source, and what was corrected or adjusted."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of, published, sample

from staking import check
from staking.sheets.level_book import level_book_sheet, places_of
from staking.sheets.page import Bullets, Cautions, Heading, Paragraph, Sheet, Signatures, Table

SITE = PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 106.366]").replace('unit = "ft"', 'unit = "m"')
(CASE,) = [case for case in published("levels") if case["id"] == "d01"]


def _book() -> str:
    """The published run as a book."""
    rows, at = ["point,backsight (m),intermediate,foresight,elevation"], "A"
    for setup in CASE["setups"]:
        rows.append(f"{at},{setup['bs']},,,")
        rows += [f"{name},,{reading}," for name, reading in setup["is"]]
        rows.append(f"{setup['to']},,,{setup['fs']},{CASE['end'] if setup['to'] == 'BM2' else ''}")
        at = setup["to"]
    return "\n".join(rows) + "\n"


def _sheet(levels: str = "", book: str | None = None) -> Sheet:
    layout = layout_of(SITE + f'[[levels]]\nbook = "levels.csv"\nadjust = "set-ups"\n{levels}', book or _book())
    return level_book_sheet(layout, check(layout))


def _all(sheet: Sheet) -> str:
    """Every word of a sheet."""
    found = []
    for block in sheet.blocks:
        match block:
            case Paragraph() | Heading():
                found.append(block.text)
            case Bullets():
                found.extend(block.items)
            case _:
                pass
    return "\n".join(found)


def _tables(sheet: Sheet) -> list[Table]:
    return [block for block in sheet.blocks if isinstance(block, Table)]


def test_a_published_page_is_printed_to_its_last_digit() -> None:
    """Lines of sight, heights and adjusted heights are those of the worked sheet."""
    by_line, by_rises, _ = _tables(_sheet("allowed = 0.05"))
    assert [row[5] for row in by_line.rows if row[5]] == [f"{up:.3f}" for up in CASE["sights"]]
    heights = {row[0]: row[6] for row in by_line.rows if not row[2]}
    final = {row[0]: row[7] for row in by_line.rows if not row[2]}
    assert heights == {name: f"{up:.3f}" for name, up in CASE["reduced"].items()}
    assert final == {name: f"{up:.3f}" for name, up in CASE["final"].items()}
    assert {row[0]: row[7] for row in by_rises.rows if not row[2]} == heights


def test_the_published_sums_and_misclosure_are_printed() -> None:
    """Sum of backsights, of foresights, their difference, and 0.042."""
    sheet = _sheet("allowed = 0.05")
    assert _tables(sheet)[2].rows[0] == ("backsights less foresights", "10.743", "11.888", "-1.145")
    assert "Misclosure on BM2 0.042 m, allowed 0.050 m: it closes." in _all(sheet)
    assert "Allowed: 0.050 m (as asked)." in _all(sheet)


@pytest.mark.parametrize(
    ("levels", "said"),
    [
        ("", "DOES NOT CLOSE"),
        ("", "0.02 ft times the root of set-ups, own choice"),
        ("", "not adjusted: the misclosure is more than is allowed"),
        ("", "STOP: the level run misses BM2"),
    ],
)
def test_a_run_that_does_not_close_says_so(levels: str, said: str) -> None:
    """42 mm over six set-ups are more than is allowed where nothing is asked for."""
    assert said in _all(_sheet(levels))


def test_a_class_names_its_source() -> None:
    """From memory, and said."""
    book = "point,backsight (m),foresight,distance\nA,1,,500\nA,,1.001,500\n"
    assert "(third order, FGCC 1984 from memory)" in _all(_sheet('class = "third order"', book))


def test_an_open_run_is_called_open() -> None:
    """It has no misclosure, and nothing is adjusted."""
    words = _all(_sheet(book="point,backsight (m),foresight\nA,1,\nX,,1\n"))
    assert "nothing checks its readings" in words
    assert "Heights are not adjusted." in words


def test_the_sample_shows_what_was_read_and_what_was_taken_off() -> None:
    """Corrected readings stand beside those of the book, and the slope is said."""
    layout = sample("workshop_pad")
    sheet = level_book_sheet(layout, check(layout), ("some-stop",))
    table = _tables(sheet)[0]
    assert table.head[-2:] == ("as read", "adjusted")
    assert table.rows[0] == ("BM1", "2", "5.806", "", "", "218.206", "212.400", "5.82", "212.400")
    assert "the line of sight rises 0.020 in 100, by the two-peg test" in _all(sheet)
    assert "some-stop" in sheet.warning


def test_it_is_signed_and_cautioned() -> None:
    """As every sheet."""
    kinds = {type(block) for block in _sheet().blocks}
    assert {Cautions, Signatures} <= kinds


def test_readings_of_a_finer_level_keep_their_digits() -> None:
    """Five decimals of a book are five on the sheet."""
    book = "point,backsight (m),foresight\nA,1.23456,\nA,,1.2345\n"
    layout = layout_of(SITE + '[[levels]]\nbook = "levels.csv"\n', book)
    assert places_of(layout.site.levelled[0]) == 5
    assert _tables(level_book_sheet(layout, ()))[0].rows[0][2] == "1.23456"


def test_without_a_book_it_says_what_to_add() -> None:
    """No table, and the words [[levels]]."""
    sheet = level_book_sheet(layout_of(SITE), ())
    assert "Add [[levels]]" in _all(sheet)
    assert _tables(sheet) == []
