"""Every finding that a check can give is given for a site that deserves it, and for no sound one."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, ROUND_PAD, SAMPLES, layout_of, sample

from staking import Severity, check
from staking.checks import CHECKS
from staking.findings import as_text

CORNERS = '[[stakes]]\nkind = "corners"\n'
SOUND = PLACED_RECTANGLE + CORNERS
GRID = '[coordinates]\ncrs = "EPSG:6519"\nvalues = "grid"\n[points]'


def _changed(*pairs: tuple[str, str], extra: str = "") -> str:
    text = SOUND
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new)
    return text + extra


# the lot of PLACED_RECTANGLE as a record has it, its calls off by a little or a lot
CALLS = """start = "A"
[[lot.courses]]
side = "front"
corner = "L2"
bearing = "E"
length = "100.00 ft"
[[lot.courses]]
side = "right"
corner = "L3"
bearing = "{right}"
length = "{long} ft"
[[lot.courses]]
side = "rear"
corner = "L4"
{rear}
[[lot.courses]]
side = "left"
bearing = "S"
length = "120.00 ft"
"""
STRAIGHT = 'bearing = "W"\nlength = "100.00 ft"'
CURVED = 'kind = "curve"\nturn = "left"\nradius = "{radius} ft"\nchord = "100.00 ft"\n'
CURVED += 'chord_bearing = "W"\n'
CURVED += 'more_than_half = false\narc = "{arc} ft"\n'


def _record(right: str = "N", long: str = "120.00", rear: str = STRAIGHT, lot: str = "", points: str = "") -> str:
    corners = 'corners = ["A", "B", "C", "D"]\nsides = ["front", "right", "rear", "left"]\n'
    text = SOUND.replace(corners, lot + CALLS.format(right=right, long=long, rear=rear))
    return text.replace("[lot]", f"{points}[lot]")


def _pins(**moved: str) -> str:
    """The record laid over four pins, some of them moved; the corner where it begins is then called L1."""
    pins = {"P1": "0, 0", "P2": "0, 100", "P3": "120, 100", "P4": "120, 0"} | moved
    found = 'found = { L1 = "P1", L2 = "P2", L3 = "P3", L4 = "P4" }\n'
    points = "".join(f"{name} = [{place}]\n" for name, place in pins.items())
    return _record(lot=found, points=points).replace('start = "A"\n', "")


FENCE = '[[references]]\nname = "fence"\nthrough = ["A", "E", "B"]\n[slab]'
PART = '[[slab.parts]]\nname = "apron"\nside = "right"\nfrom = "front-right"\nstart = 4\nwidth = 12\ndepth = 9\n'
PART += "[placement]"
WALL = '[[references]]\nname = "wall"\nthrough = ["E", "F"]\n[slab]'
NO_LOT = SOUND[: SOUND.index("[lot]")] + SOUND[SOUND.index("[slab]") :]
NO_LOT = NO_LOT.replace("[slab]", '[[references]]\nname = "street"\nthrough = ["A", "B"]\n[slab]')
NO_LOT = NO_LOT.replace("[slab]", '[[references]]\nname = "fence side"\nthrough = ["A", "D"]\n[slab]')
NO_LOT = NO_LOT.replace('"lot front"', '"street"').replace('"lot left"', '"fence side"')
NO_LOT = NO_LOT.replace("[placement]", '[placement]\ntoward = "C"')


def _fit(asked: str = "", **measured: str) -> str:
    """The corners measured in a system 1000 ft off, some of them changed; one is left out where its place is empty."""
    places = {"A": "1000, 2000", "B": "1000, 2100", "C": "1120, 2100", "D": "1120, 2000"} | measured
    text = f"{SOUND}[fit]\n{asked}\n"
    for name, place in places.items():
        if place:
            north, east, *up = place.split(", ")
            height = f"elevation = {up[0]}\n" if up else ""
            text += f'[[pairs]]\npoint = "{name}"\nnorth = {north}\neast = {east}\n{height}'
    return text


def _wrong_foot() -> str:
    """Corners a million feet from the origin, measured in the other foot."""
    own = {"A": (0, 0), "B": (0, 100), "C": (120, 100), "D": (120, 0)}
    far = {name: (1e6 + north, 2e6 + east) for name, (north, east) in own.items()}
    text = _fit(**{name: f"{north * 1.000002}, {east * 1.000002}" for name, (north, east) in far.items()})
    for name, (north, east) in own.items():
        text = text.replace(f"{name} = [{north}, {east}]", f"{name} = [{far[name][0]}, {far[name][1]}]")
    return text


HEIGHTS = _fit(A="1000, 2000, 5", B="1000, 2100, 5", C="1120, 2100, 5.5", D="1120, 2000, 5")
for corner in ("A = [0, 0", "B = [0, 100", "C = [120, 100", "D = [120, 0"):
    HEIGHTS = HEIGHTS.replace(f"{corner}]", f"{corner}, 10]")
# the lot of PLACED_RECTANGLE in Nevada Central, north and east in US survey feet; the same corner in metres
NEVADA_METRES = '[[second_system]]\npoint = "A"\ncrs = "EPSG:6518"\nnorth = 6411900.3\neast = 499937.0\n'


def _nevada(*, swapped: bool = False, size: float = 1.0, second: str = "", extra: str = "") -> str:
    text = _changed(('unit = "ft"', 'unit = "ftUS"'), ("[points]", GRID), ("[slab]", second + "[slab]"))
    for name, (north, east) in {"A": (0, 0), "B": (0, 100), "C": (120, 100), "D": (120, 0)}.items():
        place = (size * (21036405.0 + north), size * (1640210.0 + east))
        shown = place[::-1] if swapped else place
        text = text.replace(f"{name} = [{north}, {east}]", f"{name} = [{shown[0]!r}, {shown[1]!r}]")
    return text.replace('values = "grid"', f'values = "grid"\n{extra}')


FLOOR_99 = "[floor]\nelevation = 99\n"
SIGHTED = '[[level_setups]]\nbenchmark = "A"\n'
OVER_A = '[setup]\nstation = "A"\nbacksight = "C"\ncheck = "B"\n'
TOTAL = '[instrument]\nkind = "total station"\nseconds = {seconds}\ndistance = "2 mm"\nppm = 2\n'
ROVER = '[instrument]\nkind = "rover"\ndistance = "8 mm"\nppm = 1\n'
SHED = ("[lot]", "S1 = [20, 20]\nS2 = [20, 60]\nS3 = [30, 60]\n[lot]")
BEHIND = '[[features]]\nname = "shed"\nkind = "building"\noutline = ["S1", "S2", "S3"]\n'


def _shots(*shots: str) -> str:
    """A free station; each shot as "to, angle, distance", empty where it was not read."""
    tables = ""
    for each in shots:
        to, angle, length = each.split(",")
        tables += f'[[setup.shots]]\nto = "{to}"\n' + (f"angle = {angle}\n" if angle else "")
        tables += f"distance = {length}\n" if length else ""
    return SOUND + '[setup]\ncheck = "D"\n' + tables


def _high(factor: str, elevation: float = 5421.0) -> str:
    """The lot in Nevada with a factor, and with an elevation at one of its corners."""
    text = _nevada(extra=f"combined_factor = {factor}")
    return text.replace("1640210.0]", f"1640210.0, {elevation}]", 1)


def _stretched_pins() -> str:
    """A record of 100 by 120 ft, and pins on a grid that the factor is taken off once too often."""
    text = _pins().replace('unit = "ft"', 'unit = "ftUS"').replace("[points]", GRID, 1)
    text = text.replace('values = "grid"', 'values = "grid"\ncombined_factor = 0.9996')
    for name, (north, east) in {"P1": (0, 0), "P2": (0, 100), "P3": (120, 100), "P4": (120, 0)}.items():
        text = text.replace(f"{name} = [{north}, {east}]", f"{name} = [{21036405 + north}, {1640210 + east}]")
    return text


def _earth(*places: str) -> str:
    """[[on_earth]] for the points of PLACED_RECTANGLE; 100 ft there are 0.000360 degrees of longitude at 40 N."""
    lines = (dict(zip(("point", "latitude", "longitude", "more"), p.split(), strict=False)) for p in places)
    return SOUND + "".join(
        f'[[on_earth]]\npoint = "{each["point"]}"\nlatitude = {each["latitude"]}\nlongitude = {each["longitude"]}\n'
        f"{each.get('more', '')}\n"
        for each in lines
    )


A_AND_B = ("A 40.0 -80.0", "B 40.0 -79.999643")
LEVELLED = _changed(("A = [0, 0]", "A = [0, 0, 99]"), extra='[[levels]]\nbook = "levels.csv"\n')
HEAD = "point,backsight (ft),intermediate,foresight,second,elevation\n"
BOOKS = {
    "level-misclosed": f"{HEAD}A,5.00\nB,,,4.00\nB,4.00\nA,,,5.50\n",
    "level-open": f"{HEAD}A,5.00\nB,,,4.00\n",
    "level-contradicts": f"{HEAD}A,5.00\nB,,4.00,,,98\nT,,,4.00\nT,4.00\nA,,,5.00\n",
    "level-read-twice": f"{HEAD}A,5.00,,,5.02\nA,,,5.00\n",
}
THICK = ("depth = 24", "depth = 24\nthickness = '4 in'")
SLOPE = '[[ground]]\npoints = ["A", "B", "C", "D"]\n'


def _ground(*ups: float, extra: str = "", more: tuple[tuple[str, str], ...] = ()) -> str:
    """The lot with a height at each of its corners, A to D, as the ground, and a floor at 99 ft."""
    corners = zip("ABCD", ("0, 0", "0, 100", "120, 100", "120, 0"), ups, strict=True)
    heights = tuple((f"{name} = [{at}]", f"{name} = [{at}, {up}]") for name, at, up in corners)
    return _changed(THICK, *heights, *more, extra=FLOOR_99 + SLOPE + extra)


SHOWER = '[[slab.recesses]]\nname = "shower"\nx = 4\ny = 6\nwidth = 6\ndepth = 4\nlower = "1 in"\n'
SHOWER += 'fall = "1/16 in per ft"\ndrain = [7, 8]\n[placement]'


def _drive(near: float, far: float | None) -> str:
    """A drive from the front side out to the street, and the elevations of its ends; a floor at 99 ft."""
    out = "" if far is None else f", {far}"
    points = f"[points]\nE1 = [39.5, 48, {near}]\nE2 = [2, 48{out}]"
    drive = '[[features]]\nkind = "drive"\nname = "drive"\npoints = ["E2", "E1"]\n'
    return _changed(THICK, ("[points]", points), extra=FLOOR_99 + drive)


LEVEL = (98.9, 98.9, 98.9, 98.9)
GUTTER = "[water]\ndischarge = 'A'\n"
OVERDIG = "[overdig]\nslope = 1.5\ndepth = {}\n"
BOARDS = '[[stakes]]\nkind = "batter_boards"\nback = 4\n'
FLAT = ("[placement]", PART.replace("depth = 9", "depth = 9\ndrop = '1 in'"))
DIP = "[points]\nE1 = [40, 48, 98]\nE2 = [37, 48, 95]\nE3 = [34, 48, 97]"
DESERVED = {
    "setup-unsolved": _shots("A,,10", "B,,20"),
    "backsight-short": SOUND.replace("[lot]", "S = [0, 10]\n[lot]") + OVER_A.replace('"C"', '"S"'),
    "stake-at-station": SOUND.replace("[lot]", "S = [41, 31]\n[lot]") + OVER_A.replace('"A"', '"S"'),
    "sight-blocked": _changed(SHED, extra=BEHIND + OVER_A),
    "no-check-shot": SOUND + OVER_A.replace('check = "B"\n', ""),
    "resection-weak": _shots("A,,404.475", "D,,404.475").replace("[setup]", '[setup]\nhand = "right"'),
    "danger-circle": _shots("C,64.358994,", "B,115.641006,", "A,157.380135,"),
    "resection-unchecked": _shots("A,,70", "B,,70").replace("[setup]", '[setup]\nhand = "left"'),
    "resection-misfit": _shots("A,,70.7", "B,,70.7", "C,,99"),
    "instrument-too-coarse": SOUND + ROVER,
    "heights-too-coarse": SOUND + ROVER,
    "margin-within-doubt": _changed(("clear = 30", "clear = 7.51"), extra=OVER_A + TOTAL.format(seconds=60)),
    "instrument-without-setup": SOUND + TOTAL.format(seconds=5),
    "earth-approximate": _earth(*A_AND_B),
    "earth-refused": _earth(A_AND_B[0]),
    "earth-scale": _earth(A_AND_B[0], "B 40.0 -79.9989"),
    "earth-differs": _earth(*A_AND_B, "D 39.999670 -80.0"),
    "earth-sign": _earth("A 40.0 80.0 bearing=0"),
    "lot-size": _changed(("C = [120, 100]", "C = [120, 90000]"), ("B = [0, 100]", "B = [0, 90000]")),
    "factor-upside-down": _high("1.00036013"),
    "factor-height": _high("0.9998"),
    "ground-for-grid": _stretched_pins(),
    "ground-unknown": _ground(*LEVEL, more=(("distance = 40", "distance = 100"),)),
    "ground-no-floor": _ground(*LEVEL).replace(FLOOR_99, ""),
    "overdig-depth": _changed(extra="[overdig]\nsoil = 'C'\n"),
    "ground-odd": _ground(98, 98.2, 98.1, 98.3, more=(("[points]", "[points]\nE1 = [60, 40, 0]"),)).replace(
        SLOPE, SLOPE.replace('"D"', '"D", "E1"')
    ),
    "ground-floor-far": _ground(*(80.0,) * 4),
    "overdig-moved": _changed(extra=OVERDIG.format(3) + BOARDS),
    "overdig-stake": _changed(extra=OVERDIG.format(3) + BOARDS + "fixed = true\n"),
    "overdig-near": _changed(extra=OVERDIG.format(1) + BOARDS + "fixed = true\n"),
    "overdig-deep": _changed(extra=OVERDIG.format(21)),
    "overdig-lot": _changed(extra=OVERDIG.format(30)),
    "water-floor-low": _ground(*LEVEL, extra=GUTTER),
    "water-ground-fall": _ground(*LEVEL),
    "water-ground-high": _ground(*(90.0,) * 4, more=(("[points]", DIP),), extra="[water]\naway = 0\n").replace(
        SLOPE, SLOPE.replace('"D"', '"D", "E1", "E2", "E3"')
    ),
    "water-outlet-unknown": _changed(THICK, extra=FLOOR_99 + GUTTER),
    "water-drive-back": _drive(98.9, 99.5),
    "water-drive-flat": _drive(98.9, 98.89),
    "water-drive-steep": _drive(98.9, 90),
    "water-drive-high": _drive(99.1, 98),
    "water-drive-unknown": _drive(98.9, None),
    "floor-flat": _changed(THICK, extra=FLOOR_99 + "least = '1/8 in per ft'\n"),
    "recess-drain-fall": _changed(("[placement]", SHOWER), THICK, extra=FLOOR_99),
    "water-unknown": _ground(*LEVEL, more=(("clear = 30", "clear = 3"),)),
    "water-paved-fall": _changed(FLAT, THICK, extra=FLOOR_99 + "[water]\npaved = '2 %'\n"),
    "water-concrete-low": _ground(*LEVEL),
    "water-concrete-high": _ground(*(90.0,) * 4, extra="[water]\nmost = '2 ft'\n"),
    "water-wood-low": _ground(*LEVEL, extra="[water]\nwood = 0\n"),
    "setback-crossed": _changed(("distance = 40", "distance = 24")),
    "lot-line-crossed": _changed(("right = 7.5\n", ""), ("clear = 30", "clear = 68")),
    "keep-clear-crossed": _changed(("[slab]", '[[keep_clear]]\nname = "well"\naround = "D"\nradius = 80\n[slab]')),
    "separation-short": _changed(
        ("[slab]", '[[separations]]\nname = "wall"\nwall = "left"\nto = "lot left"\nleast = 31\n[slab]')
    ),
    "lot-misclosed": _record(long="102.00"),
    "record-balanced": _record(long="120.02", lot='adjust = "compass"\n'),
    "curve-contradicts": _record(rear=CURVED.format(radius="500.00", arc="101.50")),
    "curve-not-tangent": _record(rear=CURVED.format(radius="50.05", arc="152.76")),
    "area-differs": _record(lot='stated_area = "0.300 acres"\n'),
    "pin-odd": _pins(P3="120.9, 100.4"),
    "pins-miss": _pins(P3="120.06, 100.05"),
    "room-thin": _changed(("distance = 40", "distance = 25.3")),
    "line-not-surveyed": _changed(('"surveyor"', '"owner"')),
    "setback-missing": _changed(("rear = 20\n", "")),
    "landmark-not-line": _changed(("[slab]", FENCE), ("[lot]", "E = [0, 50]\n[lot]")),
    "line-bent": _changed(("[slab]", FENCE), ("[lot]", "E = [0.5, 50]\n[lot]")),
    "line-short": _changed(
        ("[slab]", '[[references]]\nname = "stub"\nthrough = ["A", "E"]\n[slab]'),
        ("[lot]", "E = [0, 5]\n[lot]"),
        ('reference = "lot front"', 'reference = "stub"'),
    ),
    "other-corner-nearer": _changed(('corner = "front-left"', 'corner = "front-right"'), ("clear = 30", "clear = 60")),
    "size-unlikely": _changed(("depth = 24", "depth = 0.5")),
    "slab-across-line": _changed(
        ("[slab]", WALL),
        ("[lot]", "E = [0, 40]\nF = [120, 40]\n[lot]"),
        ('from = "lot left"', 'from = "wall"\ntoward = "C"'),
        ('corner = "front-left"', 'corner = "front-right"'),
    ),
    "letters-missing": _changed(('name = "square lot"', 'name = "square lot \u4e2d\U0001f6a7"')),
    "no-lot": NO_LOT,
    "eaves-not-counted": _changed(("depth = 24", "depth = 24\neaves = 2"), ("distance = 40", "distance = 26")),
    "lot-digit": _changed(("C = [120, 100]", "C = [420, 100]")),
    "lot-corner-odd": _changed(("C = [120, 100]", "C = [12000, 100]")),
    "stake-off-lot": _changed(("clear = 30", "clear = 8"), extra='[[stakes]]\nkind = "offsets"\ndistance = 9\n'),
    "stake-in-slab": _changed(
        ("[placement]", PART), extra='[[stakes]]\nkind = "batter_boards"\nback = 4\nboard = 14\n'
    ),
    "stake-in-keep-clear": _changed(
        ("[slab]", '[[keep_clear]]\nname = "main"\nalong = "left"\nwidth = 28\n[slab]'),
        extra='[[stakes]]\nkind = "offsets"\ndistance = 5\n',
    ),
    "stake-on-stake": _changed(extra='[[stakes]]\nkind = "offsets"\ndistance = "3 in"\n'),
    "list-names-changed": _changed(extra='[[stakeout]]\nname = "rover"\npoints = "all"\npoint_names = "numbers"\n'),
    "list-not-written": _changed(extra='[[stakeout]]\nname = "rover"\nvalues = "grid"\n'),
    "stake-on-arc": ROUND_PAD + '[[stakes]]\nkind = "offsets"\ndistance = 2\n',
    "no-stakes": PLACED_RECTANGLE,
    "points-coincide": _changed(("[lot]", "E = [0, 100]\n[lot]")),
    "tape-too-short": _changed(extra="[tape]\nlength = 30\n"),
    "elevation-zero": _changed(("A = [0, 0]", "A = [0, 0, 0]"), ("B = [0, 100]", "B = [0, 100, 412.2]")),
    "position-unknown": SOUND,
    "plan-incomplete": SOUND,
    "position-refused": _changed(
        ('unit = "ft"', 'unit = "ftUS"'), ("[points]", '[coordinates]\ncrs = "EPSG:6519"\nvalues = "ground"\n[points]')
    ),
    "outside-area": _changed(('unit = "ft"', 'unit = "ftUS"'), ("[points]", GRID)),
    "north-east-swapped": _nevada(swapped=True),
    "unit-mistaken": _nevada(size=0.3048),
    "second-differs": _nevada(second=NEVADA_METRES),
    "second-refused": _changed(("[slab]", NEVADA_METRES + "[slab]")),
    "unit-not-system": _changed(("[points]", GRID)),
    "fit-refused": _fit(A="2000, 1000", B="2100, 1000", C="2100, 1120", D="2000, 1120"),
    "fit-mirror-hidden": _fit(C="", D=""),
    "fit-odd-pair": _fit(C="1120.9, 2100"),
    "fit-poor": _fit(A="1000.3, 2000", B="999.7, 2100", C="1120.3, 2100", D="1119.7, 2000"),
    "fit-wrong-foot": _wrong_foot(),
    "fit-geometry": _fit(C="", D=""),
    "fit-scale": _fit(B="1000, 2100.2", C="1120.24, 2100.2", D="1120.24, 2000", asked="scale = true"),
    "fit-odd-height": HEIGHTS,
    "fit-changed": _fit("[fit.recorded]\nturn = 1.0\nscale = 1.0"),
    "floor-not-given": _changed(("depth = 24", 'depth = 24\n[[slab.thickened]]\nname = "e"\nwidth = 1\ndepth = 1\n')),
    "floor-not-above": _changed(("A = [0, 0]", "A = [0, 0, 99]"), extra='[floor]\nabove = "A"\nby = 0\n'),
    "floor-contradicts": _changed(extra="[floor]\nelevation = 99\n[plan]\nfloor_elevation = 98\n"),
    "floor-steep": _changed(extra='[floor]\nelevation = 99\nfall = "6 %"\ntoward = "front"\n'),
    "ramp-steep": _changed(
        ("[placement]", PART.replace("depth = 9", "depth = 9\ndrop = 1\nkind = 'ramp'")), extra=FLOOR_99
    ),
    "rod-too-short": _changed(("A = [0, 0]", "A = [0, 0, 99]"), extra=FLOOR_99 + SIGHTED + "backsight = 20\n"),
    "level-too-low": _changed(("A = [0, 0]", "A = [0, 0, 90]"), extra=FLOOR_99 + SIGHTED + "backsight = 2\n"),
    "forms-nominal": _changed(extra='[forms]\nthickness = "2 in"\nheight = "6 in"\n'),
    "forms-low": _changed(("depth = 24", "depth = 24\nthickness = 0.5"), extra='[forms]\nboard = "2x6"\n'),
    "forms-high": _changed(("depth = 24", "depth = 24\nthickness = 2.1"), extra='[forms]\nboard = "2x10"\ntiers = 3\n'),
    "joints-long": _changed(("depth = 24", "depth = 9"), extra="[concrete]\njoint_spacing = 18\n"),
    "base-thin": _changed(extra='[base]\nthickness = "3 in"\n'),
    "concrete-gap": _changed(
        (
            "depth = 24",
            'depth = 24\nthickness = 0.5\n[[slab.footings]]\nname = "f"\nwidth = 2\ntop = 2\ndepth = 1',
        ),
        extra="[concrete]\n",
    ),
    "steel-no-lap": _changed(extra='[[reinforcement]]\nname = "no 4"\nspacing = 1.5\nlength = 20\ncover = 0.25\n'),
    "forms-stakes-apart": _changed(extra='[forms]\nboard = "2x6"\nstake_spacing = "4\' 1"\n'),
    "joints-apart": _changed(
        ("depth = 24", "depth = 24\nthickness = '4 in'"), extra='[concrete]\njoint_spacing = "8\' 1"\n'
    ),
    "load-short": _changed(("depth = 24", "depth = 24\nthickness = 0.5"), extra='[concrete]\ntruck = "14 cu yd"\n'),
    **dict.fromkeys(BOOKS, LEVELLED),
    "factor-unknown": _changed(('unit = "ft"', 'unit = "ftUS"'), ("[points]", GRID)),
}


@pytest.mark.parametrize("code", DESERVED)
def test_finding_is_given_where_it_is_deserved(code: str) -> None:
    """The finding comes with a sentence, a place in the file and a remedy."""
    found = [finding for finding in check(layout_of(DESERVED[code], BOOKS.get(code, ""))) if finding.code == code]
    assert found
    assert all(finding.message and finding.remedy and finding.place for finding in found)
    assert all("  " not in finding.message and "((" not in finding.message for finding in found)


def test_every_code_has_a_case_here() -> None:
    """No check has a code that is not tried above, and none above is unknown to the checks."""
    assert {code for asked in CHECKS for code in asked.codes} == set(DESERVED)


def test_a_sound_site_gets_notes_only() -> None:
    """A slab well inside a surveyed lot: its place on earth is unknown, and its plan sheet says little."""
    assert [finding.code for finding in check(layout_of(SOUND))] == ["position-unknown", "plan-incomplete"]


@pytest.mark.parametrize("name", [folder.name for folder in SAMPLES])
def test_no_sample_is_stopped(name: str) -> None:
    """The sample sites are jobs that can be staked."""
    assert all(finding.severity < Severity.STOP for finding in check(sample(name)))


@pytest.mark.parametrize(
    ("room", "severity"),
    [("24.99", Severity.STOP), ("25", Severity.STRONG), ("25.09", Severity.STRONG), ("25.2", Severity.WARNING)],
)
def test_severity_follows_the_room(room: str, severity: Severity) -> None:
    """Below 0 stops; under 0.1 ft is a strong warning, exactly 0 too; under 0.5 ft a warning."""
    found = check(layout_of(_changed(("distance = 40", f"distance = {room}"))))
    assert max(finding.severity for finding in found) == severity


def test_limits_can_be_changed() -> None:
    """[margins] moves both limits."""
    text = _changed(("distance = 40", "distance = 27"), ("[slab]", "[margins]\nstrong = 1\nwarn = 3\n[slab]"))
    assert "room-thin" in [finding.code for finding in check(layout_of(text))]


def test_gravest_comes_first() -> None:
    """Stops stand above warnings, warnings above notes."""
    found = check(layout_of(_changed(("distance = 40", "distance = 24"), ('"surveyor"', '"taped"'))))
    assert [f.severity for f in found] == sorted((f.severity for f in found), reverse=True)


def test_finding_as_printed() -> None:
    """Place, severity, key, sentence and code on the first line, then the line of the file, then the remedy."""
    (first, *_) = check(layout_of(DESERVED["setback-crossed"]))
    lines = as_text(first).splitlines()
    assert lines[0].endswith(
        "stop: setbacks.front: the slab is 24' 0\" (24.000 ft) from the front line; 25' 0\" (25.000 ft) is required, "
        "1' 0\" (1.000 ft) more [setback-crossed]"
    )
    assert lines[1] == "  | front = 25"
    assert lines[3].startswith("  -> move or turn the slab")


def _codes(text: str) -> dict[str, Severity]:
    return {finding.code: finding.severity for finding in check(layout_of(text))}


BETWEEN = """
[[references]]
name = "west wall"
through = ["E", "F"]
[[references]]
name = "east wall"
through = ["G", "H"]
[slab]
width = {width}
depth = 24
[placement]
kind = "centered"
between = ["west wall", "east wall"]
side = "front"
reference = "lot front"
distance = 40
"""
WALLS = "E = [30, 30]\nF = [80, 30]\nG = [30, 66]\nH = [80, 66]\n[lot]"  # 36 apart, from 30 to 80 north


@pytest.mark.parametrize(("width", "through"), [("35.9", False), ("36", False), ("36.1", True), ("40", True)])
@pytest.mark.parametrize("lot", [True, False])
def test_a_slab_wider_than_the_room_between_walls_is_stopped(width: str, through: bool, lot: bool) -> None:
    """Both walls are named; a slab that just fits is not stopped, with a lot or without one."""
    text = SOUND[: SOUND.index("[slab]")].replace("[lot]", WALLS) + BETWEEN.format(width=width) + CORNERS
    if not lot:
        text = text[: text.index("[lot]")] + text[text.index("[[references]]") :]
        street = '[[references]]\nname = "street"\nthrough = ["A", "B"]\n[slab]'
        text = text.replace("[slab]", street).replace('"lot front"', '"street"\ntoward = "M"')
        text = text.replace("A = [0, 0]", "A = [0, 0]\nM = [60, 48]")
    found = [f for f in check(layout_of(text)) if f.code == "slab-across-line"]
    assert [f.severity for f in found] == ([Severity.STOP] * 2 if through else [])


def test_the_carried_on_line_is_a_strong_warning() -> None:
    """A wall that ends north of the slab does not run through it, but its line does."""
    text = DESERVED["slab-across-line"].replace("E = [0, 40]", "E = [100, 40]")
    assert _codes(text)["slab-across-line"] == Severity.STRONG
    assert _codes(DESERVED["slab-across-line"])["slab-across-line"] == Severity.STOP


def test_the_named_corner_on_the_wrong_hand() -> None:
    """A slab placed by its far corner reaches back over the wall: how far is told, and the ties say it lies beyond."""
    layout = layout_of(DESERVED["slab-across-line"].replace("clear = 30", "clear = 11"))
    (found,) = [f for f in check(layout) if f.code == "slab-across-line"]
    # the right corner 11 east of the wall, the left one 36 - 11 = 25 west of it
    assert "reaches 11' 0\" (11.000 ft) beyond" in found.message
    walls = {tie.corner: tie for tie in layout.ties if tie.line == "wall"}
    assert sum(tie.beyond for tie in walls.values()) == 2
    assert {tie.beyond for tie in layout.ties if tie.line != "wall"} == {False}


def test_a_side_behind_another_one_is_told() -> None:
    """The side named is measured from the reference; another corner is nearer to it."""
    text = _changed(("width = 36\ndepth = 24", ELL), ('side = "front"', "side = 3"))
    (found,) = [f for f in check(layout_of(text)) if f.code == "other-corner-nearer"]
    assert "stands 28' 0\"" in found.message  # 40 less the 12 that the cut is deep
    assert found.place is not None
    assert found.place.key == "placement.side"


ELL = 'kind = "ell"\nwidth = 36\ndepth = 24\nmissing = "front-right"\ncut_width = 16\ncut_depth = 12'


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("depth = 24", "depth = 24\nledge = 1.75", "the ledge is 1' 9\""),
        ("depth = 24", "depth = 24\nthickness = 5", "the slab is 5' 0\" (5.000 ft) thick"),
    ],
)
def test_feet_where_inches_were_meant(old: str, new: str, said: str) -> None:
    """A ledge and a thickness that no slab has; the same in inches says nothing."""
    (found,) = [f for f in check(layout_of(_changed((old, new)))) if f.code == "size-unlikely"]
    assert said in found.message
    name, number = new.split("\n")[1].split(" = ")
    assert "size-unlikely" not in _codes(_changed((old, f'depth = 24\n{name} = "{number} in"')))


def test_the_longest_pull_is_not_a_side() -> None:
    """The curb pull of 40 ft is longer than every side and diagonal (43.27 ft) only once the diagonal is short."""
    text = _changed(("width = 36\ndepth = 24", "width = 20\ndepth = 12"), ("distance = 40", "distance = 61"))
    text = text.replace("rear = 20", "rear = 0")  # 61 to the front, 120 - 61 - 12 = 47 behind
    (found,) = [f for f in check(layout_of(text + "[tape]\nlength = 60\n")) if f.code == "tape-too-short"]
    assert "61' 0\"" in found.message
    assert "tape-too-short" not in _codes(text + "[tape]\nlength = 62\n")


def test_nobody_permits_a_slab_on_the_land_next_door() -> None:
    """Over the line itself the remedy names no authority; inside the setback it does."""
    for clear, permitted in (("67", False), ("60", True)):
        found = check(layout_of(_changed(("clear = 30", f"clear = {clear}"))))
        (crossed,) = [f for f in found if f.code == "setback-crossed"]
        assert ("authority" in crossed.remedy) == permitted


def test_eaves_that_are_said_not_to_count() -> None:
    """With `measured` written nothing is left to ask."""
    text = DESERVED["eaves-not-counted"].replace("front = 25", 'front = { ordinance = 25, measured = "with parts" }')
    assert "eaves-not-counted" not in _codes(text)


def test_stakes_on_straight_sides_only_are_a_note_where_some_are_straight() -> None:
    """A slab of arcs alone gets none of them, which is a warning."""
    boards = '[[stakes]]\nkind = "batter_boards"\nback = 2\n'
    ended = PLACED_RECTANGLE.replace(
        "width = 36\ndepth = 24",
        'kind = "traced"\nsteps = ["right 36", "away 24 curve left 12", "left 36", "toward 24"]',
    )
    said = {
        text: [(each.severity, each.message) for each in check(layout_of(text + boards)) if each.code == "stake-on-arc"]
        for text in (ended, ROUND_PAD)
    }
    words = "batter boards hold strings over straight sides; "
    assert said[ended] == [(Severity.NOTE, words + "right side 2-3 is an arc and gets none")]
    every = ", ".join(f"side {sides}" for sides in ("1-2", "2-3", "3-4", "4-1"))
    assert said[ROUND_PAD] == [(Severity.WARNING, words + every + " are arcs and get none")]


def test_a_gap_that_is_spread_is_not_said_to_stay() -> None:
    """Balanced calls leave no gap in the last side, so nothing advises to balance them."""
    spread = check(layout_of(_record(long="120.02", lot='adjust = "compass"\n')))
    assert [each.remedy for each in spread if each.code == "lot-misclosed"] == [
        "nothing: the gap is spread over the courses, as adjust asks"
    ]


def test_many_stakes_with_one_fault_are_one_finding() -> None:
    """Eight offsets off the lot: the farthest is told, the others by name, at the entry that asks for them."""
    asked = CORNERS + '[[stakes]]\nkind = "offsets"\ndistance = 5\n[[stakes]]\nkind = "offsets"\ndistance = 90\n'
    layout = layout_of(PLACED_RECTANGLE + asked)
    (found,) = [f for f in check(layout) if f.code == "stake-off-lot"]
    assert found.place is not None
    assert found.place.key == "stakes#3"
    assert "; the same with" in found.message
    off = [stake.name for stake in layout.stakes if stake.entry == 2]
    assert sum(name in found.message for name in off) == len(off)


@pytest.mark.parametrize(("north", "codes"), [("120.015", []), ("120.025", ["pins-miss"])])
def test_pins_in_good_order_are_within_two_hundredths(north: str, codes: list[str]) -> None:
    """The record held at one pin and aimed at the next: another pin 0.015 ft off is in order, 0.025 ft off is not."""
    text = _pins(P3=f"{north}, 100").replace("found = {", 'fit = "hold"\nhold = "L1"\naim = "L2"\nfound = {')
    assert [f.code for f in check(layout_of(text)) if f.code.startswith("pin")] == codes


def test_a_slab_wholly_beyond_its_line_has_no_nearer_corner() -> None:
    """The stop says how far it lies beyond; no corner is called nearer with a distance below nothing."""
    text = _changed(("rear = 20\n", "rear = 20\n"), ("distance = 40", 'distance = 40\ntoward = "W"'))
    found = check(layout_of(text.replace("[lot]", "W = [-90, 30]\n[lot]", 1)))
    assert any(f.code == "setback-crossed" and f.severity == Severity.STOP for f in found)
    nearer = [f.message for f in found if f.code == "other-corner-nearer"]
    assert nearer == [
        'corner 2 (front-right) lies 6\' 0" (6.000 ft) beyond "lot left", on the other side of it than '
        "corner 1 (front-left) with 30' 0\" (30.000 ft)"
    ]


def test_a_steep_porch_is_no_ramp() -> None:
    """A porch that drops steeply is held to a figure only where it has one of its own."""
    text = DESERVED["ramp-steep"].replace("kind = 'ramp'", "kind = 'porch'")
    assert "ramp-steep" not in _codes(text)
    assert "ramp-steep" in _codes(text.replace("kind = 'porch'", "kind = 'porch'\nsteepest = '2 %'"))


@pytest.mark.parametrize(
    ("north", "told"), [("420", True), ("210", False), ("150", False), ("320.5", True), ("380", False)]
)
def test_a_digit_that_would_make_the_lot_regular_is_named(north: str, told: bool) -> None:
    """A corner off by a few hundreds is told with its likely number; a lot that only narrows says nothing.

    210: less than three quarters of the side off. 380: not the difference of one digit.
    """
    found = [f for f in check(layout_of(_changed(("C = [120, 100]", f"C = [{north}, 100]")))) if f.code == "lot-digit"]
    assert bool(found) == told
    assert all("with north 120" in f.message for f in found if told)


def test_a_corner_moved_the_other_way_is_named_too() -> None:
    """East, and to the other side."""
    (found,) = [f for f in check(layout_of(_changed(("B = [0, 100]", "B = [0, 900]")))) if f.code == "lot-digit"]
    assert "with east 100.0000 instead of 900.0000" in found.message


@pytest.mark.parametrize(
    ("places", "says"),
    [
        ((A_AND_B[0], "B 40.0 -79.998829"), ["metres taken for feet", 'unit = "m" would fit']),
        ((A_AND_B[0], "B 40.0 -79.9998912"), ["feet taken for metres", 'unit = "ft" would fit']),
        ((A_AND_B[0], "B 40.0 79.999643"), ["one longitude is east, the other west"]),
        ((*A_AND_B, "D 39.999670 -80.0"), ["mirrored, north and east swapped"]),
        (("A 40.0 -80.0 bearing=30", A_AND_B[1]), ["the bearing at A is 30.0 degrees off"]),
        ((A_AND_B[0], "B 40.0 -80.0"), ["at one place on the earth"]),
    ],
)
def test_what_is_wrong_with_a_place_on_the_earth_is_named(places: tuple[str, ...], says: list[str]) -> None:
    """Wrong units, a lost sign, a mirrored site, a bearing beside two places, one place twice."""
    found = " ".join(as_text(each) for each in check(layout_of(_earth(*places))) if each.code.startswith("earth"))
    assert all(words in found for words in says), found


def test_sound_places_and_factors_say_nothing_more() -> None:
    """Two places that fit are only called approximate; a factor that fits its elevation is not mentioned."""
    codes = _codes(_earth(*A_AND_B, "D 40.000330 -80.0")) | _codes(_high("0.99964"))
    assert {code for code in codes if code.startswith(("earth", "factor", "lot-size", "ground"))} == {
        "earth-approximate"
    }


@pytest.mark.parametrize("name", ["ell_house_on_grid", "corner_lot", "metric_hall", "flag_lot", "tape_only_shed"])
def test_sample_sites_are_plausible(name: str) -> None:
    """No sample's lot or factor is odd."""
    assert not {"lot-size", "factor-height", "factor-upside-down"} & {found.code for found in check(sample(name))}


