"""Names for places that nobody named: corners without a stake, crossings of strings, marks of the frame."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count

from staking.kinds.slab import Form
from staking.layout.computed import Stake


def fresh_names(prefix: str, taken: Iterable[str]) -> Iterator[str]:
    """The prefix with 1, 2 and so on, without the names that are taken; "s1" is taken for "S1".

    >>> names = fresh_names("S", ["s1", "P1"])
    >>> next(names), next(names)
    ('S2', 'S3')
    """
    used = {name.casefold() for name in taken}
    return (name for number in count(1) if (name := f"{prefix}{number}").casefold() not in used)


def corner_names(form: Form, stakes: Iterable[Stake], taken: Iterable[str] = ()) -> tuple[str, ...]:
    """What each corner of the formed outline is called: its stake's name, else "C1", "C2" ...

    taken: names of other points.
    """
    staked = {stake.corner: stake.name for stake in stakes if stake.kind == "corner"}
    fresh = fresh_names("C", taken)
    return tuple(staked.get(i) or name for i, name in zip(range(len(form.corners)), fresh, strict=False))
