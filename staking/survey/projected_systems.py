"""In which coordinate systems can a site be built? Projected ones of today, in metres or feet, by their EPSG code.

Opens pyproj for this room and for `projections`, and keeps PROJ off the network.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType

import pyproj
from pyproj.database import get_database_metadata
from pyproj.exceptions import CRSError
from pyproj.network import set_network_enabled  # type: ignore[attr-defined] # its module has no __all__

from staking.errors import PositionError

set_network_enabled(active=False)

_UNITS: Mapping[str, tuple[str, Fraction]] = MappingProxyType(  # PROJ's unit name: ours, metres
    {
        "metre": ("m", Fraction(1)),
        "foot": ("ft", Fraction(3048, 10000)),  # Fed. Reg. 85 FR 62698 (5 Oct 2020)
        "US survey foot": ("ftUS", Fraction(1200, 3937)),  # the same notice
    }
)
_CODE = re.compile(r"\s*EPSG\s*:\s*([0-9]{1,9})\s*", re.IGNORECASE)
_WRITE = 'write the EPSG code of a projected system, for example "EPSG:26913"'


@dataclass(frozen=True, slots=True)
class System:
    """A projected coordinate system.

    code: "EPSG:6556". unit, unit_metres: "m", "ft" or "ftUS" and its size [m], exactly. bounds: area of use as west,
    south, east, north [deg]; west is above east where it crosses 180 degrees. north_first: its authority's order.
    datum: with its realisation, as "NAD83(2011)"; "NAD83" alone names none.
    """

    code: str
    name: str
    unit: str
    unit_metres: Fraction
    bounds: tuple[float, float, float, float]
    north_first: bool
    datum: str


@cache
def system(code: str) -> System:
    """The system of an EPSG code, written "EPSG:6556".

    Raises PositionError, with what to write instead, for anything but a projected system in metres, international
    feet or US survey feet that counts to the east and north and is not withdrawn.

    >>> system("EPSG:2227").unit
    'ftUS'
    """
    found = _known(code)
    return _sound(f"EPSG:{found.to_epsg()}", found)


@cache
def dataset() -> str:
    """Which edition of the EPSG dataset this program carries, for messages: v11.022."""
    return get_database_metadata("EPSG.VERSION") or "of unknown edition"


@cache
def crs_of(code: str) -> pyproj.CRS:
    """What pyproj knows of a code."""
    return pyproj.CRS.from_user_input(code)


def _known(code: str) -> pyproj.CRS:
    match = _CODE.fullmatch(code)
    if match is None:
        raise PositionError(f'"{code}" is not the code of a coordinate system', _spelled(code))
    try:
        return crs_of(f"EPSG:{int(match[1])}")
    except CRSError:
        raise PositionError(
            f"{code.strip()} is not in the EPSG dataset this program carries ({dataset()})",
            "check the digits; the codes of the 2022 state plane zones are not in it yet",
        ) from None


def _spelled(code: str) -> str:
    """What may be meant by a code that is written some other way."""
    if code.strip().isdecimal():
        return f'write "EPSG:{code.strip()}"'
    compound = re.fullmatch(r"\s*(EPSG:[0-9]+)\s*\+.*", code, re.IGNORECASE)
    if compound:
        return f'write the horizontal system alone, "{compound[1]}", and put the heights into coordinates.vertical'
    return _WRITE


def _sound(code: str, crs: pyproj.CRS) -> System:
    called = f"{code} ({crs.name})"
    if not crs.is_projected or crs.is_compound:
        kind = crs.type_name.removesuffix(" CRS").lower()
        raise PositionError(f"{called} is a {kind} system, not a projected one", _WRITE)
    if crs.is_deprecated:
        raise PositionError(f"{called} was withdrawn from the EPSG dataset", _replacement(crs))
    directions = [axis.direction for axis in crs.axis_info]
    if sorted(directions) != ["east", "north"]:
        raise PositionError(f"{called} does not count to the east and north but {' and '.join(directions)}", _WRITE)
    unit = crs.axis_info[0].unit_name
    if unit not in _UNITS:
        raise PositionError(
            f'{called} counts in units of "{unit}"; a site is in metres, feet or US survey feet', _WRITE
        )
    area, geographic = crs.area_of_use, crs.geodetic_crs
    if area is None or geographic is None:
        raise PositionError(f"{called} does not say where it may be used", _WRITE)
    return System(code, crs.name, *_UNITS[unit], area.bounds, directions[0] == "north", geographic.name)


def _replacement(crs: pyproj.CRS) -> str:
    newer = [f'"EPSG:{found.to_epsg()}" ({found.name})' for found in crs.get_non_deprecated()]
    return f"its successor is {' or '.join(newer)}; ask the surveyor which one was used" if newer else _WRITE
