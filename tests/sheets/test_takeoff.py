"""The sheet of forms and quantities: what is counted, what is not, and what to add."""

from __future__ import annotations

from making import PLACED_RECTANGLE, ROUND_PAD, layout_of, sample

from staking import Layout, check
from staking.sheets.page import Bullets, Heading, Paragraph
from staking.sheets.takeoff import takeoff_sheet
from staking.sheets.takeoff_rows import rows_of


def _blocks(layout: Layout) -> tuple[list[str], str]:
    """Headings, and all other words."""
    blocks = takeoff_sheet(layout, check(layout)).blocks
    words = [block.text for block in blocks if isinstance(block, Paragraph)]
    words += [item for block in blocks if isinstance(block, Bullets) for item in block.items]
    return [block.text for block in blocks if isinstance(block, Heading)], " ".join(words)


def test_a_sample_has_every_group() -> None:
    """In the order of the work; nothing is left uncounted."""
    headings, words = _blocks(sample("metric_record"))
    assert headings[:5] == ["To order", "Forms", "Stakes and braces", "Base course", "Vapour sheet"]
    assert headings[5:] == [
        "Reinforcement (schedule only)",
        "Concrete",
        "Contraction joints",
        "Findings about quantities",
    ]
    assert "no piece lies over another" in words


def test_what_is_not_declared_is_named() -> None:
    """Keys and tables to add."""
    _, words = _blocks(layout_of(f'{PLACED_RECTANGLE}[forms]\nboard = "2x6"\n[concrete]\n'))
    for missing in ("[base], [vapour_sheet], [[reinforcement]]", "no lengths", "no waste", "no truck"):
        assert missing in words
    assert "add thickness to [slab]" in words
    assert '2x6: actual 1-1/2" x 5-1/2" (PS 20' in words


def test_steel_on_a_slab_that_is_set_back_leaves_some() -> None:
    """Said where the slab does not fill its extent."""
    steel = '[[reinforcement]]\nname = "bars"\nspacing = 1\nlength = 20\ncover = 0\n'
    ell = 'kind = "traced"\nsteps = ["right 36\'", "away 12\'", "left 12\'", "away 12\'", "left 24\'", "toward 24\'"]\n'
    text = PLACED_RECTANGLE.replace("width = 36\ndepth = 24\n", ell)
    assert "some left" in _blocks(layout_of(text + steel))[1]
    assert "some left" not in _blocks(layout_of(PLACED_RECTANGLE + steel))[1]


def test_boards_sawn_alike_are_told_together() -> None:
    """The four arcs of a round pad differ in the sixteenth decimal; on paper they are one length."""
    pad = (
        ROUND_PAD.replace("N 45 E", "N 71 E") + '[forms]\nboard = "2x8"\nlengths = ["16 ft"]\nstake_spacing = "2 ft"\n'
    )
    (boards,) = (row for row in rows_of(layout_of(pad)) if row.item == "boards of 16' 0\"")
    assert boards.how == "4 whole; 4 sawn: 15' 5\""