def test_a_system_needs_no_place_beside_it() -> None:
    """[[on_earth]] on a site with a code is refused with a sentence."""
    place = '[[on_earth]]\npoint = "A"\nlatitude = 40\nlongitude = -80\nbearing = 0\n'
    assert "earth-refused" in _codes(_nevada() + place)


def _told(text: str, code: str) -> list[str]:
    return [finding.message for finding in check(layout_of(text)) if finding.code == code]


def test_a_drive_says_how_it_falls_and_by_how_much_it_fails() -> None:
    """37.5 ft long: 7.2 in toward the slab; 0.1 in instead of 2 percent; 8.9 ft down instead of 10 percent."""
    (back,), (flat,), (steep,) = (
        _told(_drive(*ups), f"water-drive-{code}")
        for ups, code in (((98.9, 99.5), "back"), ((98.9, 98.89), "flat"), ((98.9, 90), "steep"))
    )
    assert 'toward the slab: E2 is 7-3/16" higher' in back
    assert flat.endswith('E2 is 8-7/8" too high')
    assert steep.endswith("5' 1-13/16\" too much between its ends")


def test_a_drive_that_falls_enough_is_no_finding() -> None:
    """1 ft in 37.5 ft, an inch below the floor."""
    codes = {finding.code for finding in check(layout_of(_drive(98.9, 97.9)))}
    assert not {code for code in codes if code.startswith("water-drive")}


