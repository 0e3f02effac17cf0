"""The sheet at the instrument: where it stands, what it must read, in the order of a short walk, and how well."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence

from staking.drawing.setup_marks import setup_drawing
from staking.findings import Finding, Severity
from staking.layout.accuracy import Accuracy, accuracy_of
from staking.layout.computed import Layout
from staking.layout.setups import SetUp, Target, target, targets
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import facts, finding_lines, foot, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Picture, QrCode, Sheet, Signatures, Table
from staking.survey.points import Point
from staking.survey.resection import seconds

AT_THE_INSTRUMENT = (
    "Never aim a telescope at the sun, and look into no laser beam. Set tripods out of the way of machines and traffic "
    "and leave no instrument alone. Common practice, no source."
)
# In 97 by 97 squares (ISO/IEC 18004, version 20-M, as segno makes it); finer ones read badly off paper.
MOST_BYTES = 666
METHOD = (
    "Doubt at 95 %: the circle that holds the stake 95 times in 100, from pointing, distance, centring, prism and "
    "control by the law of propagation; factors 2.4477 for a circle, 1.9600 for a length (NSSDA, App. 3-A). Blunders "
    "are in none of it."
)


def setup_sheet(layout: Layout, setup: SetUp, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet. despite: codes of the stops that were overruled."""
    order = targets(layout, setup)
    accuracy = accuracy_of(layout)
    blocks: list[Block] = [
        *_stand(layout, setup),
        *_resection(layout, setup),
        *_first(layout, setup),
        Picture(setup_drawing(layout, setup), "Thin: sights to stakes. Heavy: backsight and check. North is up.", 250),
        *_stakes(layout, order, accuracy),
        *_budget(layout, accuracy),
        *_found(findings),
        Heading("The list for a telephone or a collector"),
        _code(layout),
        Paragraph(f"Fingerprint of the stake list (SHA-256 of name, north, east): {stakes_fingerprint(layout)}"),
        Cautions((*ALWAYS, AT_THE_INSTRUMENT)),
        Signatures(("Set by", "Checked by")),
    ]
    return Sheet("At the instrument", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite))


def stakes_fingerprint(layout: Layout) -> str:
    """SHA-256 of stakes_text."""
    return hashlib.sha256(stakes_text(layout).encode()).hexdigest()


def stakes_text(layout: Layout) -> str:
    """The lines name,north,east of all stakes, four decimals in the site's unit, each with a line feed."""
    return "".join(f"{stake.name},{_coordinates(layout, stake.at)}\n" for stake in layout.stakes)


def _code(layout: Layout) -> QrCode:
    """The list itself where a telephone can read it off paper, else its fingerprint."""
    text, count = stakes_text(layout), len(layout.stakes)
    if len(text.encode()) <= MOST_BYTES:
        held = f"It holds all {count} stakes, a line each: name, north, east, as in stakeout.csv."
        return QrCode(text, f"{held} {dict(facts(layout))['Lengths'].capitalize()}.")
    return QrCode(
        f"sha256:{stakes_fingerprint(layout)}",
        f"It holds the fingerprint below: the list of {count} stakes is too long for a code that reads well off paper. "
        "Take the list from stakeout.csv.",
    )


def _coordinates(layout: Layout, at: Point) -> str:
    place = layout.frame.to_file(at)
    return ",".join(layout.notation.coordinate(each) for each in (place.north, place.east))


def _stand(layout: Layout, setup: SetUp) -> Iterator[Block]:
    yield Heading("Set up")
    places = [("instrument", setup.station_name, setup.station), ("backsight", setup.backsight_name, setup.backsight)]
    if setup.check is not None:
        places.append(("check", setup.check_name, setup.check))
    rows = tuple((what, name, *_coordinates(layout, at).split(","), _up(layout, at)) for what, name, at in places)
    yield Table(("what", "point", "north", "east", "elevation"), rows, right=frozenset({2, 3, 4}))
    heights = [
        f"{what} height " + (layout.notation.length(height) if height is not None else "not given")
        for what, height in (("instrument", setup.instrument_height), ("prism", setup.prism_height))
    ]
    yield Bullets(
        (
            "; ".join(heights).capitalize() + ". Measure both again, and write them down where they differ.",
            f"Sight {setup.backsight_name} and set the circle to 0\u00b000'00\". Angles right count from there.",
            "All distances are on the ground. Set the instrument's scale to 1, the prism constant to your prism, "
            "and temperature and pressure to those of the day.",
        )
    )


def _up(layout: Layout, at: Point) -> str:
    return "not known" if at.up is None else layout.notation.decimal(at.up, 3)


