"""Which column of a list is which, by what evidence, and how sure is that?

A header and what somebody says are taken at their word. Without them north and east are told only by evidence: a
comment that names the columns, the points of a site, the area of a coordinate system. The usual order of columns is no
evidence.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import permutations

from staking.errors import PositionError, TextError
from staking.sitefile.columns import ColumnError, from_header
from staking.sitefile.declared import GivenPoint
from staking.sitefile.figures import is_figure
from staking.sitefile.places import plain
from staking.sitefile.pointlists.dialect import with_point
from staking.sitefile.pointlists.opening import Asked, Beginning, ListError, Opening, cells_of, open_list
from staking.survey.points import Point, distance
from staking.survey.projected_systems import system
from staking.survey.projections import misplaced
from staking.units import UNITS, parse_length

CERTAIN, LIKELY, BY_PLACE = "certain", "by evidence", "by its place only"
_CLEARER = 10.0  # so many times nearer one order must be than the other; own choice
_NEAR = 3.0  # a list belongs to a site within so many times the size of both; own choice
_FEW = 50  # points that are held against a coordinate system; own choice
_MOST_FIGURES = 4  # columns of figures among which north and east are looked for; own choice


@dataclass(frozen=True, slots=True)
class Taken:
    """What one column was taken for: its number from 1, its head or first cell, the meaning, why, and how sure."""

    number: int
    head: str
    meaning: str
    why: str
    sure: str


@dataclass(frozen=True)
class Evidence:
    """What is known beside a list: the points of a site in metres, and its coordinate system; nothing where unknown."""

    points: Mapping[str, GivenPoint] = field(default_factory=dict)
    crs: str = ""


def tell(beginning: Beginning, asked: Asked, evidence: Evidence, *, shown: str) -> tuple[Opening, tuple[Taken, ...]]:
    """How a list is to be read, and why. Raises ListError where nothing tells north from east."""
    cells = cells_of(beginning.piece.lines[0], beginning.dialect)
    try:
        opening = open_list(beginning, asked, shown=shown)
    except ListError as error:
        if asked.columns or _is_header(cells):
            raise
        found = _by_comment(beginning) or _by_evidence(beginning, asked, evidence)
        if found is None:
            raise _untold(error, evidence) from None
        words, why = found
        opening = open_list(beginning, replace(asked, columns=",".join(words)), shown=shown)
        return opening, tuple(_by_words(opening, cells, why))
    return opening, tuple(_by_words(opening, cells, "you say so" if asked.columns else "the header says so"))


def _is_header(cells: Sequence[str]) -> bool:
    try:
        return from_header(cells) is not None
    except ColumnError:
        return True


def _by_words(opening: Opening, cells: Sequence[str], why: str) -> Iterator[Taken]:
    """Every column of the first row, with its meaning."""
    meanings = {at: word for word, at in opening.columns.index.items()}
    certain = why.endswith("so")
    for at, cell in enumerate(cells):
        meaning = meanings.get(at, "-")
        if meaning == "-":
            reason, sure = "nothing that is needed here", CERTAIN if certain else BY_PLACE
        elif certain or meaning in ("north", "east"):
            reason, sure = why, CERTAIN if certain else LIKELY
        else:
            reason, sure = _USUAL[meaning], BY_PLACE
        yield Taken(at + 1, plain(cell.strip(), 24), meaning, reason, sure)


_USUAL = {
    "name": "before the coordinates",
    "elevation": "the figures behind the coordinates",
    "note": "the words behind the figures",
}


def _untold(error: ListError, evidence: Evidence) -> ListError:
    """The refusal of the reader, and what the evidence was worth."""
    tried = "the site's points and coordinate system do not tell" if evidence.points else "no site was named to tell"
    (finding,) = error.findings
    return ListError(replace(finding, message=f"{finding.message}; {tried} north from east"))


def _by_comment(beginning: Beginning) -> tuple[list[str], str] | None:
    """The columns that a comment before the points names, as P,N,E,Z,D."""
    width = len(beginning.rows[0]) if beginning.rows else 0
    for number, comment in beginning.piece.comments:
        cells = cells_of(comment, beginning.dialect)
        if number < beginning.piece.numbers[0] and len(cells) == width and _is_header(cells):
            try:
                found = from_header(cells)
            except ColumnError:
                continue
            if found is not None:
                meanings = {at: word for word, at in found.index.items()}
                return [meanings.get(at, "-") for at in range(width)], f"the comment on line {number} names it"
    return None


@dataclass(frozen=True)
class _Sample:
    """The first rows as names and figures in metres, as far as they are figures."""

    names: list[str]
    figures: Mapping[int, list[float | None]]
    width: int
    name_at: int

    def places(self, north: int, east: int) -> list[tuple[str, Point]]:
        """The named points of one order."""
        rows = zip(self.names, self.figures[north], self.figures[east], strict=True)
        return [(name, Point(e, n)) for name, n, e in rows if n is not None and e is not None]

    def words(self, north: int, east: int) -> list[str]:
        """The columns in one order: elevation the next figures, note the next words behind it."""
        words = ["-"] * self.width
        words[self.name_at], words[north], words[east] = "name", "north", "east"
        last = max(north, east)
        high = next((at for at in self.figures if at > last), None)
        if high is not None:
            words[high] = "elevation"
        note = next((at for at in range(max(last, high or 0) + 1, self.width) if at not in self.figures), None)
        if note is not None:
            words[note] = "note"
        return words


def _sample(beginning: Beginning, asked: Asked, known: Mapping[str, GivenPoint]) -> _Sample | None:
    """The first rows; None where there are no two columns of figures beside the name."""
    rows = beginning.rows
    if len(rows) > 1 and not any(is_figure(cell, beginning.dialect.comma) for cell in rows[0][1:]):
        rows = rows[1:]  # a header whose words are not known
    width = max((len(row) for row in rows), default=0)
    columns = [[row[at].strip() if at < len(row) else "" for row in rows] for at in range(width)]
    if not columns:
        return None
    name_at = max(range(width), key=lambda at: (sum(cell in known for cell in columns[at]), -at))
    comma = beginning.dialect.comma
    figured = [
        at
        for at, cells in enumerate(columns)
        if at != name_at and any(cells) and all(is_figure(cell, comma) for cell in cells if cell)
    ]
    if len(figured) < 2:
        return None
    figures = {at: [_metres(cell, beginning, asked) for cell in columns[at]] for at in figured[:_MOST_FIGURES]}
    return _Sample(columns[name_at], figures, width, name_at)


def _metres(cell: str, beginning: Beginning, asked: Asked) -> float | None:
    unit = UNITS[asked.unit] if asked.unit else asked.site_unit
    try:
        return float(parse_length(with_point(beginning.dialect.comma)(cell), unit or UNITS["m"]))
    except TextError:
        return None


def _by_evidence(beginning: Beginning, asked: Asked, evidence: Evidence) -> tuple[list[str], str] | None:
    """The columns by the site's points, or by the area of its coordinate system; None where neither tells."""
    sample = _sample(beginning, asked, evidence.points)
    if sample is None or not evidence.points:
        return None
    first, second = list(sample.figures)[:2]
    found = _by_names(sample, evidence) or _by_nearness(sample, first, second, evidence)
    found = found or _by_area(sample, first, second, evidence)
    if found is None:
        return None
    north, east, why = found
    return sample.words(north, east), why


