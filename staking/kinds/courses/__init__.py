"""What a record of a lot is made of: straight courses and curves. A new kind is a file here and a line below."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from staking.kinds.courses.curve import CurveCourse
from staking.kinds.courses.straight import Straight

COURSES: Mapping[str, type[Straight] | type[CurveCourse]] = MappingProxyType(
    {"straight": Straight, "curve": CurveCourse}
)

__all__ = ["COURSES", "CurveCourse", "Straight"]
