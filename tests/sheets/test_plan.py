"""The plan sheet with its words."""

from __future__ import annotations

from making import PLACED_RECTANGLE, layout_of

from staking import check
from staking.sheets.cautions import ALWAYS
from staking.sheets.plan import plan_pages

STOPPED = PLACED_RECTANGLE.replace("distance = 40", "distance = 20")


def words(text: str, **more: tuple[str, ...]) -> str:
    """All text of the sheet of a site, lines run together."""
    layout = layout_of(text)
    return " ".join(it.text for page in plan_pages(layout, check(layout), **more) for it in page.texts)


def test_every_caution_is_printed() -> None:
    """Safety and law, whole, whatever else is on the sheet."""
    shown = words(PLACED_RECTANGLE)
    assert all(caution in shown for caution in ALWAYS)


def test_findings_from_warning_upward_are_printed() -> None:
    """A stop is on the sheet; a note, such as that the place on earth is unknown, is not."""
    shown = words(STOPPED)
    assert "[setback-crossed]" in shown
    assert "[position-unknown]" not in shown


def test_what_is_withheld_stands_on_top() -> None:
    """With the code that withholds it."""
    assert "STAKE FILES WITHHELD: setback-crossed" in words(STOPPED, withheld=("setback-crossed",))


def test_what_was_overruled_stands_on_top() -> None:
    """With the code that was overruled."""
    assert "MADE DESPITE: setback-crossed." in words(STOPPED, despite=("setback-crossed",))
