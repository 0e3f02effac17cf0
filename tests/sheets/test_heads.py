"""Lines that several sheets share."""

from __future__ import annotations

from making import PLACED_RECTANGLE, layout_of, sample

from staking import check
from staking.findings import Finding, Severity
from staking.sheets.heads import finding_lines


def test_what_to_do_is_said_once_for_findings_of_one_kind() -> None:
    """The second of two in a row refers to the first; none of them loses its message or its code."""
    lines = finding_lines(check(sample("sloping_lot")), Severity.WARNING)
    falls = [line for line in lines if line.endswith("[water-ground-fall]")]
    assert len(falls) == 4
    assert "Grade it" in falls[0]
    assert all(line.endswith("As above. [water-ground-fall]") for line in falls[1:])
    assert len({line.partition(". ")[0] for line in falls}) == 4


def test_other_things_to_do_are_never_above() -> None:
    """Another code, another remedy or none: each says its own."""
    found = [
        Finding(code, Severity.WARNING, "it is so", remedy=remedy)
        for code, remedy in (("a", "x"), ("b", "x"), ("b", "y"), ("b", ""), ("b", ""))
    ]
    assert not any("As above" in line for line in finding_lines(found, Severity.WARNING))
    assert finding_lines(check(layout_of(PLACED_RECTANGLE)), Severity.STOP) == ()
