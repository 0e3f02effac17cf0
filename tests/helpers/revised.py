"""Revisions for tests: a small site with everything that can change, and what changed when some of its text did."""

from __future__ import annotations

from making import PLACED_RECTANGLE, layout_of

from staking import check
from staking.app.revisions import revision_of
from staking.layout.changed import Changes
from staking.layout.changes import changes_of
from staking.layout.revision import Revision

STAKED = (
    PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 100]").replace(
        'name = "square lot"', 'name = "lot"\nrevision = "A"'
    )
    + '[floor]\nelevation = 101\n[[stakes]]\nkind = "corners"\n[[stakes]]\nkind = "offsets"\ndistance = 5\n'
)
OFFSETS = ("distance = 5\n", "distance = 6\n")
LATER = ('revision = "A"', 'revision = "B"')


def revised(*changes: tuple[str, str], text: str = STAKED) -> str:
    """The text of a site with each change made; a change that changes nothing is a mistake of the test."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def revision(text: str) -> Revision:
    """The revision that a site file is."""
    layout = layout_of(text)
    return revision_of(layout, check(layout), "site.toml")


def changes(*made: tuple[str, str], text: str = STAKED) -> Changes:
    """What changed when these changes were made to the text."""
    return changes_of(revision(text), revision(revised(*made, text=text)))


def codes(found: Changes) -> set[str]:
    """The codes of the findings."""
    return {finding.code for finding in found.findings}
