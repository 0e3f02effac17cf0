"""What may be written for a missing key? An example in the unit of the site, and of a size fit for its table."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.sitefile.tables import EXAMPLES

# keys of tables where the example of their name alone would be of a silly size
OF_TABLES: Mapping[str, str] = MappingProxyType(
    {
        "overdig.depth": '"36 in"',
        "slab.footings.depth": '"12 in"',
        "slab.footings.width": '"16 in"',
        "slab.parts.depth": '"6\'"',
        "slab.parts.width": '"10\'"',
        "slab.thickened.depth": '"12 in"',
        "slab.thickened.width": '"12 in"',
    }
)
# the same and those of EXAMPLES on a site in metres
METRIC: Mapping[str, str] = MappingProxyType(
    {
        "back": "1.8",
        "clear": "2.75",
        "cover": '"75 mm"',
        "cut_depth": "3.0",
        "cut_width": "3.6",
        "depth": "11.0",
        "distance": "1.5",
        "lap": '"150 mm"',
        "least": "1.5",
        "length": "30.0",
        "lower": '"100 mm"',
        "overdig.depth": "0.9",
        "radius": "4.5",
        "slab.footings.depth": "0.3",
        "slab.footings.width": "0.4",
        "slab.parts.depth": "1.8",
        "slab.parts.width": "3.0",
        "slab.thickened.depth": "0.3",
        "slab.thickened.width": "0.3",
        "spacing": "3.0",
        "thickness": '"100 mm"',
        "top": "0.6",
        "unit": '"m"',
        "width": "7.2",
    }
)


def example(table: str, key: str, *, metric: bool) -> str:
    """What to write for a key, as the file would have it; empty where nothing fits. metric: the site is in metres.

    >>> example("overdig", "depth", metric=True)
    '0.9'
    """
    books = ((METRIC,) if metric else ()) + (OF_TABLES, EXAMPLES)
    named = (f"{table}.{key}", key)
    return next((book[name] for name in named for book in books if name in book), "")
