"""Are the columns of point lists told by their headers?"""

from __future__ import annotations

import pytest

from staking.sitefile.columns import ColumnError, by_blanks, from_header, from_text, guess, is_list


@pytest.mark.parametrize(
    "header",
    [
        "name,north,east,elevation,note",
        "Point,Northing,Easting,Elev,Description",
        "PT,N,E,Z,D",
        "No.,Y,X,Z,desc",
        "pt no,n,e,el,code",
    ],
)
def test_words_of_the_trade_are_known(header: str) -> None:
    """The usual words for name, north, east, elevation and note, in any case."""
    columns = from_header(header.split(","))
    assert columns is not None
    assert list(columns.index.values()) == [0, 1, 2, 3, 4]


def test_other_columns_are_passed_over() -> None:
    """Columns that mean nothing here may stand anywhere."""
    columns = from_header(["class", "easting", "northing", "id"])
    assert columns is not None
    assert dict(columns.index) == {"east": 1, "north": 2, "name": 3}


def test_a_row_of_figures_is_no_header() -> None:
    """A first row with numbers is a point."""
    assert from_header(["1022", "380006.365", "6397932.575"]) is None


@pytest.mark.parametrize(
    ("cell", "unit"),
    [
        ("northing (ftUS)", "ftUS"),
        ("Northing (US ft)", "ftUS"),
        ("north [m]", "m"),
        ("N (US survey feet)", "ftUS"),
        ("north_ft", "ft"),
        ("north", ""),
        ("Northing (usft)", "ftUS"),
        ("y (feet)", "ft"),
    ],
)
def test_units_of_a_header_are_read(cell: str, unit: str) -> None:
    """A unit in brackets or behind the word."""
    columns = from_header(
        [
            "name",
            cell,
            cell.lower()
            .replace("northing", "easting")
            .replace("north", "east")
            .replace("n (", "e (")
            .replace("y (", "x ("),
        ]
    )
    assert columns is not None
    assert columns.unit == unit


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ("north,east", "is the name of the point"),
        ("name,id,north,east", "two columns mean the name"),
        ("name,north (m),east (ft)", "one unit for north and another"),
        ("name,north (chains),east (chains)", "no unit known here"),
    ],
)
def test_headers_that_do_not_tell_are_refused(header: str, said: str) -> None:
    """A header that leaves a doubt is no guess."""
    with pytest.raises(ColumnError, match=said):
        from_header(header.split(","))


def test_columns_can_be_written_in_the_site_file() -> None:
    """Words in the order of the file; - for what is passed over."""
    assert dict(from_text("name, east,north,-,note").index) == {"name": 0, "east": 1, "north": 2, "note": 4}


@pytest.mark.parametrize(
    ("text", "said"),
    [("name,north,east,hight", "no column known"), ("name,north,north,east", "twice"), ("name,north", "no column")],
)
def test_columns_written_wrong_are_refused(text: str, said: str) -> None:
    """Unknown words, words that stand twice, and what must be there."""
    with pytest.raises(ColumnError, match=said):
        from_text(text)


def test_the_guess_has_as_many_columns_as_the_row() -> None:
    """The line to add fits the file."""
    assert guess(["1", "2", "3"]) == 'columns = "name,north,east"'
    assert guess(["1"] * 7) == 'columns = "name,north,east,elevation,note,-,-"'


@pytest.mark.parametrize(
    "row", ["point northing easting", "Point No North East Elev", "K1  1000.0 2000", "1 -5 +7.5 0 nail, old"]
)
def test_columns_between_blanks_are_told(row: str) -> None:
    """A header or a row of figures without any other separator."""
    assert by_blanks(row.split(","))


@pytest.mark.parametrize("row", ["", "K1", "iron pin", "K1 1000", "a,b c d", "my point 7,1,2", "point no,n,e"])
def test_other_rows_have_no_columns_between_blanks(row: str) -> None:
    """Blanks within cells, and rows that are no points, are not taken for it."""
    assert not by_blanks(row.split(","))


@pytest.mark.parametrize(
    ("row", "said"),
    [("north,east", True), ("K1,1,2", True), ("K1,1,x", False), ("1,2", False), ("width = 24", False), ("", False)],
)
def test_a_list_is_told_by_its_first_row(row: str, said: bool) -> None:
    """Words for north and east, or a name and two figures."""
    assert is_list(row.split(",")) is said
