"""The slab on the ground: parts, ledge, and outlines that cannot be poured."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import InputError, SolveError
from staking.survey.points import distance

PART = """
[[slab.parts]]
name = "porch"
side = "{side}"
from = "{corner}"
start = {start}
width = {width}
depth = {depth}
[placement]"""


SECOND = PART.format(side="front", corner="front-right", start=8, width=9, depth=3).replace("porch", "step")
ALL_CUT = 'kind = "ell"\nwidth = 36\nmissing = "back-left"\ncut_width = 36\ncut_depth = 2'


def _with_part(**changes: str | float) -> str:
    usual: dict[str, str | float] = {"side": "front", "corner": "front-right", "start": 2, "width": 10, "depth": 6}
    part = PART.format(**(usual | changes))
    return PLACED_RECTANGLE.replace("[placement]", part)


def _traced(steps: str) -> str:
    old = "width = 36\ndepth = 24\n"
    return (
        PLACED_RECTANGLE.replace(old, f'kind = "traced"\nsteps = [{steps}]\n')
        .replace('"front-left"', "1")
        .replace('side = "front"', 'side = "1-2"')
    )


def test_a_part_is_measured_from_its_corner() -> None:
    """A porch 2 ft from the right end of the front stands square out from it, toward the street."""
    layout = layout_of(_with_part())
    ((_, corners),) = layout.slab.form.parts
    right_end = layout.slab.form.corners[1]
    assert distance(right_end, corners[0]) / 0.3048 == pytest.approx(2.0)
    assert distance(right_end, corners[1]) / 0.3048 == pytest.approx(12.0)
    assert distance(corners[0], corners[3]) / 0.3048 == pytest.approx(6.0)
    assert layout.margins[0].distance / 0.3048 == pytest.approx(34.0)


def test_an_exempt_part_does_not_count() -> None:
    """A part that the authority exempts leaves the room to the line as it is without it."""
    layout = layout_of(_with_part().replace('name = "porch"', 'name = "porch"\nexempt = true'))
    (front,) = (m for m in layout.margins if m.rule == "setback" and m.of == "front")
    assert front.distance / 0.3048 == pytest.approx(40.0)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (_with_part(corner="back-left"), "is no end of"),
        (_with_part(width=40), "past the end of"),
        (
            _with_part().replace("[placement]", SECOND, 1),
            "in another part",
        ),
        (_traced('"right 20", "away 10", "left 21", "toward 10"'), "ends {0} to the left of its beginning"),
        (_traced('"right 20", "away 10", "left 10 toward 20", "left 10 away 10"'), "cross"),
        (_traced('"right 20", "left 8", "away 10", "left 12", "toward 10"'), "runs back along"),
        (_traced('"right 20", "left 20"'), "three corners"),
        (_traced('"right 20", "away 0.01", "away 10", "left 20", "toward 10.01"'), "no length"),
        (
            PLACED_RECTANGLE.replace("width = 36", ALL_CUT),
            "leaves nothing",
        ),
    ],
)
def test_what_cannot_be_formed_is_refused(text: str, message: str) -> None:
    """The sentence names the side, step or part, and the place in the file."""
    with pytest.raises(InputError) as refused:
        layout_of(text)
    said = refused.value.findings[0]
    assert message.replace("{0}", "1' 0\"") in said.message
    assert said.place is not None
    assert said.place.line > 0


def test_the_step_that_does_not_close_is_marked() -> None:
    """The finding stands at the last step, with what is missing in both directions."""
    with pytest.raises(SolveError) as refused:
        layout_of(_traced('"right 20", "away 10", "left 19", "toward 9"'))
    said = refused.value.findings[0]
    assert said.message == "after step 4 the outline ends 1' 0\" to the right of and 1' 0\" behind its beginning"
    assert said.place is not None
    assert said.place.source[said.place.column - 1 :].startswith('"toward 9"')


def test_steps_round_the_other_way_give_the_same_slab() -> None:
    """Traced clockwise, the slab covers the same ground."""
    one = layout_of(_traced('"right 20", "away 10", "left 20", "toward 10"'))
    other = layout_of(_traced('"right 20", "toward 10", "left 20", "away 10"').replace("corner = 1", "corner = 2"))
    assert one.slab.area == pytest.approx(other.slab.area)
    assert [m.distance for m in one.margins] == pytest.approx([m.distance for m in other.margins])


def test_ledge_of_a_clockwise_outline_grows_outward() -> None:
    """The ledge is added outside, whichever way the outline was traced."""
    text = _traced('"right 20", "toward 10", "left 20", "away 10"')
    bare, ledged = layout_of(text), layout_of(text.replace('kind = "traced"', 'kind = "traced"\nledge = 0.5'))
    assert ledged.slab.area / 0.3048**2 == pytest.approx(21 * 11)
    assert bare.slab.area / 0.3048**2 == pytest.approx(200)
