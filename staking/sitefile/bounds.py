"""What to write where a number is of the right sort, and only too large, too small or of the wrong sign?"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pydantic.fields import FieldInfo

BOUNDS: Mapping[str, str] = MappingProxyType(
    {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}
)  # the bounds a field may have, in words
_MEANT: Mapping[str, str] = MappingProxyType(
    {
        "must be more than 0": "write a length above 0",
        "must not be negative": "write 0 or a length above 0",
        "must be a finite number": "write a number in digits",
    }
)


def within(message: str, field: FieldInfo | None, key: str, example: str) -> str:
    """What to write instead of a number that a message refuses; empty for messages about other things.

    example: a value for the key, as files write it; empty where there is none.
    """
    words = _MEANT.get(message)
    if words is None:
        return ""
    shown = f"{words}, as   {key} = {example}" if example else words
    return shown if field is None or field.is_required() else f"{shown}\nor leave the key out"


def numbers(field: FieldInfo | None) -> str:
    """The numbers that a field takes, as a remedy; empty where it has no bounds. All such keys may be left out."""
    marks = field.metadata if field else []
    found = {name: getattr(mark, name) for mark in marks for name in BOUNDS if hasattr(mark, name)}
    if {"ge", "le"} <= found.keys():
        words = f"from {found['ge']} to {found['le']}"
    elif {"gt", "lt"} <= found.keys():
        words = f"between {found['gt']} and {found['lt']}"
    else:
        words = " and ".join(f"{BOUNDS[name]} {bound}" for name, bound in found.items())
    return f"write a number {words}, or leave the key out" if words else ""
