"""How warm, how hard pulled, how heavy and how thick is a tape, as people write it?

Temperatures `95 F`, `20 C`; pulls `12 lb`, `50 N`, `5 kg`; weights `2.25 lb per 100 ft`, `18 g per m`; sections
`0.004 sq in`, `2.5 mm2`, `1/4 in x 0.015 in`; expansions `6.5e-6 per F`; elasticities `29e6 psi`, `200 GPa`. A bare
number is refused: nothing says what it counts.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

from staking.errors import TextError
from staking.units import Unit, parse_length

_POUND = 4.4482216152605  # newtons: 0.45359237 kg at 9.80665 m/s2, exactly by definition
_KILOGRAM = 9.80665  # newtons of a kilogram's weight, standard gravity
_INCH = 0.0254

_NUMBER = r"(?P<number>[-+]?[0-9]*\.?[0-9]+(?:e[-+]?[0-9]+)?)"
_FORCES: Mapping[str, float] = MappingProxyType(
    dict.fromkeys(("lb", "lbs", "lbf", "pound", "pounds"), _POUND)
    | dict.fromkeys(("n", "newton", "newtons"), 1.0)
    | {"kn": 1000.0, "g": _KILOGRAM / 1000}
    | dict.fromkeys(("kg", "kgf", "kp"), _KILOGRAM)
    | dict.fromkeys(("oz", "ounce", "ounces"), _POUND / 16)
)
_AREAS: Mapping[str, float] = MappingProxyType(
    dict.fromkeys(("sq in", "in2", "sq. in", "square inches"), _INCH**2)
    | dict.fromkeys(("mm2", "sq mm"), 1e-6)
    | dict.fromkeys(("cm2", "sq cm"), 1e-4)
)
_PRESSURES: Mapping[str, float] = MappingProxyType(
    {"psi": _POUND / _INCH**2, "ksi": 1000 * _POUND / _INCH**2, "gpa": 1e9, "mpa": 1e6, "n/mm2": 1e6}
)
_PER_DEGREE: Mapping[str, float] = MappingProxyType(
    dict.fromkeys(("per f", "/f", "per deg f"), 1.8) | dict.fromkeys(("per c", "/c", "per deg c", "per k", "/k"), 1.0)
)
_DEGREES = re.compile(_NUMBER + r" ?(?:deg|degrees)? ?(?P<scale>f|c|fahrenheit|celsius)")


def parse_temperature(text: str) -> float:
    """A temperature [deg C]. Raises TextError for a bare number, and for one no tape was ever used at.

    >>> round(parse_temperature("68 F"), 6), parse_temperature("20 °C")
    (20.0, 20.0)
    """
    found = _DEGREES.fullmatch(_plain(text))
    remedy = "write 72 F or 22 C"
    if found is None:
        raise TextError(f"`{text}` cannot be read as a temperature", remedy)
    degrees = float(found["number"])
    celsius = (degrees - 32) / 1.8 if found["scale"].startswith("f") else degrees
    if not -60 <= celsius <= 80:
        raise TextError(f"`{text}` is no temperature at which anybody tapes", remedy)
    return celsius


def parse_force(text: str) -> float:
    """A pull or the weight of a thing [N]. Raises TextError.

    >>> round(parse_force("12 lb"), 3), parse_force("50 N")
    (53.379, 50.0)
    """
    return _above_zero(text, _FORCES, "a pull", "write 12 lb, 50 N or 5 kg")


def parse_weight(text: str, tape: float, unit: Unit | None) -> float:
    """The weight of a tape for each metre [N/m]: `2.25 lb` of the whole tape [m], or `2.25 lb per 100 ft`.

    Raises TextError.
    """
    weight, _, over = _plain(text).partition(" per ")
    length = tape
    if over:
        length = float(parse_length(over if over[0].isdigit() else f"1 {over}", unit))
    if length <= 0:
        raise TextError(f"`{text}` weighs no length of tape", "write 2.25 lb per 100 ft, or 18 g per m")
    return parse_force(weight) / length


def parse_section(text: str, unit: Unit | None) -> float:
    """The section of a tape [m2], as an area or as width x thickness. Raises TextError.

    >>> round(parse_section("0.004 sq in", None) * 1e6, 4), round(parse_section("10 mm x 0.25 mm", None) * 1e6, 4)
    (2.5806, 2.5)
    """
    width, times, thickness = _plain(text).partition(" x ")
    if times:
        area = float(parse_length(width, unit) * parse_length(thickness, unit))
        if area <= 0:
            raise TextError(f"`{text}` is no section", "write 1/4 in x 0.015 in")
        return area
    return _above_zero(text, _AREAS, "a section", "write 0.004 sq in, 2.5 mm2, or 1/4 in x 0.015 in")


def parse_expansion(text: str) -> float:
    """How much of its length a tape grows for each degree [per deg C]. Raises TextError.

    >>> round(parse_expansion("6.5e-6 per F") * 1e6, 3)
    11.7
    """
    return _above_zero(text, _PER_DEGREE, "an expansion", "write 6.5e-6 per F, or 11.6e-6 per C")


def parse_elasticity(text: str) -> float:
    """How stiff the steel of a tape is [Pa]. Raises TextError.

    >>> round(parse_elasticity("29e6 psi") / 1e9, 1)
    199.9
    """
    return _above_zero(text, _PRESSURES, "an elasticity", "write 29e6 psi, or 200 GPa")


def _above_zero(text: str, sizes: Mapping[str, float], what: str, remedy: str) -> float:
    """A number with one of the units of a table, above 0."""
    found = re.fullmatch(_NUMBER + r" ?(?P<unit>.*)", _plain(text))
    if found is None or found["unit"] not in sizes:
        raise TextError(f"`{text}` cannot be read as {what}", remedy)
    value = float(found["number"]) * sizes[found["unit"]]
    if not (value > 0 and math.isfinite(value)):
        raise TextError(f"{what} is more than 0, and `{text}` is not", remedy)
    return value


def _plain(text: str) -> str:
    return " ".join(text.lower().replace("°", " deg ").replace("²", "2").replace("×", "x").split())
