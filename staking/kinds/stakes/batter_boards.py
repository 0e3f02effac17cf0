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

from typing import Annotated, Literal

from pydantic import Field, Strict

from staking.errors import RuleError
from staking.kinds.fields import PositiveLength, Record
from staking.kinds.slab import Form
from staking.kinds.stakes.placing import ANYWHERE, Board, KeptOut, Place, SetOut, StringEnd, string_ends
from staking.survey.points import Point, Vector, moved

PAST_STRING = 0.6096  # metres (2 ft) of board beyond the string; common practice, no source


class BatterBoards(Record):
    """Three posts and two boards at every outer corner."""

    kind: Literal["batter_boards"]
    back: PositiveLength = Field(description="from the corner to the boards, along both sides")
    board: PositiveLength | None = Field(
        default=None, description="length of a board; left out: back and two feet (0.61 m)"
    )
    fixed: Annotated[bool, Strict()] = Field(
        default=False, description="true: back stays, even inside an excavation; a finding says so"
    )

    @property
    def past_string(self) -> float:
        """How far a board reaches past its string [m]."""
        return PAST_STRING if self.board is None else self.board - self.back

    def set_out(self, form: Form, kept: KeptOut = ANYWHERE) -> SetOut:
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
                result = _joined(result, self._corner(form, coming, going, kept))
        for end in ends:
            if (end.side, end.corner) not in clear or not self._paired(clear, end, count):
                result = _joined(result, self._single(form, end, kept))
        return result

    @staticmethod
    def _paired(clear: dict[tuple[int, int], StringEnd], end: StringEnd, count: int) -> bool:
        sides = ((end.corner - 1) % count, end.corner)
        return all((side, end.corner) in clear for side in sides)

    def _corner(self, form: Form, coming: StringEnd, going: StringEnd, kept: KeptOut) -> SetOut:
        """Two boards that meet in one post; each carries the nail of the string that runs square to it."""
        at = form.corners[coming.corner]
        ways = coming.line.direction, going.line.direction
        back = kept.distance(self.back, lambda far: self._posts(at, ways, far))
        first, apex, last = self._posts(at, ways, back)
        name = form.outline.corner_label(coming.corner)
        posts = tuple(
            Place(
                p,
                "post",
                "batter_boards",
                corner=coming.corner,
                words=f"{words} of the boards at {name}",
                moved=back - self.back,
            )
            for p, words in ((first, "end post"), (apex, "corner post"), (last, "end post"))
        )
        nails = (self._nail(form, coming, back), self._nail(form, going, back))
        boards = (Board((apex, first), nails[0].at, coming.side), Board((apex, last), nails[1].at, going.side))
        return SetOut((posts[0], nails[0], posts[1], nails[1], posts[2]), boards)

    def _posts(self, at: Point, ways: tuple[Vector, Vector], back: float) -> tuple[Point, Point, Point]:
        """The end post of one board, the corner post, and the end post of the other.

        An end post stands on the other side of its board's string than the corner post.
        """
        ahead, aside = ways
        apex = moved(moved(at, ahead, back), aside, back)
        first, last = (
            moved(moved(at, along, back), across, -self.past_string)
            for along, across in ((ahead, aside), (aside, ahead))
        )
        return first, apex, last

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
            moved=back - self.back,
        )

    def _single(self, form: Form, end: StringEnd, kept: KeptOut) -> SetOut:
        """A board of its own across one string, on two posts."""
        over = PAST_STRING if self.board is None else self.board / 2
        back = kept.distance(self.back, lambda far: self._pair(end, far, over))
        nail = self._nail(form, end, back)
        posts = self._pair(end, back, over)
        words = f"post of the board across the string of {end.sides_label(form.outline)}"
        left, right = (Place(p, "post", "batter_boards", words=words, moved=back - self.back) for p in posts)
        return SetOut((left, nail, right), (Board(posts, nail.at, end.side),))

    @staticmethod
    def _pair(end: StringEnd, back: float, over: float) -> tuple[Point, Point]:
        at, across = end.line.at(end.past + back), end.line.direction.left()
        return moved(at, across, over), moved(at, across, -over)


def _joined(first: SetOut, second: SetOut) -> SetOut:
    return SetOut(first.places + second.places, first.boards + second.boards)
