"""Setups and instruments that a site file cannot mean are refused with a sentence."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.errors import InputError

SHOT = '[[setup.shots]]\nto = "{}"\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[setup]\nstation = "A"\nbacksight = "A"\n', "cannot be aimed at it"),
        ('[setup]\nstation = "A"\n', "what the angles are turned from"),
        ('[setup]\ncheck = "C"\n', "one of the two"),
        ('[setup]\nstation = "A"\nbacksight = "B"\ncheck = "B"\n', "proves nothing"),
        ('[setup]\nstation = "A"\nbacksight = "B"\nhand = "left"\n', "belong to a free station"),
        ('[setup]\nstation = "A"\nbacksight = "Q"\n', 'no point "Q"'),
        (SHOT.format("A") + "angle = 10\n" + SHOT.format("B") + "angle = 20\n", "cannot fix a free station"),
        (SHOT.format("A") + SHOT.format("B") + "distance = 20\n", "a shot without a reading"),
        (SHOT.format("A") + 'angle = "N 10 E"\n' + SHOT.format("B") + "distance = 20\n", "no letters of north"),
        ((SHOT.format("A") + "distance = 10\n") * 2, "stands twice"),
        ('[instrument]\nkind = "rover"\ngrade = "II"\nppm = 1\ndistance = 0.01\n', '"grade"'),
        ('[instrument]\nkind = "theodolite"\n', "unknown kind"),
        ('[instrument]\nkind = "total station"\ndistance = "2 mm"\nppm = 2\n', '"seconds" is missing'),
        ('[instrument]\nkind = "total station"\nseconds = 0\ndistance = "2 mm"\nppm = 2\n', "must be more than 0"),
    ],
)
def test_refused(text: str, said: str) -> None:
    """The sentence names what is wrong, and the place in the file is known."""
    with pytest.raises(InputError) as refused:
        layout_of(PLACED_RECTANGLE + text)
    assert said in str(refused.value)
    assert all(finding.place for finding in refused.value.findings)
