"""What a site file declares for the plan sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import PLACED_RECTANGLE

from staking.errors import InputError
from staking.findings import as_text
from staking.sitefile.plan_declared import Feature
from staking.sitefile.reader import read_site


def said(folder: Path, more: str) -> list[str]:
    """What is said of a sound site with more tables, each finding with its remedy."""
    path = folder / "site.toml"
    path.write_text(PLACED_RECTANGLE + more, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_site(path)
    return [" ".join(as_text(each).split()) for each in caught.value.findings]


def test_nothing_has_to_be_declared(tmp_path: Path) -> None:
    """A site without any of it has a plan sheet all the same."""
    path = tmp_path / "site.toml"
    path.write_text(PLACED_RECTANGLE, encoding="utf-8")
    declared = read_site(path).declared
    assert (declared.plan.heading, declared.plan.paper, declared.features, declared.revisions) == (
        "Site plan",
        None,
        (),
        (),
    )


def test_elevations_are_lengths(tmp_path: Path) -> None:
    """A number is in the site's unit, a text carries its own."""
    path = tmp_path / "site.toml"
    path.write_text(f'{PLACED_RECTANGLE}[plan]\nfloor_elevation = 100\nstreet_elevation = "30 m"\n', encoding="utf-8")
    plan = read_site(path).declared.plan
    assert plan.floor_elevation == pytest.approx(30.48)
    assert plan.street_elevation == 30.0


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('[plan]\npaper = "leter"\n', 'did you mean "letter"?'),
        ("[plan]\nscale = -20\n", "must be more than 0"),
        ('[plan]\nstret = "x"\n', 'did you mean "street"?'),
        ('[[revisions]]\nmark = "A"\ndate = 2026-01-02\n', 'the key "what" is missing'),
        ('[revisions]\nmark = "A"\n', "write [[revisions]] with two brackets"),
        ('[[features]]\nname = "shed"\n', "takes points or an outline, one of the two"),
        ('[[features]]\nname = "shed"\noutline = ["A", "B"]\n', "an outline has three corners or more"),
        ('[[features]]\nname = "oak"\npoints = ["Z9"]\n', 'there is no point "Z9"'),
        ('[[features]]\nname = "oak"\nkind = "tre"\npoints = ["A"]\n', 'did you mean "tree"?'),
        ('[[features]]\nname = "a"\npoints = ["A"]\n[[features]]\nname = "a"\npoints = ["B"]\n', "stands twice"),
    ],
)
def test_slips_are_said_with_a_remedy(tmp_path: Path, more: str, words: str) -> None:
    """One finding, at its place, with what to write instead."""
    (found,) = said(tmp_path, more)
    assert words in found


def test_places_are_points_or_corners() -> None:
    """Whichever of the two is given."""
    assert Feature(name="oak", points=("A",)).places == ("A",)
    assert Feature(name="shed", outline=("A", "B", "C")).places == ("A", "B", "C")
