"""Are real records, each in five wordings, read as their numbers say?

The records and their wordings stand in a folder of test data, `deeds`, which the variable STAKING_DATA names.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest

from staking.errors import TextError
from staking.sitefile.descriptions.described import ReadCourse
from staking.sitefile.descriptions.reading import read_description
from staking.survey.angles import parse_direction

DEEDS = Path(os.environ.get("STAKING_DATA", "")) / "deeds"
_KEYS = {"R": "radius", "arc": "arc", "chord": "chord", "chord_b": "chord_bearing", "delta": "delta"}
_NOT_IN_WORDS = {"chord", "chord_b", "delta"}  # the wording in words gives radius and arc of curves only


def _texts() -> list[Path]:
    return sorted((DEEDS / "prose").glob("*.txt")) if "STAKING_DATA" in os.environ else []


def _records() -> dict[str, Any]:
    return {deed["id"]: deed for deed in json.loads((DEEDS / "deeds.json").read_text(encoding="utf-8"))}


def _same(text: str | None, printed: str | float | None) -> bool:
    """Whether a field says what the record prints; an unreadable bearing must not be read."""
    if printed is None or (isinstance(printed, str) and printed.startswith("?")):
        return text is None
    if text is None:
        return False
    if isinstance(printed, str):
        return parse_direction(text) == parse_direction(printed.removeprefix("AZ"))
    return abs(float(text.split()[0]) - printed) < 0.006  # words stop at hundredths


def _differences(call: list[Any], course: ReadCourse, *, words: bool) -> list[str]:
    fields = course.fields
    if call[0] == "L":
        bearing = fields.get("bearing") or fields.get("azimuth")
        pairs = [("bearing", _same(bearing, call[1])), ("length", _same(fields.get("length"), call[2]))]
        return [key for key, same in [*pairs, ("to_start", course.to_start == (call[2] is None))] if not same]
    left_out = _NOT_IN_WORDS if words else set()
    wrong = [
        _KEYS[key] for key, value in call[2].items() if key not in left_out and not _same(fields.get(_KEYS[key]), value)
    ]
    return wrong + ([] if fields.get("turn") == {"L": "left", "R": "right"}[call[1]] else ["turn"])


def _mistakes(path: Path, deed: dict[str, Any]) -> list[str]:
    """What is not as the record has it; empty where the text is read fully right."""
    _, style, _ = path.name.rsplit(".", 2)
    description = read_description(path.read_text(encoding="utf-8"))
    if len(description.courses) != len(deed["calls"]):
        return [f"{len(description.courses)} courses for {len(deed['calls'])} calls"]
    found = []
    for number, (call, course) in enumerate(zip(deed["calls"], description.courses, strict=True), start=1):
        found += [f"{number} {key}" for key in _differences(call, course, words=style == "words")]
    if style != "words":
        area = description.stated_area
        found += [] if _same(area.value if area else None, deed["record_area"]) else ["area"]
        ties = [(tie.fields["bearing"], tie.fields["length"]) for tie in description.tie]
        wanted = [tuple(tie) for tie in deed["tie"]]
        found += [] if len(ties) == len(wanted) and all(map(_same_tie, ties, wanted)) else ["tie"]
    return found


def _same_tie(tie: tuple[str, str], wanted: tuple[str, float]) -> bool:
    return _same(tie[0], wanted[0]) and _same(tie[1], wanted[1])


@pytest.mark.skipif("STAKING_DATA" not in os.environ, reason="STAKING_DATA names no folder with deeds")
def test_every_wording_of_every_record_is_read(capsys: pytest.CaptureFixture[str]) -> None:
    """Every call, every curve, every tie and the stated area of each text; the count is printed."""
    records = _records()
    wrong = {path.name: _mistakes(path, records[path.name.rsplit(".", 2)[0]]) for path in _texts()}
    right = sum(not mistakes for mistakes in wrong.values())
    with capsys.disabled():
        print(f"\n{right} of {len(wrong)} texts are read fully right")  # noqa: T201 the count is what is asked for
    assert len(wrong) == 35
    assert {name: mistakes for name, mistakes in wrong.items() if mistakes} == {}


@pytest.mark.parametrize(
    ("text", "printed", "same"), [("N 12-30 E", "N12-30E", True), ("1 ft", 2, False), (None, "?2W", True)]
)
def test_the_comparison_itself_can_fail(text: str | None, printed: str | float, same: bool) -> None:
    """Values that differ are seen to differ."""
    assert _same(text, printed) == same
    with pytest.raises(TextError):
        parse_direction("?27-35-50W")
