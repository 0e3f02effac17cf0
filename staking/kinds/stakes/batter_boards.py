"""Boards on posts outside the corners, with a nail for each string: lines that survive the digging.

        post                        The strings run over the nails and cross in the corner. At an inside corner
   post  |  nail on the board       the string runs on across the slab to a board of its own on two posts.
     +---o----+
     |   :                          Source for three stakes a corner and level boards: Canadian Wood-Frame House
nail o...+------                    Construction (CMHC), figure 30; the figures are the user's.
     |   :  slab
     +   :
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from staking.errors import RuleError
from staking.kinds.fields import PositiveLength, Record
from staking.kinds.slab import Form
from staking.kinds.stakes.placing import Board, Place, SetOut, StringEnd, string_ends
from staking.survey.points import Point, Vector, moved

PAST_STRING = 0.6096  # metres (2 ft) of board beyond the string; common practice, no source


class BatterBoards(Record):
    """Three posts and two boards at every outer corner."""

    kind: Literal["batter_boards"]
    back: PositiveLength = Field(description="from the corner to the boards, along both sides")
    board: PositiveLength | None = Field(
        default=None, description="length of a board; left out: back and two feet (0.61 m)"
    )

    @property
    def past_string(self) -> float:
        """How far a board reaches past its string [m]."""
        return PAST_STRING if self.board is None else self.board - self.back

    def set_out(self, form: Form) -> SetOut:
        """Posts, nails and boards, corner by corner, then the ends of strings that run across the slab."""
        if self.board is not None and self.board <= self.back:
            raise RuleError(
                "the board is too short: it must reach from the corner post past the string",
                key="board",
                remedy="longer than back",
            )
        ends = string_ends(form)
        clear = {(end.side, end.corner): end for end in ends if end.clear}
        count = len(form.corners)
        result = SetOut()
        for corner in range(count):
            coming, going = clear.get(((corner - 1) % count, corner)), clear.get((corner, corner))
            if coming and going:
                result = _joined(result, self._corner(form, coming, going))
        for end in ends:
            if (end.side, end.corner) not in clear or not self._paired(clear, end, count):
                result = _joined(result, self._single(form, end))
        return result

    @staticmethod
    def _paired(clear: dict[tuple[int, int], StringEnd], end: StringEnd, count: int) -> bool:
        sides = ((end.corner - 1) % count, end.corner)
        return all((side, end.corner) in clear for side in sides)

    def _corner(self, form: Form, coming: StringEnd, going: StringEnd) -> SetOut:
        """Two boards that meet in one post; each carries the nail of the string that runs square to it."""
        at = form.corners[coming.corner]
        ahead, aside = coming.line.direction, going.line.direction
        apex = moved(moved(at, ahead, self.back), aside, self.back)
        name = form.outline.corner_label(coming.corner)
        ends = (self._end(at, ahead, aside), self._end(at, aside, ahead))
        posts = tuple(
            Place(p, "post", "batter_boards", corner=coming.corner, words=f"{words} of the boards at {name}")
            for p, words in ((ends[0], "end post"), (apex, "corner post"), (ends[1], "end post"))
        )
        nails = (self._nail(form, coming, self.back), self._nail(form, going, self.back))
        boards = (
            Board((apex, ends[0]), nails[0].at, coming.side),
            Board((apex, ends[1]), nails[1].at, going.side),
        )
        return SetOut((posts[0], nails[0], posts[1], nails[1], posts[2]), boards)

    def _end(self, at: Point, along: Vector, across: Vector) -> Point:
        """The far post of the board across a string: on the other side of the string from the corner post."""
        return moved(moved(at, along, self.back), across, -self.past_string)

    def _nail(self, form: Form, end: StringEnd, back: float) -> Place:
        at = end.line.at(end.past + back)
        sides = end.sides_label(form.outline)
        beyond = form.outline.corner_label(end.corner) if end.clear else "the whole outline"
        return Place(
            at,
            "nail",
            "batter_boards",
            side=end.side,
            corner=end.corner,
            along=form.sides[end.side].along(at),
            words=f"nail for the string of {sides}, {{0}} beyond {beyond}",
            lengths=(back,),
        )

    def _single(self, form: Form, end: StringEnd) -> SetOut:
        """A board of its own across one string, on two posts."""
        nail = self._nail(form, end, self.back)
        over = PAST_STRING if self.board is None else self.board / 2
        across = end.line.direction.left()
        posts = (moved(nail.at, across, over), moved(nail.at, across, -over))
        sides = end.sides_label(form.outline)
        left, right = (
            Place(p, "post", "batter_boards", words=f"post of the board across the string of {sides}") for p in posts
        )
        return SetOut((left, nail, right), (Board(posts, nail.at, end.side),))


def _joined(first: SetOut, second: SetOut) -> SetOut:
    return SetOut(first.places + second.places, first.boards + second.boards)
