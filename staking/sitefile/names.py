"""Do the names in a site file fit together: points, lot sides, reference lines?

Names are looked up in the data as read, so that a mistake elsewhere in the file hides none of these.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from staking.errors import suggestion
from staking.findings import Finding
from staking.kinds.fields import checked_point_name
from staking.sitefile.coordinates_declared import ORIGIN
from staking.sitefile.places import Places, mistake, plain
from staking.sitefile.toml_lines import Path

_EACH = "*"  # every entry of a list, or of a table with free names
_FEW = 2000  # names that are searched for one like another; more take too long

POINTS_USED = (
    ("lot", "corners", _EACH),
    ("lot", "start"),
    ("lot", "found", _EACH),
    ("keep_clear", _EACH, "around"),
    ("keep_clear", _EACH, "points", _EACH),
    ("references", _EACH, "through", _EACH),
    ("references", _EACH, "toward"),
    ("placement", "at"),
    ("placement", "toward"),
    ("stakeout", _EACH, "about"),
    ("floor", "above"),
    ("level_setups", _EACH, "at"),
    ("ground", _EACH, "points", _EACH),
    ("water", "discharge"),
    ("features", _EACH, "points", _EACH),
    ("pairs", _EACH, "point"),
    ("features", _EACH, "outline", _EACH),
    ("second_system", _EACH, "point"),
    ("on_earth", _EACH, "point"),
    ("on_earth", _EACH, "toward"),
    ("coordinates", "scaled_about"),
    ("coordinates", "scaled_about", "point"),
    ("setup", "station"),
    ("setup", "backsight"),
    ("setup", "check"),
    ("setup", "shots", _EACH, "to"),
)
LINES_USED = (
    ("references", _EACH, "to"),
    ("placement", "reference"),
    ("placement", "from"),
    ("placement", "between", _EACH),
    ("separations", _EACH, "to"),
    ("setbacks", _EACH, "center"),
)
UNIQUE = (
    (("lot", "corners", _EACH), "the corner"),
    (("references", _EACH, "name"), "the line"),
    (("keep_clear", _EACH, "name"), "the area"),
    (("separations", _EACH, "name"), "the separation"),
    (("slab", "parts", _EACH, "name"), "the part"),
    (("slab", "recesses", _EACH, "name"), "the recess"),
    (("slab", "thickened", _EACH, "name"), "the edge"),
    (("slab", "footings", _EACH, "name"), "the footing"),
    (("reinforcement", _EACH, "name"), "the entry"),
    (("features", _EACH, "name"), "the feature"),
    (("stakeout", _EACH, "name"), "the list"),
    (("pairs", _EACH, "point"), "the point"),
    (("setup", "shots", _EACH, "to"), "the shot to"),
    (("on_earth", _EACH, "point"), "the point"),
)


def check_names(data: Mapping[str, Any], points: Collection[str] | None, places: Places) -> Iterator[Finding]:
    """Every name that is not there, stands twice, or may not be used.

    points: names of all given points; None where some could not be read, so that nobody can tell which are missing.
    """
    names = _Names(data, places)
    yield from names.bad_points()
    if points is not None:
        yield from names.unknown_points(points)
    yield from names.unknown_lines()
    yield from names.unknown_sides()
    yield from names.repeated()
    yield from names.taken()
    yield from names.rings()


def texts(data: Any, pattern: tuple[str, ...], path: Path = ()) -> Iterator[tuple[Path, str]]:
    """Every text at a pattern of keys, with its path; what is missing or of another type is passed over."""
    if not pattern:
        if isinstance(data, str):
            yield path, data
    elif pattern[0] == _EACH:
        entries = data.items() if isinstance(data, Mapping) else enumerate(data if isinstance(data, list) else ())
        for key, entry in entries:
            yield from texts(entry, pattern[1:], (*path, key))
    elif isinstance(data, Mapping) and pattern[0] in data:
        yield from texts(data[pattern[0]], pattern[1:], (*path, pattern[0]))


@dataclass
class _Names:
    """The names of one file."""

    data: Mapping[str, Any]
    places: Places

    @cached_property
    def sides(self) -> tuple[str, ...]:
        named = [*texts(self.data, ("lot", "sides", _EACH)), *texts(self.data, ("lot", "courses", _EACH, "side"))]
        return tuple(dict.fromkeys(name for _, name in named))

    @cached_property
    def lines(self) -> tuple[str, ...]:
        named = [name for _, name in texts(self.data, ("references", _EACH, "name"))]
        return (*(f"lot {side}" for side in self.sides), *named)

    @property
    def _sides_are_known(self) -> bool:
        """False where the lot has been declared so badly that its sides are not known."""
        return "lot" not in self.data or bool(self.sides)

    def bad_points(self) -> Iterator[Finding]:
        points = self.data.get("points")
        for name in points if isinstance(points, Mapping) else ():
            try:
                checked_point_name(name)
            except ValueError as error:
                remedy = "begin with a letter or digit; then letters, digits, blanks, - and _"
                yield mistake("bad-name", plain(str(error), 200), self.places.key(("points", name)), remedy)

    def unknown_points(self, points: Collection[str]) -> Iterator[Finding]:
        # corners that a record names are points too, once the lot is laid out
        points = {*points, *(name for _, name in texts(self.data, ("lot", "courses", _EACH, "corner")))}
        like = _Like(points)
        for pattern in POINTS_USED:
            for path, name in texts(self.data, pattern):
                if name not in points and not (path[0] == "coordinates" and name == ORIGIN):
                    message = f'there is no point "{plain(name)}"'
                    yield mistake("unknown-name", message, self.places.value(path), like.meant(name))

    def unknown_lines(self) -> Iterator[Finding]:
        for pattern in LINES_USED:
            for path, name in texts(self.data, pattern):
                if name not in self.lines and (self._sides_are_known or not name.startswith("lot ")):
                    remedy = f'write "lot {name}"' if name in self.sides else _Like(self.lines).meant(name)
                    message = f'there is no line "{plain(name)}"'
                    yield mistake("unknown-name", message, self.places.value(path), remedy or _NO_LINES)

    def unknown_sides(self) -> Iterator[Finding]:
        setbacks = self.data.get("setbacks")
        if "lot" not in self.data and "setbacks" in self.data:
            remedy = "declare [lot] with corners and sides, or take [setbacks] out"
            message = "setbacks are measured from the sides of a lot, and there is none"
            yield mistake("unknown-name", message, self.places.key(("setbacks",)), remedy)
        elif self._sides_are_known and isinstance(setbacks, Mapping):
            for name in setbacks:
                if name not in self.sides:
                    place = self.places.key(("setbacks", name))
                    yield mistake("unknown-name", f'the lot has no side "{plain(name)}"', place, self._side_meant(name))
        for path, name in texts(self.data, ("keep_clear", _EACH, "along")):
            if self._sides_are_known and name not in self.sides:
                message = f'the lot has no side "{plain(name)}"' if self.sides else "there is no lot with sides"
                yield mistake("unknown-name", message, self.places.value(path), self._side_meant(name))

    def _side_meant(self, name: str) -> str:
        bare = name.removeprefix("lot ")
        return f'write "{bare}"' if bare in self.sides else _Like(self.sides).meant(name)

    def repeated(self) -> Iterator[Finding]:
        for pattern, what in UNIQUE:
            seen: dict[str, Path] = {}
            for path, name in texts(self.data, pattern):
                if name in seen:
                    first = self.places.value(seen[name]).line
                    message = f'{what} "{plain(name)}" stands twice; first on line {first}'
                    remedy = "name each corner once; the last side leads back to the first"
                    remedy = remedy if "corner" in what else "give each a name of its own"
                    remedy = "write all that was read to a point into one shot" if "shot" in what else remedy
                    yield mistake("duplicate-name", message, self.places.value(path), remedy)
                seen.setdefault(name, path)

    def taken(self) -> Iterator[Finding]:
        for path, name in texts(self.data, ("references", _EACH, "name")):
            if name.startswith("lot "):
                message = 'names that begin with "lot " are those of the lot\'s own sides'
                yield mistake("bad-name", message, self.places.value(path), "choose another name")

    def rings(self) -> Iterator[Finding]:
        """Parallels that need one another: each ring once, said where its first line stands."""
        names = dict(texts(self.data, ("references", _EACH, "name")))
        needs = {names.get((*path[:-1], "name")): name for path, name in texts(self.data, ("references", _EACH, "to"))}
        where = {name: path for path, name in reversed(names.items())}
        done: set[str | None] = set()
        for start in needs:
            ring = _ring(start, needs)
            if start is not None and ring and not done & set(ring):
                done.update(ring)
                path = (*where[start][:-1], "to")
                words = " -> ".join(f'"{plain(name)}"' for name in (*ring, start))
                remedy = "let one of them be parallel to a lot side or a line through points"
                yield mistake("ring", f"these lines wait for one another: {words}", self.places.value(path), remedy)


_NO_LINES = "declare it in [[references]], or name a lot side"


def _ring(start: str | None, needs: Mapping[str | None, str]) -> tuple[str, ...]:
    """The names passed on the way from a line back to itself; empty where the way ends or enters another ring."""
    passed: dict[str, None] = {}
    name = start
    while name is not None and name not in passed:
        passed[name] = None
        name = needs.get(name)
    return tuple(passed) if name is not None and name == start else ()


class _Like:
    """Finds the known name like another one: but for case, blanks and zeros in front; else as `suggestion` has it."""

    def __init__(self, known: Collection[str]) -> None:
        self.known = list(known)
        self.folded = {_folded(name): name for name in reversed(self.known)}

    def meant(self, name: str) -> str:
        same = self.folded.get(_folded(name))
        return f'did you mean "{same}"?' if same is not None else suggestion(name[:100], self.known[:_FEW])


def _folded(name: str) -> str:
    return name.strip().casefold().lstrip("0")
