"""Are failed validations put in plain words, every one of them?"""

from __future__ import annotations

from pathlib import Path

import pytest

from staking.errors import InputError
from staking.kinds.fields import Record
from staking.sitefile.complaints import data_path
from staking.sitefile.reader import read_site
from staking.sitefile.starter import starter_site
from staking.sitefile.tables import EXAMPLES, RECORDS, keys_of

ALL = [
    (f"{table} {kind}".strip(), record) for table, kinds in RECORDS.items() if table for kind, record in kinds.items()
]

CORNERS = '["P1", "P2", "P3", "P4"]'


@pytest.mark.parametrize(("table", "record"), ALL, ids=[name for name, _ in ALL])
def test_every_key_that_must_be_there_has_an_example(table: str, record: type[Record]) -> None:
    """Whoever left out a key is shown what to write."""
    required = [field.alias or name for name, field in record.model_fields.items() if field.is_required()]
    assert table
    assert set(required) - {"kind"} <= set(EXAMPLES)


def test_every_table_of_a_site_file_has_its_records() -> None:
    """A new table must be entered, or its unknown keys get no suggestion."""
    assert set(keys_of(RECORDS[""][""])) == {name for name in RECORDS if name and "." not in name}


def test_the_path_in_the_file_leaves_out_kinds_and_alternatives() -> None:
    """What the records add to a location is no part of the file."""
    data = {"slab": {"parts": [{"side": 1.5}]}, "points": {"A": [1, True]}}
    assert data_path(("slab", "kind:ell", "parts", 0, "side", "int"), data) == ("slab", "parts", 0, "side")
    assert data_path(("points", "A", "east"), data) == ("points", "A", 1)


def test_the_path_of_a_missing_key_ends_with_it() -> None:
    """The key that is not there is the last of its path."""
    assert data_path(("slab", "kind:rectangle", "width"), {"slab": {}}, missing=True) == ("slab", "width")


@pytest.mark.parametrize(
    ("old", "new", "said", "remedy"),
    [
        ('"24\'"', '"24\'"\nplacement = 5', 'unknown key "placement"', "write [placement] as a table of its own"),
        ('kind = "corners"', 'kind = "corners"\nback = 5', 'unknown key "back"', 'only kind = "batter_boards" has it'),
        ("[points]", "[points]\n1.5 = [1, 2]", 'unknown key "5"', 'put quotes around a point name that holds a dot'),
        (CORNERS, '["P1", "P2"]', "2 corners but 4 sides", "name the side from each corner to the next"),
        (CORNERS, '["P1", 2]', "must be a text", 'put it in quotes: "2"'),
        ('["P1", "P2", "P3", "P4"]', '["P1", "P2", "P3", 4]', "must be a text", 'put it in quotes: "4"'),
        ('name = "Alder Lane garage"', 'name = ""', "must not be empty", "write a word or two"),
        ('revision = "A"', "revision = true", "must be a text, not true", 'put it in quotes: "true"'),
        ('revision = "A"', "revision = [1]", "must be a text, not a list", 'write "..."'),
        ('revision = "A"', 'date = "today"', "must be a date, not the text", "write it without quotes"),
        ("[setbacks]", "[tape]\nlength = 0x" + "f" * 4000 + "\n[setbacks]", "too far away", "check the digits"),
        ("[setbacks]", "[notation]\nfraction = 0x" + "f" * 4000 + "\n[setbacks]", "not the number ...", ""),
        ("[setbacks]", "[notation]\ndecimals = 2.5\n[setbacks]", "must be a whole number", "without a point"),
        ("[setbacks]", "[coordinates]\ncombined_factor = 1.5\n[setbacks]", "must be less than 1.1",
         "write a number between 0.9 and 1.1, or leave the key out"),
        ("[setbacks]", "[coordinates]\ncombined_factor = nan\n[setbacks]", "must be", ""),
        ("[setbacks]", "[notation]\ndecimals = 9\n[setbacks]", "must be at most 5", "write a number from 2 to 5"),
        ("[setbacks]", "[plan]\nscale = 0\n[setbacks]", "must be more than 0", "write a number more than 0"),
        ('"24\'"', "0", "must be more than 0", "write a length above 0, as   width = \"24'\""),
        ('"24\'"', '"24\'"\nthickness = 0', "must be more than 0", 'as   thickness = "4 in"\nor leave the key out'),
        ("front = 25", "front = -25", "must not be negative", "write 0 or a length above 0"),
        ('"24\'"', '"24\'"\nledge = -1', "must not be negative", "write 0 or a length above 0\nor leave the key out"),
        ('["K1", "K2"]', '["K1"]', "1 entry; at least 2 are needed", 'write ["K1", "K2"]'),
        ("[setbacks]", "setback = 5\n[setbacks]", 'unknown key "setback"', ""),
        ('kind = "rectangle"', 'kind = "traced"\nvertices = [[1], [1, 2, 3]]', "1 entry; two are meant", "[..., ...]"),
        ('kind = "rectangle"', 'kind = "traced"\nvertices = [[1, 2], [1, 2, 3]]', "3 entries; 2 are meant", ""),
        ('kind = "rectangle"', "kind = true", "a kind is a word, not true", "known:"),
    ],
)  # fmt: skip
def test_a_mistake_is_said_in_plain_words(old: str, new: str, said: str, remedy: str, tmp_path: Path) -> None:
    """What is wrong and what to write instead, for each sort of mistake."""
    (tmp_path / "site.toml").write_text(starter_site().replace(old, new, 1))
    with pytest.raises(InputError) as caught:
        read_site(tmp_path / "site.toml")
    findings = [each for each in caught.value.findings if said in each.message]
    assert [remedy in each.remedy for each in findings] == [True]
