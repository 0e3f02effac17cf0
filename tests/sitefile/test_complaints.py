"""Are failed validations put in plain words, every one of them?"""

from __future__ import annotations

import pytest

from staking.kinds.fields import Record
from staking.sitefile.complaints import EXAMPLES, RECORDS, data_path, keys_of

ALL = [
    (f"{table} {kind}".strip(), record) for table, kinds in RECORDS.items() if table for kind, record in kinds.items()
]


@pytest.mark.parametrize(("table", "record"), ALL, ids=[name for name, _ in ALL])
def test_every_key_that_must_be_there_has_an_example(table: str, record: type[Record]) -> None:
    """Whoever left out a key is shown what to write."""
    required = [field.alias or name for name, field in record.model_fields.items() if field.is_required()]
    assert table
    assert set(required) - {"kind"} <= set(EXAMPLES)


def test_every_table_of_a_site_file_has_its_records() -> None:
    """A new table must be entered, or its unknown keys get no suggestion; setbacks have free names."""
    assert set(keys_of(RECORDS[""][""])) - {"setbacks"} == {name for name in RECORDS if name and "." not in name}


def test_the_path_in_the_file_leaves_out_kinds_and_alternatives() -> None:
    """What the records add to a location is no part of the file."""
    data = {"slab": {"parts": [{"side": 1.5}]}, "points": {"A": [1, True]}}
    assert data_path(("slab", "kind:ell", "parts", 0, "side", "int"), data) == ("slab", "parts", 0, "side")
    assert data_path(("points", "A", "east"), data) == ("points", "A", 1)


def test_the_path_of_a_missing_key_ends_with_it() -> None:
    """The key that is not there is the last of its path."""
    assert data_path(("slab", "kind:rectangle", "width"), {"slab": {}}, missing=True) == ("slab", "width")