def _by_names(sample: _Sample, evidence: Evidence) -> tuple[int, int, str] | None:
    """The order in which points of the site stand where the site has them."""
    known = {name: Point(point.east, point.north) for name, point in evidence.points.items()}
    off: dict[tuple[int, int], list[float]] = {}
    for order in permutations(sample.figures, 2):
        gaps = [distance(place, known[name]) for name, place in sample.places(*order) if name in known]
        if gaps:
            off[order] = gaps
    if not off:
        return None
    middle = {order: statistics.median(gaps) for order, gaps in off.items()}
    best, *others = sorted(middle, key=lambda order: middle[order])
    if middle[best] * _CLEARER > min((middle[order] for order in others), default=0.0):
        return None
    count, other = len(off[best]), middle[best[1], best[0]]
    return *best, f"{count} points of the site lie {middle[best]:,.2f} m off; the other way round {other:,.0f} m"


def _by_nearness(sample: _Sample, first: int, second: int, evidence: Evidence) -> tuple[int, int, str] | None:
    """The order in which the list lies at the site, where in the other it is far away."""
    site = [Point(point.east, point.north) for point in evidence.points.values()]
    away = {}
    for order in ((first, second), (second, first)):
        here = [place for _, place in sample.places(*order)]
        if not here:
            return None
        away[order] = distance(_middle(here), _middle(site)), _NEAR * (_size(here) + _size(site))
    near, far = sorted(away, key=lambda order: away[order][0])
    if away[near][0] > away[near][1] or away[far][0] < _CLEARER * away[near][1]:
        return None
    return (
        *near,
        f"the list lies {away[near][0]:,.0f} m from the site; the other way round {away[far][0] / 1000:,.0f} km",
    )


def _by_area(sample: _Sample, first: int, second: int, evidence: Evidence) -> tuple[int, int, str] | None:
    """The order in which the list lies in the area of the coordinate system, where in the other nothing does."""
    if not evidence.crs:
        return None
    inside = {}
    for order in ((first, second), (second, first)):
        places = [(place.east, place.north) for _, place in sample.places(*order)][:_FEW]
        try:
            inside[order] = sum(found is None for found in misplaced(system(evidence.crs), places)) / max(
                1, len(places)
            )
        except PositionError:
            return None
    best = max(inside, key=lambda order: inside[order])
    if inside[best] < 1 or min(inside.values()) > 0:
        return None
    return *best, f"so the points lie in the area of {evidence.crs}; the other way round none does"


def _middle(points: Sequence[Point]) -> Point:
    return Point(statistics.median(p.east for p in points), statistics.median(p.north for p in points))


def _size(points: Sequence[Point]) -> float:
    easts, norths = [p.east for p in points], [p.north for p in points]
    return distance(Point(min(easts), min(norths)), Point(max(easts), max(norths)))
