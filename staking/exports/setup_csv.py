"""What does the instrument read, as a table for a spreadsheet (RFC 4180)?

Backsight and check point first, then the stakes in walking order. Lengths in the site's unit, angles in degrees with
decimals; what is not known is an empty cell.
"""

from __future__ import annotations

from staking.exports.csv_text import csv_text
from staking.exports.points_csv import harmless
from staking.layout.accuracy import accuracy_of
from staking.layout.computed import Layout
from staking.layout.setups import SetUp, target, targets

COLUMNS = (
    "name",
    "north",
    "east",
    "order",
    "what",
    "azimuth",
    "angle_right",
    "level",
    "slope",
    "vertical",
    "zenith",
    "doubt_95",
    "note",
)
_ANGLE_DECIMALS = 5  # 0.04 seconds


def setup_csv(layout: Layout, setup: SetUp) -> bytes:
    """The table, with a header. order counts the stakes from 1; backsight and check point have none."""
    aims = [("backsight", target(setup, setup.backsight_name, setup.backsight))]
    if setup.check is not None:
        aims.append(("check", target(setup, setup.check_name, setup.check)))
    before = len(aims)
    aims += [("stake", each) for each in targets(layout, setup)]
    accuracy, write = accuracy_of(layout), layout.notation.coordinate
    rows = []
    for index, (what, aim) in enumerate(aims, start=1 - before):
        circle = accuracy.circle(aim.name) if accuracy and what == "stake" else None
        rise = aim.rise
        heights = (write(rise.slope), write(rise.vertical), _angle(rise.zenith)) if rise else ("", "", "")
        at = layout.frame.to_file(aim.at)
        rows.append(
            (
                harmless(aim.name),
                write(at.north),
                write(at.east),
                index if index > 0 else "",
                what,
                _angle(aim.azimuth),
                _angle(aim.right),
                write(aim.level),
                *heights,
                "" if circle is None else write(circle),
                harmless(aim.note),
            )
        )
    return csv_text(COLUMNS, rows)


def _angle(degrees: float) -> str:
    text = f"{degrees:.{_ANGLE_DECIMALS}f}"
    return f"{0:.{_ANGLE_DECIMALS}f}" if text.startswith("360.") else text
