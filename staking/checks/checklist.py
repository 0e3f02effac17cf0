"""Does the site file say what an inspector will look for on the plan sheet?"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.sitefile.lot_declared import AroundPoint

LISTS = 12  # published lists of what a site plan or form survey must show, read for this table

CODES = MappingProxyType(
    {
        "plan-incomplete": "The plan sheet leaves out something that building departments ask for. Twelve published "
        "lists were read: Austin TX, Fort Collins CO, Alameda CA, Hopkins, Pinetop-Lakeside AZ, a city in North "
        "Carolina (2016), Live Oak TX, Victoria MN, Franklin MI, Inverness IL, Surf City NC, and a statute of Rhode "
        "Island. What most of them ask for is named first. Your own authority's list goes before all of them.",
    }
)


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on the lists. key: where the site file says it. lists: how many of the twelve ask for it."""

    key: str
    lists: int
    said: Callable[[Layout], bool]


def _about(name: str) -> Callable[[Layout], bool]:
    return lambda layout: bool(getattr(layout.site.declared.site, name))


def _plan(name: str) -> Callable[[Layout], bool]:
    return lambda layout: getattr(layout.site.declared.plan, name) not in (None, "", False)


def _shown(absent: str, *kinds: str) -> Callable[[Layout], bool]:
    """A feature of one of the kinds, or the word that there is none."""

    def said(layout: Layout) -> bool:
        declared = layout.site.declared
        return absent in declared.plan.none or any(feature.kind in kinds for feature in declared.features)

    return said


def _easements(layout: Layout) -> bool:
    """A strip or an area; a circle around a tree or a well is no easement."""
    declared = layout.site.declared
    strips = any(not isinstance(area, AroundPoint) for area in declared.keep_clear)
    return strips or "easements" in declared.plan.none


def _projections(layout: Layout) -> bool:
    return bool(layout.slab.form.parts or layout.slab.eaves) or _shown("projections", "eave")(layout)


def _heights(layout: Layout) -> bool:
    stated = layout.site.declared.coordinates
    return bool(layout.site.declared.plan.benchmark or (stated and stated.vertical))


def _spots(layout: Layout) -> bool:
    return any(point.at.up is not None for point in layout.points.values())


def _drainage(layout: Layout) -> bool:
    return bool(layout.site.declared.plan.drainage) or _shown("", "drainage")(layout)


def _zoning(layout: Layout) -> bool:
    return bool(layout.site.declared.plan.zoning or layout.site.declared.plan.flood)


ITEMS: tuple[Item, ...] = (
    Item("site.address", 9, _about("address")),
    Item("easements in [[keep_clear]]", 9, _easements),
    Item("site.lot", 8, _about("lot")),
    Item("[lot]", 7, lambda layout: layout.lot is not None),
    Item("drives and walks in [[features]]", 7, _shown("flatwork", "drive", "walk")),
    Item("elevations of [points]", 5, _spots),
    Item("plan.street", 4, _plan("street")),
    Item("plan.street_elevation", 4, _plan("street_elevation")),
    Item("site.owner", 3, _about("owner")),
    Item("other buildings in [[features]]", 3, _shown("buildings", "building")),
    Item("eaves and other projections in [[features]]", 3, _projections),
    Item("plan.floor_elevation", 3, lambda layout: layout.floor_height is not None),
    Item("plan.benchmark", 3, _heights),
    Item("utilities, septic or well in [[features]]", 3, _shown("utilities", "utility", "septic", "well")),
    Item("site.prepared_by", 3, _about("prepared_by")),
    Item("plan.zoning or plan.flood", 3, _zoning),
    Item("site.date", 2, _about("date")),
    Item("plan.drainage", 1, _drainage),
    Item("offset stakes by plan.stakes", 1, _plan("stakes")),
)


def missing(layout: Layout) -> tuple[Item, ...]:
    """What the site file does not say, what most lists ask for first."""
    return tuple(item for item in ITEMS if not item.said(layout))


def _findings(layout: Layout) -> Iterator[Finding]:
    left_out = missing(layout)
    if not left_out:
        return
    named = ", ".join(f"{item.key} ({item.lists})" for item in left_out)
    count, first = len(left_out), left_out[0]
    yield Finding(
        "plan-incomplete",
        Severity.NOTE,
        f"the plan sheet leaves out {count} thing{'s' if count > 1 else ''} that building departments ask for, "
        f"{first.key} first (on {first.lists} of {LISTS} lists)",
        layout.site.place("plan" if "plan" in layout.site.declared.model_fields_set else "site"),
        f"fill in what your inspector wants to see: {named}\nwhat the lot has none of goes into plan.none",
    )


CHECK = Check("Does the site file say what an inspector will look for on the plan sheet?", CODES, _findings)
