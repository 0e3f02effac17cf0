"""The sheet of checks: its result in one sentence, its margins, its findings."""

from __future__ import annotations

from making import OPEN_FIELD, PLACED_RECTANGLE, layout_of, sample

from staking import Layout, check
from staking.sheets.checks import checks_sheet
from staking.sheets.page import Paragraph, Sheet, Table


def _sheet(layout: Layout, withheld: tuple[str, ...] = ()) -> Sheet:
    return checks_sheet(layout, check(layout), withheld=withheld)


def _result(sheet: Sheet) -> str:
    return next(block.text for block in sheet.blocks if isinstance(block, Paragraph) and block.strong)


def test_a_clear_site_is_never_called_approved() -> None:
    """Nothing stops the staking, and the sheet says that this is no approval."""
    assert "no approval" in _result(_sheet(sample("metric_hall")))


def test_a_stop_is_on_every_page() -> None:
    """The codes that keep the stake files back are in the warning and in the result."""
    layout = layout_of(PLACED_RECTANGLE.replace("distance = 40", "distance = 20"))
    sheet = _sheet(layout, ("setback-crossed",))
    assert sheet.warning == "STAKE FILES WITHHELD: setback-crossed"
    assert _result(sheet).startswith("Stopped (setback-crossed)")


def test_margins_are_listed_with_their_verdict() -> None:
    """One row a line or area, the figure that is required, and whether it clears."""
    table = next(block for block in _sheet(sample("tape_only_shed")).blocks if isinstance(block, Table))
    assert [row[0] for row in table.rows] == ["front", "east", "rear", "west", "drainage easement"]
    assert {row[-1] for row in table.rows} == {"clears"}


def test_without_a_lot_nothing_is_claimed() -> None:
    """A site without lot and areas says that nothing could be checked."""
    words = [block.text for block in _sheet(layout_of(OPEN_FIELD)).blocks if isinstance(block, Paragraph)]
    assert any("nothing could be checked" in text for text in words)
