"""What does somebody begin with who has no site file yet?"""

from __future__ import annotations

from pathlib import Path

from staking.errors import OutputError
from staking.sitefile.new_file import new_file

NAME = "site.toml"

_STARTER = """\
# A site file: what is where on the lot, and where the slab goes. Change it to your own job, then run `staking check`.
# A bare number is in site.unit. A length may carry its own unit in quotes: "32' 6-1/2", "32.5 ft", "9.906 m".
# The inch mark may be left off after feet; inches alone are written "6-1/2 in".

[site]
name = "Alder Lane garage"                 # invented
unit = "ft"                                # ft (0.3048 m), ftUS (US survey feet, 1200/3937 m) or m
revision = "A"                             # a new letter whenever a drawing or measurement changes

# Points as given or as measured: north, east and, where it is known, elevation. Local coordinates are enough: call
# one corner 1000, 1000 and count from there. The short form is K1 = [987.9, 1001.5].
# With a surveyor's grid add [coordinates] with crs = "EPSG:..."; for a list of points [[point_files]] with a path.
[points]
P1 = { north = 1000.00, east = 1000.00, note = "rebar found, front left" }
P2 = { north = 1000.00, east = 1080.00, note = "rebar found, front right" }
P3 = { north = 1120.00, east = 1080.00, note = "pipe found, rear right" }
P4 = { north = 1120.00, east = 1000.00, note = "pipe found, rear left" }
K1 = { north = 987.92, east = 1002.00, note = "nail, back of curb" }
K2 = { north = 987.92, east = 1078.00, note = "nail, back of curb" }

# The lot: its corners in order, and the name of the side from each corner to the next; the last leads back to the
# first. given_by: surveyor, plat, owner or taped. Only a licensed surveyor can say where the property line is.
[lot]
corners = ["P1", "P2", "P3", "P4"]
sides = ["front", "right", "rear", "left"]
given_by = "taped"

# How far to stay away from each side: figures of the local authority. There are no defaults; ask before you build.
[setbacks]
front = 25
right = "7' 6"
rear = 20
left = "7' 6"

# Lines that things are measured from. Every side of the lot is one already, as "lot front". Through more than two
# points runs the line that fits them best; kind = "parallel" makes a line beside another one.
[[references]]
name = "curb"
through = ["K1", "K2"]
given_by = "taped"

# The slab, as one sees it standing in front of it: width along the front, depth away from it. Other kinds are "ell"
# and "traced" (step by step). ledge = "1-3/4 in" adds a seat outside; ramps and aprons are [[slab.parts]].
[slab]
kind = "rectangle"
width = "24'"
depth = "36'"

# Where it goes: its front side parallel to the curb at a distance, and one corner square off a second line.
# distance and clear may be "setback". Other kinds are "at_point" (a corner and a bearing) and "centered".
[placement]
kind = "from_lines"
side = "front"
reference = "curb"
distance = "42' 6"
corner = "front-right"
from = "lot right"
clear = "9' 3-1/2"

# What to drive. Other kinds are "batter_boards" with back = "6'", and "along" with spacing = "10'".
[[stakes]]
kind = "corners"

[[stakes]]
kind = "offsets"                           # on the line of each side, this far beyond both of its ends
distance = "5'"
"""


def starter_site() -> str:
    """The text of a site file to start from: a small job that can be staked as it is."""
    return _STARTER


def write_starter(folder: Path) -> Path:
    """Make a folder, where there is none, with a site file in it; the path of that file.

    Raises OutputError where there is one already or none can be made; an existing file is never touched.
    """
    path = folder / NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise OutputError(f"{folder} is a file, not a folder", "name another folder") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is no file name"
        raise OutputError(f"{folder} cannot be made: {reason}", "name a folder that you may write to") from None
    with new_file(path) as file:
        file.write(_STARTER.encode("utf-8"))
    return path
