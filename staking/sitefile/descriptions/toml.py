"""How is a description written as the [lot] of a site file?"""

from __future__ import annotations

from staking.findings import Severity
from staking.sitefile.descriptions.described import Description, ReadCourse, Words
from staking.sitefile.descriptions.items import one_line

_HEAD = """\
# Read from a description; compare every course with its words before it is used.
[lot]
given_by = "plat"
start = "POB"  # a point of the site file, as in [points] POB = [1000, 1000]
adjust = "none"
"""
_KEYS = (
    "bearing",
    "turn",
    "radius",
    "arc",
    "delta",
    "chord",
    "chord_bearing",
    "tangent",
    "radial",
    "length",
)


def as_toml(description: Description) -> str:
    """The [lot] with one [[lot.courses]] a course, and above each the words it came from.

    What could not be read stands as a comment in the place where it is missing, so that a site file does not pass
    before somebody fills it in. Ties are comments: they are no sides. A description that is refused has no courses.
    """
    blocks = [_HEAD + _area(description)]
    blocks.extend(f"# {finding.message}\n" for finding in description.findings if finding.severity == Severity.STOP)
    blocks.extend(_tie(number, course) for number, course in enumerate(description.tie, start=1))
    blocks.extend(_course(number, course) for number, course in enumerate(description.courses, start=1))
    return "\n".join(blocks)


def _area(description: Description) -> str:
    """The stated area; as a comment where site files have no word for its unit."""
    area = description.stated_area
    if area is None:
        return ""
    known = area.unit in ("acres", "square feet", "square metres", "hectares")
    return f'{"" if known else "# "}stated_area = "{area.value} {area.unit}"\n'


def _tie(number: int, course: ReadCourse) -> str:
    said = ", ".join(f"{key} {value}" for key, value in course.fields.items())
    return f"{_quoted(course.words)}# tie {number}, from the point of commencement: {said or 'not read'}\n"


def _course(number: int, course: ReadCourse) -> str:
    lines = ["[[lot.courses]]"]
    if course.kind == "curve":
        lines.append('kind = "curve"')
    lines.append(f'side = "side {number}"')
    if "azimuth" in course.fields:
        lines.append(f'bearing = "{course.fields["azimuth"]}"  # an azimuth')
    lines.extend(f'{key} = "{course.fields[key]}"' for key in _KEYS if key in course.fields)
    if course.to_start:
        lines.append("to_start = true")
    lines.extend(f'# {key} = ""  # not read' for key in course.missing)
    lines.extend(f"# left open: {question}" for question in course.open)
    return _quoted(course.words) + "\n".join(lines) + "\n"


def _quoted(words: Words) -> str:
    """The words as a comment on one line, in which nothing invisible is left."""
    text = "".join(sign if sign.isprintable() else "\ufffd" for sign in one_line(words.text))
    return f"# line {words.line}: {text}\n"
