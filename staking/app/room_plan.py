"""How does the plan of where the slab may stand get into a file?"""

from __future__ import annotations

import os
from pathlib import Path

from staking.drawing.room import room_plan
from staking.errors import OutputError
from staking.exports.plan import plan_svg
from staking.layout.computed import Layout
from staking.layout.room import Room


def draw_room(layout: Layout, room: Room, path: Path) -> None:
    """Write the plan as SVG, complete or not at all. Raises OutputError, also for a name that is no .svg."""
    if path.suffix.lower() != ".svg":
        raise OutputError(f"{path} is no name for a drawing", "give a name that ends in .svg")
    beside = path.with_name(f".{path.name}.new")
    try:
        beside.write_bytes(plan_svg([room_plan(layout, room)]))
        os.replace(beside, path)
    except OSError as error:
        raise OutputError(f"cannot write {path}: {error.strerror}", "name a folder that can be written to") from error
