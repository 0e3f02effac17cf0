"""Examples for missing keys and lengths left out: in the unit of the site, and of a fit size."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import read_site
from staking.errors import InputError
from staking.sitefile.examples import METRIC, OF_TABLES, example
from staking.sitefile.tables import EXAMPLES
from staking.units import UNITS, parse_length

FEET = ("'", "in", "ft")
METRES = PLACED_RECTANGLE.replace('unit = "ft"', 'unit = "m"')
PIT = "[overdig]\nslope = 1\n"


def _size(text: str) -> float:
    plain = text.strip('"')
    return float(plain) if plain == text else float(parse_length(plain, UNITS["m"]))


@pytest.mark.parametrize("key", sorted({**EXAMPLES, **OF_TABLES}))
def test_no_site_in_metres_is_shown_feet(key: str) -> None:
    """Whatever is a length in feet or inches has an example in metres, a round one of about the same size."""
    table, _, name = key.rpartition(".")
    feet, metric = (example(table, name, metric=metres) for metres in (False, True))
    if feet.strip('"')[:1].isdigit() and any(unit in feet for unit in FEET):
        assert _size(metric) == pytest.approx(_size(feet), rel=0.1)
    elif key not in METRIC:
        assert metric == feet


@pytest.mark.parametrize(("unit", "words"), [("ft", 'depth = "12 in"'), ("m", "depth = 0.3")])
def test_a_footing_is_not_as_deep_as_a_house(unit: str, words: str, tmp_path: Path) -> None:
    """What to write for its missing depth is a depth of a footing."""
    text = PLACED_RECTANGLE.replace('unit = "ft"', f'unit = "{unit}"')
    footing = '[[slab.footings]]\nname = "wall"\nwidth = 0.5\ntop = 0.3\n[placement]'
    (tmp_path / "site.toml").write_text(text.replace("[placement]", footing), encoding="utf-8")
    with pytest.raises(InputError) as refused:
        read_site(tmp_path / "site.toml")
    assert any(words in found.remedy for found in refused.value.findings)


@pytest.mark.parametrize(
    ("text", "sizes"), [(METRES, (0.6, 3.0, 0.3, 0.03, 0.15)), (PLACED_RECTANGLE, (2, 10, 1, 0.1, 0.5))]
)
def test_what_is_left_out_is_round_in_the_unit_of_the_site(text: str, sizes: tuple[float, ...]) -> None:
    """Room in an excavation, the length of a level, the reach of a search, and both margins."""
    site = layout_of(text + PIT).site
    asked, built, margins = site.declared.overdig, site.declared.as_built, site.declared.margins
    assert asked
    found = (asked.room, built.level_over, built.limit, margins.strong, margins.warn)
    unit = float(site.unit.metres)
    assert found == pytest.approx(tuple(size * unit for size in sizes))


def test_what_is_written_holds() -> None:
    """A figure of the file goes before the round one."""
    site = layout_of(METRES + PIT + "room = 0.5\n[margins]\nwarn = 0.2\n").site
    assert site.declared.overdig
    assert (site.declared.overdig.room, site.declared.margins.warn, site.declared.margins.strong) == (0.5, 0.2, 0.03)
