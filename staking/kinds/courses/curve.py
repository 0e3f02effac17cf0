"""A curve of a record: any sufficient pair of its elements, and which way it starts."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from staking.kinds.courses.printed import PrintedAngle, PrintedLength, RecordLength
from staking.kinds.fields import Name, Record, Words
from staking.survey.curves import CurveGiven, Printed


class CurveCourse(Record):
    """One curve. Every element that is given beyond two is checked."""

    kind: Literal["curve"]
    side: Name = Field(description="the name of the side it belongs to; several courses may make one side")
    corner: Words = Field(default="", description="the name of the corner where it ends; left out: a name is made")
    turn: Literal["left", "right"] = Field(description="which way it turns as it runs")
    radius: PrintedLength | None = Field(default=None, description="of its circle")
    arc: PrintedLength | None = Field(default=None, description="along the curve")
    delta: PrintedAngle | None = Field(default=None, description="the central angle")
    chord: PrintedLength | None = Field(default=None, description="straight from its beginning to its end")
    tangent: PrintedLength | None = Field(default=None, description="from the point of intersection to either end")
    chord_bearing: PrintedAngle | None = Field(default=None, description="from its beginning to its end")
    radial: PrintedAngle | None = Field(
        default=None, description="bearing from its beginning to its centre; left out: by the chord, else tangent"
    )
    more_than_half: bool | None = Field(
        default=None,
        strict=True,
        description="whether it runs round more than half a circle; needed with radius and chord",
    )

    @model_validator(mode="after")
    def _enough(self) -> CurveCourse:
        said = [name for name in ("radius", "arc", "delta", "chord", "tangent") if getattr(self, name) is not None]
        if len(said) < 2:
            message = (
                f"a curve needs two of radius, arc, delta, chord and tangent; {' and '.join(said) or 'none'} given"
            )
            raise PydanticCustomError("text", "{message}", {"message": message, "remedy": "add one from the record"})
        return self

    def given(self, vara: float | None) -> CurveGiven:
        """As the formulas take it, lengths in metres; vara: how long one is [m]."""

        def metres(length: RecordLength | None) -> Printed | None:
            return None if length is None else length.printed(vara)

        return CurveGiven(
            left=self.turn == "left",
            radius=metres(self.radius),
            central_angle=self.delta,
            arc=metres(self.arc),
            chord=metres(self.chord),
            tangent=metres(self.tangent),
            chord_azimuth=self.chord_bearing,
            start_radial=self.radial,
            more_than_half=self.more_than_half,
        )