def _resection(layout: Layout, setup: SetUp) -> Iterator[Block]:
    fixed = setup.resection
    if fixed is None:
        return
    told = layout.site.declared.setup
    names = [shot.to for shot in told.shots] if told else []
    yield Heading("Free station: what the shots leave over")
    yield Table(
        ("to", "angle, computed less read", "distance, computed less read"),
        tuple(
            (
                name,
                "not read" if left.reading is None else f"{seconds(left.reading):+.1f} seconds",
                "not read"
                if left.length is None
                else f"{layout.notation.decimal(left.length, 4)} {layout.site.unit.name}",
            )
            for name, left in zip(names, fixed.residuals, strict=True)
        ),
    )
    spare = f"{fixed.redundancy} to spare" if fixed.redundancy else "none to spare, so a wrong reading does not show"
    fits = "" if fixed.misfit is None else f" They fit {fixed.misfit:.2f} times as well as stated (1 is as stated)."
    spread = [layout.notation.decimal(each**0.5, 4) for each in (fixed.position.north, fixed.position.east)]
    yield Paragraph(
        f"Readings: {spare}.{fits} Standard errors of the station: north {spread[0]}, east {spread[1]} "
        f"{layout.site.unit.name}."
    )


def _first(layout: Layout, setup: SetUp) -> Iterator[Block]:
    yield Heading("Before the first stake, and again after the last one")
    away = layout.notation.azimuth(target(setup, setup.backsight_name, setup.backsight).azimuth)
    yield Paragraph(f"Azimuth of the backsight: {away}.")
    aims = [target(setup, setup.backsight_name, setup.backsight, "backsight")]
    if setup.check is not None:
        aims.append(target(setup, setup.check_name, setup.check, "check shot"))
    else:
        yield Paragraph(
            "No check shot: nothing proves the station. Read a third known point all the same.", strong=True
        )
    yield _table(layout, tuple(aims), None, "note")
    yield Paragraph("Stop where a figure read is off by more than the job allows, and find out why.")


def _stakes(layout: Layout, order: tuple[Target, ...], accuracy: Accuracy | None) -> Iterator[Block]:
    yield Heading("Stakes, in walking order")
    if any(each.rise for each in order):
        words = "Slope, rise and zenith are to the prism held with its foot at the stake's or floor's elevation."
    else:
        words = "Level distances only: elevations of the stakes or heights of instrument and prism are not known."
    yield Paragraph(words)
    yield _table(layout, order, accuracy, "what")


def _table(layout: Layout, aims: tuple[Target, ...], accuracy: Accuracy | None, last: str) -> Table:
    heights = any(each.rise for each in aims)
    head = ["name", *([] if heights else ["azimuth"]), "angle right", "level"]
    head += ["slope", "rise", "zenith"] if heights else []
    head += ["doubt 95 %"] if accuracy else []
    rows = tuple((*_cells(layout, each, heights=heights, accuracy=accuracy), each.note, "", "") for each in aims)
    head += [last, "angle read", "distance read"]
    return Table(tuple(head), rows, to_fill=frozenset({len(head) - 2, len(head) - 1}))


def _cells(layout: Layout, aim: Target, *, heights: bool, accuracy: Accuracy | None) -> tuple[str, ...]:
    write = layout.notation
    cells = [aim.name, *([] if heights else [write.azimuth(aim.azimuth)])]
    cells += [write.azimuth(aim.right), write.decimal(aim.level)]
    if heights and aim.rise:
        cells += [write.decimal(aim.rise.slope), write.decimal(aim.rise.vertical), write.azimuth(aim.rise.zenith)]
    elif heights:
        cells += ["-", "-", "-"]
    if accuracy:
        circle = accuracy.circle(aim.name)
        cells.append("-" if circle is None else write.decimal(circle))
    return tuple(cells)


def _budget(layout: Layout, accuracy: Accuracy | None) -> Iterator[Block]:
    yield Heading("How well the stakes are known")
    if accuracy is None:
        yield Paragraph("The site file names no [instrument], so nothing is said about how well stakes are known.")
        return
    told = layout.site.declared.instrument
    control = "" if told is None or told.control is not None else " The given points are taken as without error."
    yield Paragraph(METHOD + control)
    write, unit = layout.notation.decimal, layout.site.unit.name
    yield Table(
        ("side", "from", "to", f"doubt 95 % [{unit}]", f"allowed [{unit}]"),
        tuple(
            (each.side.label, each.side.start, each.side.end, write(each.doubt), _allowed(layout, each.allowed))
            for each in accuracy.sides
        ),
    )
    yield Table(
        ("room to", "rule", f"room [{unit}]", "nearest stake", f"doubt 95 % [{unit}]"),
        tuple(
            (each.margin.of, each.margin.rule, write(each.margin.room), each.stake, write(each.doubt))
            for each in accuracy.margins
        ),
    )


def _allowed(layout: Layout, metres: float | None) -> str:
    return "no figure" if metres is None else layout.notation.decimal(metres, 4)


def _found(findings: Sequence[Finding]) -> Iterator[Block]:
    lines = finding_lines(findings, Severity.WARNING)
    if lines:
        yield Heading("Settle these first")
        yield Bullets(lines)
