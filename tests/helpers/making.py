"""Sites for tests: from TOML text, or at random, without a file of their own that anyone keeps."""

from __future__ import annotations

import math
import tempfile
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from staking import Layout, read_site, solve

ROOT = Path(__file__).parents[2]
SAMPLES = tuple(sorted(path.parent for path in ROOT.glob("sample_sites/*/site.toml")))


def published(name: str) -> list[Mapping[str, Any]]:
    """The cases of one file of tests/published, each with its source."""
    path = ROOT / "tests" / "published" / f"{name}.toml"
    cases: list[Mapping[str, Any]] = tomllib.loads(path.read_text(encoding="utf-8"))["case"]
    return cases


def layout_of(text: str, book: str = "") -> Layout:
    """A layout from the text of a site file, and of a level book beside it, levels.csv."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "site.toml"
        path.write_text(text, encoding="utf-8")
        (Path(folder) / "levels.csv").write_text(book, encoding="utf-8")
        return solve(read_site(path))


def sample(name: str) -> Layout:
    """The layout of a sample site."""
    return solve(read_site(ROOT / "sample_sites" / name / "site.toml"))


@dataclass(frozen=True)
class Turn:
    """Moves and turns a whole site on its grid: degrees clockwise, then east and north."""

    angle: float = 0.0
    east: float = 0.0
    north: float = 0.0

    def __call__(self, east: float, north: float) -> tuple[float, float]:
        """Where a place comes to lie."""
        sine, cosine = math.sin(math.radians(self.angle)), math.cos(math.radians(self.angle))
        return self.east + east * cosine + north * sine, self.north - east * sine + north * cosine


PLAIN = """
[slab]
kind = "rectangle"
width = {width}
depth = {depth}

[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = {ahead}
corner = "front-left"
from = "lot left"
clear = {aside}

[[stakes]]
kind = "corners"
[[stakes]]
kind = "offsets"
distance = 1.5
[[stakes]]
kind = "batter_boards"
back = 2.0
"""


@dataclass(frozen=True)
class RandomSite:
    """A four-sided lot, a rectangle on it, in metres; `text` writes it down, moved and turned at will."""

    corners: tuple[tuple[float, float], ...]
    width: float
    depth: float
    ahead: float
    aside: float

    def text(self, turn: Turn = Turn(), extra: str = "", slab: str = PLAIN) -> str:
        """The site file. slab: the tables after the lot."""
        lines = ["[site]", 'name = "random"', 'unit = "m"', "[points]"]
        for index, (east, north) in enumerate(self.corners, start=1):
            e, n = turn(east, north)
            lines.append(f"L{index} = {{ north = {n!r}, east = {e!r} }}")
        lines += ["[lot]", 'given_by = "surveyor"', 'corners = ["L1", "L2", "L3", "L4"]']
        lines += ['sides = ["front", "right", "rear", "left"]', "[setbacks]", "front = 3", "left = 1.5"]
        sizes = {"width": self.width, "depth": self.depth, "ahead": self.ahead, "aside": self.aside}
        return "\n".join(lines) + extra + slab.format(**sizes)


def _near(value: float, spread: float) -> st.SearchStrategy[float]:
    return st.floats(value - spread, value + spread).map(lambda number: round(number, 3))


random_sites: st.SearchStrategy[RandomSite] = st.builds(
    lambda a, b, c, d, sizes: RandomSite((a, b, c, d), *sizes),
    st.tuples(_near(0.0, 2.0), _near(0.0, 2.0)),
    st.tuples(_near(40.0, 2.0), _near(0.0, 2.0)),
    st.tuples(_near(40.0, 2.0), _near(60.0, 2.0)),
    st.tuples(_near(0.0, 2.0), _near(60.0, 2.0)),
    st.tuples(_near(14.0, 6.0), _near(12.0, 6.0), _near(9.0, 4.0), _near(7.0, 3.0)),
)

turns: st.SearchStrategy[Turn] = st.builds(
    Turn, st.floats(0.0, 360.0), st.floats(-5e5, 5e5).map(round), st.floats(-5e6, 5e6).map(round)
)

SQUARE_LOT = """
[site]
name = "square lot"
unit = "ft"
[points]
A = [0, 0]
B = [0, 100]
C = [120, 100]
D = [120, 0]
[lot]
given_by = "surveyor"
corners = ["A", "B", "C", "D"]
sides = ["front", "right", "rear", "left"]
[setbacks]
front = 25
left = 7.5
right = 7.5
rear = 20
"""
PLACED_RECTANGLE = (
    SQUARE_LOT
    + """\
[slab]
width = 36
depth = 24
[placement]
kind = "from_lines"
side = "front"
reference = "lot front"
distance = 40
corner = "front-left"
from = "lot left"
clear = 30
"""
)

# one point and a bearing, no lot and no line
OPEN_FIELD = """
[site]
name = "open field"
unit = "m"
[points]
P = [100, 100]
[slab]
width = 12
depth = 8
[placement]
kind = "at_point"
corner = 1
at = "P"
side = "front"
bearing = 80
"""

# four quarters of a circle of 20 ft radius, 3 ft thick, placed by the chord of the first
ROUND_PAD = (
    PLACED_RECTANGLE[: PLACED_RECTANGLE.index("[slab]")].replace("[lot]", "P = [40, 50]\n[lot]")
    + """\
[slab]
kind = "traced"
steps = [
    "right 20 away 20 curve left 20", "left 20 away 20 curve left 20",
    "left 20 toward 20 curve left 20", "right 20 toward 20 curve left 20",
]
thickness = 3
[placement]
kind = "at_point"
corner = 1
at = "P"
side = "1-2"
bearing = "N 45 E"
"""
)
