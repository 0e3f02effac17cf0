"""The sheet of what changed: what it says first, what it asks to be done, and its picture."""

from __future__ import annotations

from making import sample
from revised import LATER, STAKED, changes

from staking import check
from staking.app.revisions import revision_of
from staking.drawing.changes import changes_drawing
from staking.drawing.marks import PathMark, SymbolMark, TextMark
from staking.exports.html import html
from staking.exports.pdf import pdf
from staking.layout.changes import changes_of
from staking.sheets.changes import CHANGE_CAUTIONS, changes_sheet
from staking.sheets.changes_rows import verdict, whole_words
from staking.sheets.page import Cautions, Heading, Paragraph, Table

DEEPER = ("depth = 24", "depth = 26")
BACK = ("distance = 40", "distance = 40.5")
NUMBERS = ("[floor]", "[numbering]\ncorners = 501\n[floor]")
AT_A_POINT = (
    '[placement]\nkind = "at_point"\ncorner = 1\nat = "A"\nside = "front"\nbearing = "N 12 E"\nshift = [50, 40]\n'
)
HIGHER = ("elevation = 101", "elevation = '101 ft 2 in'")


def _headings(*made: tuple[str, str], text: str = STAKED) -> list[str]:
    return [block.text for block in changes_sheet(changes(*made, text=text)).blocks if isinstance(block, Heading)]


def test_old_stakes_are_pulled_before_new_ones_are_set() -> None:
    """The first caution says it, and every stake that moved has a box for each of the two."""
    sheet = changes_sheet(changes(LATER, DEEPER))
    (cautions,) = (block for block in sheet.blocks if isinstance(block, Cautions))
    assert cautions.items[:2] == CHANGE_CAUTIONS
    table = next(block for block in sheet.blocks if isinstance(block, Table) and "old pulled" in block.head)
    assert [row[0] for row in table.rows] == ["103", "104", "204", "205", "206", "207"]
    assert len(table.to_fill) == 2


def test_only_what_changed_has_a_part() -> None:
    """No heading for a table that would be empty."""
    assert "Moved: pull the old one, set the new one (6)" in _headings(LATER, DEEPER)
    assert _headings() == ["In short", "These stay as they are"]
    assert "Write a new name on these (4); they stay where they are" in _headings(LATER, NUMBERS)
    assert "Strike out cut and fill on these (12), and mark them anew" in _headings(LATER, HIGHER)
    assert "Given points with other figures" in _headings(LATER, ("B = [0, 100]", "B = [0.5, 100]"))


def test_figures_that_all_changed_together_are_no_moved_points() -> None:
    """Where the file counts from elsewhere, no point is to be measured again; the finding says what to load."""
    places = {"A": (0, 0), "B": (0, 100), "C": (120, 100), "D": (120, 0)}
    together = [(f"{name} = [{n}, {e}", f"{name} = [{n + 1000}, {e + 1000}") for name, (n, e) in places.items()]
    sheet = changes_sheet(changes(LATER, *together))
    assert "Given points with other figures" not in [it.text for it in sheet.blocks if isinstance(it, Heading)]
    assert "[changes-together]" in html(sheet)


def test_the_page_names_both_revisions() -> None:
    """Both letters and fingerprints stand in the head and at the foot."""
    found = changes(LATER, DEEPER)
    page = html(changes_sheet(found))
    assert "revision A to B" in page
    assert all(page.count(each.fingerprint[:12]) >= 2 for each in (found.old, found.new))


def test_the_words_of_the_outline() -> None:
    """It stands, moved as a whole, changed its size, or has other corners."""
    assert whole_words(changes()) == "the outline stands where it stood"
    moved = 'the whole slab moved 6" toward north, not turned; 12 stakes moved with it'
    assert whole_words(changes(BACK)) == f"{moved}; size and shape are the same"
    higher = whole_words(changes(BACK, HIGHER))
    assert higher == f'{moved}; concrete 2" higher; size and shape are the same'
    assert whole_words(changes(DEEPER)) == "the outline has another size or shape"