def test_a_level_floor_that_a_drive_reaches_is_a_note() -> None:
    """24 ft at 1/8 in per ft are 3 in; a stated least of nothing stills it."""
    text = _drive(98.9, 97.9)
    assert _told(text, "floor-flat")[0].startswith('the floor is level, less than 1/8" per ft (1.04 %): 3" too little')
    assert _told(text.replace(FLOOR_99, f"{FLOOR_99}least = '0 %'\n"), "floor-flat") == []


def test_water_is_asked_of_the_finished_ground() -> None:
    """Level ground falls short; once graded to fall away it is enough. Earth still counts from the ground as it is."""
    graded = (98.0, 98.0, 98.0, 98.0)
    names = {f"F{i}": (n, e) for i, (n, e) in enumerate(((0, 0), (0, 100), (120, 100), (120, 0)))}
    points = "".join(
        f"{name} = [{n}, {e}, {up - 5}]\n" for (name, (n, e)), up in zip(names.items(), graded, strict=True)
    )
    corners = ((40, 30), (40, 66), (64, 66), (64, 30))
    points += "".join(f"H{i} = [{n}, {e}, 98.4]\n" for i, (n, e) in enumerate(corners))
    listed = ", ".join(f'"{name}"' for name in (*names, "H0", "H1", "H2", "H3"))
    finished = f'[[ground]]\nstate = "finished"\npoints = [{listed}]\n'
    text = _ground(*LEVEL, extra=finished, more=(("[points]", f"[points]\n{points}"),))
    assert len(_told(_ground(*LEVEL), "water-ground-fall")) == 4
    assert _told(text, "water-ground-fall") == _told(text, "water-concrete-low") == []
    before, after = layout_of(_ground(*LEVEL)).earth, layout_of(text).earth
    assert before
    assert after
    assert after.total == before.total


def test_an_entry_that_is_fixed_stays_and_the_finding_says_how_far_inside() -> None:
    """3 ft deep, 1.5 to 1 and 2 ft of room: the edge lies 6.5 ft out, boards at 4 ft stand 2.5 ft inside it."""
    text = DESERVED["overdig-stake"]
    (inside,) = _told(text, "overdig-stake")
    assert "303 by 2' 6\"" in inside
    assert _told(text, "overdig-moved") == []
    (moved,) = _told(text.replace("fixed = true\n", ""), "overdig-moved")
    assert moved.startswith("nails and their boards stand farther out than 4' 0\"")
    assert moved.count("10' 6\"") == 8
