"""The sheet that the inspector signs: nothing overlaps, nothing is lost, nothing is too small to read from a copy."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, SAMPLES, RandomSite, Turn, layout_of, random_sites, sample, turns

from staking import check
from staking.drawing.paper import Fitted, PaperText, Spot
from staking.drawing.plan_sheet import overlaps, plan_sheet
from staking.drawing.plan_tables import PlanWords
from staking.drawing.plan_text import LEAST
from staking.sheets.plan import plan_pages

WORDS = PlanWords((("Job", "square lot"),), ("WARNING: settle this.",), ("Not a survey.",), "", "foot of the page")
NAMES = [folder.name for folder in SAMPLES]


def texts(pages: tuple[Fitted, ...]) -> str:
    """All text of all pages."""
    return "\n".join(text.text for page in pages for text in page.texts)


def met(page: Fitted) -> list[tuple[str, str]]:
    """Texts whose rectangles share ground, as shapely sees it."""
    shapes = [(text.text, shapely.Polygon(text.box.corners(-0.01))) for text in page.texts]
    return [(a, b) for (a, one), (b, other) in combinations(shapes, 2) if one.intersects(other)]


@pytest.mark.parametrize("name", NAMES)
def test_no_text_of_a_sample_overlaps(name: str) -> None:
    """On every page of every sample each text stands alone and on the paper; shapely agrees."""
    layout = sample(name)
    for page in plan_pages(layout, check(layout)):
        assert overlaps(page) == 0
        assert met(page) == []


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_fits_one_page(name: str) -> None:
    """One drawing, one page."""
    layout = sample(name)
    assert len(plan_pages(layout, check(layout))) == 1


@pytest.mark.parametrize("name", NAMES)
def test_text_can_be_read_from_a_copy(name: str) -> None:
    """No text is below 6.5 points, no bearing or length of the drawing below 7.5."""
    layout = sample(name)
    (page,) = plan_pages(layout, check(layout))
    sizes = {text.text: text.size for text in page.texts}
    assert min(sizes.values()) >= LEAST
    assert all(size >= 7.5 for text, size in sizes.items() if text == layout.notation.length(layout.sides[0].length))


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(random_sites, turns)
def test_no_text_of_a_random_lot_overlaps(site: RandomSite, turn: Turn) -> None:
    """However the lot lies on its grid, no text lies on another or runs off the page."""
    pages = plan_sheet(layout_of(site.text(turn)), WORDS)
    assert [overlaps(page) for page in pages] == [0] * len(pages)


def test_overlaps_are_counted() -> None:
    """Two texts in one place are one overlap; a text past the edge is one more; turned texts count too."""
    turned = PaperText(Spot(50, 50), "turned", 8.0, rotation=60.0, anchor="middle")
    flat, past = PaperText(Spot(50, 50), "flat", 8.0), PaperText(Spot(95, 5), "past the edge", 8.0)
    assert overlaps(Fitted(100, 100, 1.0, "", (), (turned, flat, past))) == 2
    assert overlaps(Fitted(100, 100, 1.0, "", (), (turned,))) == 0


def test_what_the_lists_ask_for_is_there() -> None:
    """Bearing and length, setbacks, ties, sides, diagonals, scale, north, cautions, roles: all on the sheet."""
    shown = texts(plan_sheet(layout_of(PLACED_RECTANGLE), WORDS))
    wanted = (
        "front: N 90°00'00\" E, 100.00'",
        "25' 0\" front setback",
        "40' 0\"",
        "36' 0\"",
        "24' 0\"",
        "43' 3-3/16\"",
    )
    assert all(text in shown for text in wanted)
    assert all(
        text in shown for text in ("NOT A SURVEY", "N", "Not a survey.", "Surveyor", "settle this", "Scale 1 in")
    )


def test_coordinates_of_corners_are_withheld() -> None:
    """After a stop the outline is shown, but no coordinate from which it could be staked; lot corners stay."""
    layout = layout_of(PLACED_RECTANGLE)
    open_sheet, withheld = (texts(plan_sheet(layout, WORDS, stakes=stakes)) for stakes in (True, False))
    assert "66.0000" in open_sheet
    assert "66.0000" not in withheld
    assert "120.0000" in withheld


def test_the_band_is_on_every_page() -> None:
    """What withholds the stakes stands across the top of each page."""
    layout = layout_of(PLACED_RECTANGLE)
    pages = plan_pages(layout, tuple(check(layout)) * 40, withheld=("setback-crossed",))
    assert all(any("WITHHELD" in text.text for text in page.texts) for page in pages)


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 120), st.text("abcdefgh ijk", min_size=1, max_size=200).filter(str.strip))
def test_many_long_findings_go_on_to_further_pages(count: int, words: str) -> None:
    """However much there is to say, all of it is printed, and each page says which of how many it is."""
    layout = layout_of(PLACED_RECTANGLE)
    said = PlanWords(WORDS.facts, tuple(f"n{number} {words}" for number in range(count)), WORDS.cautions, "", "")
    pages = plan_sheet(layout, said)
    shown = {word for page in pages for text in page.texts for word in text.text.split()}
    assert {f"n{number}" for number in range(count)} <= shown
    assert [overlaps(page) for page in pages] == [0] * len(pages)


def test_a_finding_longer_than_a_page_is_printed_whole() -> None:
    """It is broken between its lines; the last word is there."""
    said = PlanWords(WORDS.facts, (f"{'word ' * 5000}end",), WORDS.cautions, "", "")
    pages = plan_sheet(layout_of(PLACED_RECTANGLE), said)
    assert sum(text.text.split().count("word") for page in pages for text in page.texts) == 5000
    assert [overlaps(page) for page in pages] == [0] * len(pages)


def test_a_crowd_of_points_overlaps_nowhere() -> None:
    """Forty points in a heap: numbers and leaders take the place of names, and the notes say what they were."""
    heap = "\n".join(f"heap-of-posts-{n} = [{60 + n % 7 * 0.4}, {80 + n % 5 * 0.4}]" for n in range(34))
    layout = layout_of(PLACED_RECTANGLE.replace("[lot]", f"{heap}\n[lot]", 1))
    pages = plan_sheet(layout, WORDS)
    assert [overlaps(page) for page in pages] == [0] * len(pages)
    assert all(f"heap-of-posts-{n}" in texts(pages).replace("\n", "") for n in range(34))


def test_the_same_layout_gives_the_same_pages() -> None:
    """Nothing depends on the hour or the order of a set."""
    layout = layout_of(PLACED_RECTANGLE)
    assert plan_sheet(layout, WORDS) == plan_sheet(layout, WORDS)


def test_a_slab_without_a_lot_has_its_sheet() -> None:
    """No lot, no setbacks: the slab, its reference line and the title are enough for a page."""
    text = PLACED_RECTANGLE[: PLACED_RECTANGLE.index("[lot]")] + (
        '[[references]]\nname = "wall"\nthrough = ["A", "B"]\n[slab]\nwidth = 36\ndepth = 24\n'
        '[placement]\nkind = "at_point"\ncorner = 1\nat = "A"\nside = "front"\nbearing = "N 80 E"\n'
    )
    pages = plan_sheet(layout_of(text), WORDS)
    assert [overlaps(page) for page in pages] == [0]
    assert "wall" in texts(pages)