def test_a_common_move_stands_above_its_rows() -> None:
    """Stakes that moved with the whole slab have a row each, and no column of figures that are all the same."""
    sheet = changes_sheet(changes(LATER, BACK, ("distance = 5\n", "distance = 6\n")))
    titles = [block.text for block in sheet.blocks if isinstance(block, Heading)]
    assert "Moved with the whole slab: pull the old one, set the new one (4)" in titles
    assert "Moved otherwise: pull the old one, set the new one (8)" in titles
    tables = [block for block in sheet.blocks if isinstance(block, Table) and "old pulled" in block.head]
    assert [("moved" in table.head, len(table.rows)) for table in tables] == [(False, 4), (True, 8)]


def test_a_turned_slab_has_the_way_of_every_stake() -> None:
    """Where the slab turned, each stake went a way of its own, and the turn is written as fine as it is known."""
    text = STAKED.replace(STAKED[STAKED.index("[placement]") : STAKED.index("[floor]")], AT_A_POINT)
    found = changes(LATER, ('bearing = "N 12 E"', 'bearing = "N 13 E"'), text=text)
    assert whole_words(found).endswith(
        "and turned by 1.00 degrees clockwise about its middle; 12 stakes moved with it; size and shape are the same"
    )
    (table,) = (it for it in changes_sheet(found).blocks if isinstance(it, Table) and "old pulled" in it.head)
    assert "toward" in table.head
    assert all(len(row[3].split("'")) < 3 for row in table.rows)


def test_a_dash_stands_for_nothing_at_all() -> None:
    """The corners of a part lie on no wall line, but their concrete may be higher; then no dash goes before it."""
    part = '[[slab.parts]]\nname = "apron"\nside = "front"\nfrom = "front-left"\nwidth = 16\ndepth = 4\n'
    text = STAKED.replace("[placement]", part + "[placement]")
    sheet = changes_sheet(changes(LATER, BACK, HIGHER, ("depth = 24\n", "depth = 26\n"), text=text))
    (table,) = (it for it in sheet.blocks if isinstance(it, Table) and "old pulled" in it.head)
    said = [row[table.head.index("by the old strings")] for row in table.rows]
    assert 'concrete 2" higher' in said
    assert not any(words.startswith("-;") for words in said)


def test_the_verdict_counts() -> None:
    """What is to be done, in one line."""
    assert verdict(changes()) == "nothing that stands on the ground changed"
    assert verdict(changes(DEEPER)) == "stakes: 6 moved"
    assert verdict(changes(NUMBERS, HIGHER)) == "stakes: 4 with another name, 12 with another height"


def test_the_picture_tells_without_colour() -> None:
    """Old outline on a dashed layer, new one heavy, a cross on what is pulled, how far beside each arrow."""
    marks = changes_drawing(changes(LATER, DEEPER)).marks
    assert [mark.layer for mark in marks if isinstance(mark, PathMark)] == ["SLAB", "SETBACK"]
    shapes = [mark.shape for mark in marks if isinstance(mark, SymbolMark)]
    assert (shapes.count("nail"), shapes.count("stake"), shapes.count("given")) == (6, 6, 6)
    assert [mark.text for mark in marks if isinstance(mark, TextMark)] == ["2' 0\"", "2' 0\""]


def test_a_metric_site_is_written_in_metres() -> None:
    """No inch stands on the sheet of a site in metres, and its paper is made."""
    layout = sample("metric_hall")
    old = revision_of(layout, check(layout), "site.toml")
    found = changes_of(old, old)
    words = [block.text for block in changes_sheet(found).blocks if isinstance(block, Paragraph)]
    assert any("moved by 1 mm or less" in text for text in words)
    assert not any('"' in text for text in words)
    assert pdf(changes_sheet(found), "a4").startswith(b"%PDF")
