"""How does the plan of where the slab may stand get into a file?"""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from staking.drawing.room import room_plan
from staking.errors import OutputError
from staking.exports.plan import plan_svg
from staking.layout.computed import Layout
from staking.layout.room import Room
from staking.sitefile.new_file import new_file


def draw_room(layout: Layout, room: Room, path: Path) -> None:
    """Write the plan as SVG, complete or not at all. Raises OutputError, also for a name that is no .svg."""
    if path.suffix.lower() != ".svg":
        raise OutputError(f"{path} is no name for a drawing", "give a name that ends in .svg")
    if os.path.isdir(path) or (os.path.exists(path) and not os.access(path, os.W_OK)):
        what = "is a folder" if os.path.isdir(path) else "may not be written"
        raise OutputError(f"{path} {what}", "name another file")
    beside = path.with_name(f".{path.name}.new")
    with contextlib.suppress(OSError):
        beside.unlink()  # the piece that a run which was killed left
    with new_file(beside, named=path) as file:
        file.write(plan_svg([room_plan(layout, room)]))
    try:
        os.replace(beside, path)
    except OSError as error:
        beside.unlink()
        raise OutputError(f"{path} cannot be written: {error.strerror}", "name another file") from error
