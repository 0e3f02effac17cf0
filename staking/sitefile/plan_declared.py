"""What does a site file declare for the plan sheet alone: paper, words for the inspector, revisions, things to show?

None of it moves a stake. Names of points are checked with all others.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field, Strict, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.fields import Finite, Length, Name, Record, Words

PaperName = Literal["letter", "tabloid", "a4", "a3"]
FeatureKind = Literal[
    "drive", "walk", "building", "utility", "septic", "well", "fence", "tree", "eave", "drainage", "other"
]
Absent = Literal["easements", "buildings", "projections", "flatwork", "utilities"]

CLOSED_LEAST = 3  # corners of an outline


class PlanSheet(Record):
    """[plan]: the sheet for the inspector."""

    paper: PaperName | None = Field(
        default=None, description="left out: letter on sites in feet, a4 on sites in metres"
    )
    orientation: Literal["auto", "portrait", "landscape"] = Field(
        default="auto", description="of the paper; auto takes the one that shows the lot larger"
    )
    scale: Finite | None = Field(
        default=None,
        gt=0,
        description="feet to the inch (20 for 1 in = 20 ft), or the n of 1:n on a site in metres; "
        "left out, or too large for the paper: the largest usual scale that fits",
    )
    heading: Words = Field(default="Site plan", min_length=1, description="printed largest")
    street: Words = Field(default="", description="name of the street and width of its right-of-way")
    zoning: Words = Field(default="", description="zoning district, as the authority names it")
    flood: Words = Field(default="", description="flood zone or limits, with the map they are from")
    benchmark: Words = Field(default="", description="which mark heights are counted from, and its elevation")
    floor_elevation: Length | None = Field(default=None, description="of the finished floor")
    street_elevation: Length | None = Field(default=None, description="of the curb or street centre in front")
    drainage: Words = Field(default="", description="which way water runs off, and how steeply")
    impervious: Words = Field(default="", description="the limit on covered ground, in words; the area is computed")
    none: tuple[Absent, ...] = Field(
        default=(), description="what there is none of on this lot; the sheet says so, as stated by you"
    )
    stakes: Annotated[bool, Strict()] = Field(default=False, description="true shows offset stakes and batter boards")
    contours: Annotated[bool, Strict()] = Field(
        default=True,
        description="false leaves out contours and break lines of [[ground]]; [earthwork] says how far apart",
    )
    heights: Annotated[bool, Strict()] = Field(
        default=True, description="false leaves out the heights at the slab's corners and the arrows of falls"
    )
    notes: tuple[Words, ...] = Field(default=(), description="sentences to print on the sheet")


class Revision(Record):
    """[[revisions]]: a line of the table of revisions."""

    mark: Words = Field(min_length=1, description="its letter or number")
    date: Annotated[datetime.date, Strict()] = Field(description="without quotes: 2026-04-18")
    what: Words = Field(min_length=1, description="what changed")


class Feature(Record):
    """[[features]]: a thing to show on the plan; it takes part in no check."""

    name: Name = Field(description="what it is called on the plan")
    kind: FeatureKind = Field(
        default="other", description="decides how it is drawn; drainage is an arrow from its first point to its last"
    )
    points: tuple[str, ...] = Field(
        default=(), description="names of points: one for a thing in one place, more for a line through them"
    )
    outline: tuple[str, ...] = Field(default=(), description="names of its corners, in order around it")
    note: Words = Field(default="", description="printed behind its name")

    @model_validator(mode="after")
    def _one_shape(self) -> Feature:
        if bool(self.points) == bool(self.outline):
            raise _refused(
                "takes points or an outline, one of the two", "name the points it runs through, or its corners"
            )
        if self.outline and len(self.outline) < CLOSED_LEAST:
            raise _refused("an outline has three corners or more", "name a line by its points")
        return self

    @property
    def places(self) -> tuple[str, ...]:
        """The points it is drawn by."""
        return self.outline or self.points


def _refused(message: str, remedy: str) -> PydanticCustomError:
    return PydanticCustomError("text", "{message}", {"message": message, "remedy": remedy})
