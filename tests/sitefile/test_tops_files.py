"""Lists of tops beside a site file: what is taken from them, and what is refused, all at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import PLACED_RECTANGLE

from staking import Site, read_site
from staking.errors import InputError

SITE = (
    PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 99]")
    + '[[stakes]]\nkind = "corners"\n[floor]\nelevation = 100\n'
)
READ = '[[level_setups]]\nbenchmark = "A"\nreadings_file = "tops.csv"\n'
KNOWN = '[stake_tops]\npath = "tops.csv"\n'
FOOT = 0.3048


def _site(tmp_path: Path, table: str, text: str) -> Site:
    (tmp_path / "site.toml").write_text(SITE + table, encoding="utf-8")
    (tmp_path / "tops.csv").write_text(text, encoding="utf-8")
    return read_site(tmp_path / "site.toml")


def test_a_row_of_the_benchmark_is_the_backsight(tmp_path: Path) -> None:
    """And once more at the end it says the same."""
    (setup,) = _site(tmp_path, READ, "name,reading\nA,5\n101,4\nA,5.005\n").declared.level_setups
    assert setup.backsight == pytest.approx(5 * FOOT)
    assert setup.readings == pytest.approx({"101": 4 * FOOT})


def test_a_backsight_of_the_site_file_goes_before(tmp_path: Path) -> None:
    """A list then needs no row of the benchmark."""
    (setup,) = _site(tmp_path, READ + "backsight = 6\n", "name,reading\n101,4\n").declared.level_setups
    assert setup.backsight == pytest.approx(6 * FOOT)


@pytest.mark.parametrize(
    ("table", "text", "said"),
    [
        (READ, "name,reading\n101,4\n", "no row of the benchmark A, and the set-up no backsight"),
        (READ, "name,reading\nA,5\n101,4\nA,5.1\n", "A reads 5.1 here, and another figure as backsight"),
        (READ, "name,reading\nA,5\n101,4\n101,4.5\n", "101 stands twice with two figures"),
        (READ + "readings = { 101 = 4.2 }\n", "name,reading\nA,5\n101,4\n", "101 stands twice with two figures"),
        (READ, "name,elevation\n101,100\n", "the list holds a column elevation"),
        (KNOWN, "name,reading\n101,4\n", "the list holds a column reading"),
        (KNOWN, "name,elevation\n101,high\n", "cannot be read"),
        (KNOWN.replace("tops.csv", "no.csv"), "", "no such file"),
        (KNOWN.replace("tops.csv", "../tops.csv"), "", "folder of the site file"),
    ],
)
def test_what_is_refused(table: str, text: str, said: str, tmp_path: Path) -> None:
    """Each in a sentence."""
    with pytest.raises(InputError, match=said):
        _site(tmp_path, table, text)


def test_mistakes_of_two_lists_are_said_together(tmp_path: Path) -> None:
    """A list that is wrong for one is wrong for the other too."""
    with pytest.raises(InputError) as error:
        _site(tmp_path, READ + KNOWN, "name,reading\n101,4\n")
    assert len(error.value.findings) == 2
