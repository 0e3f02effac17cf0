"""Do measured points bear the names of others: two exchanged, corners counted the other way round, a wrong stake?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from staking.field.compared import DesignPoint, Deviation
from staking.findings import Finding, Severity
from staking.notation import Notation
from staking.survey.points import distance

NEAR = 0.3048  # metres: a point farther from a place does not lie on it; own choice
FAR = 5.0  # times what is allowed: nearer to its place a point is just badly set; own choice


@dataclass(frozen=True)
class Mistaken:
    """Deviations by the names as written; lies_on: by their index, the point that some of them really lie on."""

    found: Sequence[Deviation]
    lies_on: Mapping[int, DesignPoint]
    findings: tuple[Finding, ...]

    def put_right(self) -> Iterator[tuple[DesignPoint, Deviation]]:
        """Each with the point it is to be compared with, but those whose place another has by its name."""
        own = {each.design.name for at, each in enumerate(self.found) if at not in self.lies_on}
        for at, each in enumerate(self.found):
            design = self.lies_on.get(at, each.design)
            if at not in self.lies_on:
                yield design, each
            elif design.name not in own:
                own.add(design.name)
                yield design, replace(each, by_name=False)


def names_mistaken(found: Sequence[Deviation], design: Sequence[DesignPoint], write: Notation) -> Mistaken:
    """Points measured under a name, far from its place and on the place of another.

    Rule, own choice: farther from its own place than 5 times what is allowed and a foot, no more than a foot from the
    other, and at least 4 times nearer to it.
    """
    lies_on = {
        at: other for at, each in enumerate(found) if each.by_name and (other := _other_place(each, design)) is not None
    }
    return Mistaken(found, lies_on, tuple(_findings(found, lies_on, write)))


def _other_place(each: Deviation, design: Sequence[DesignPoint]) -> DesignPoint | None:
    own = each.plan.length
    if own <= max(FAR * (each.allowed.plus_minus or 0.0), NEAR):
        return None
    other = min(design, key=lambda point: distance(point.at, each.measured.at))
    off = distance(other.at, each.measured.at)
    return other if off <= min(NEAR, own / 4) and other.name != each.design.name else None


def _findings(found: Sequence[Deviation], lies_on: Mapping[int, DesignPoint], write: Notation) -> list[Finding]:
    names = {found[at].design.name: other.name for at, other in lies_on.items()}
    corners = [found[at].design.name for at, other in lies_on.items() if found[at].design.corner is not None]
    if len(corners) > 2 and set(corners) == {names[name] for name in corners}:
        order = ", ".join(f"{name} lies on {names[name]}" for name in corners)
        message = f"the corners were named in another order than the drawing has them: {order}"
        turned = [Finding("measured-order", Severity.STRONG, message, None, _RENAME)]
        return turned + [
            _single(found[at], lies_on[at], write) for at in lies_on if found[at].design.name not in corners
        ]
    done = set[str]()
    result = []
    for at, other in lies_on.items():
        name = found[at].design.name
        if names.get(other.name) == name:
            if name not in done:
                message = f"{name} and {other.name} bear one another's name: each lies on the place of the other"
                result.append(Finding("measured-exchanged", Severity.STRONG, message, None, _RENAME))
            done |= {name, other.name}
        else:
            result.append(_single(found[at], other, write))
    return result


_RENAME = "each is compared with the point it lies on; put the names right in the list, then compare again"


def _single(each: Deviation, other: DesignPoint, write: Notation) -> Finding:
    message = (
        f"{each.measured.name} lies on {other.name} ({other.words}), {write.length(each.plan.length)} from "
        f"{each.design.name} ({each.design.words}): another stake was measured under its name"
    )
    remedy = f"measure {each.design.name} itself, or name this point {other.name}"
    return Finding("measured-other-point", Severity.STRONG, message, None, remedy)
