"""How often is a planted blunder named in a tape book, alone or in a small group? Counted for bench and laws alike.

Corners set by the drawing within about 8 mm, every length read with the errors the program expects. The blunder is 5
times what the reading may differ, up or down, in any one reading. Three samples, with fewer ties and with all of them.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator

from making import sample
from taping import exact, noisy, reading, set_wrong, sheet_spans

from staking import Layout
from staking.field.tape_adjust import Net
from staking.field.tape_reliability import TIMES, unchecked
from staking.field.tape_suspects import judge
from staking.field.taped import allowed, tie_spans

SITES = ("tape_only_shed", "metric_hall", "ell_house_on_grid")
LEAST = 3  # redundancy that the smallest book is to have
SMALL = 3  # readings that a crew measures again without grumbling
SPREAD, USUAL = 0.008, 0.00635  # metres; how corners are set, and what a length may differ that has no figure


def redundancy(layout: Layout, ties: int, rng: random.Random) -> int:
    """Of a book with so many ties."""
    spans = sheet_spans(layout, ties, rng)
    return Net(layout, tuple(exact(layout, spans, set_wrong(layout, rng, 0.0)))).redundancy


def books(name: str) -> Iterator[tuple[int, int]]:
    """Numbers of ties to try with their redundancy: the first that reaches LEAST, one more, and all."""
    layout = sample(name)
    rng, every = random.Random(0), len(list(tie_spans(layout)))  # noqa: S311
    least = next((n for n in range(every + 1) if redundancy(layout, n, rng) >= LEAST), every)
    for ties in dict.fromkeys((least, min(least + 1, every), every)):
        yield ties, redundancy(layout, ties, rng)


def studied(layout: Layout, ties: int, count: int, seed: int, spread: float = SPREAD) -> Counter[str]:
    """Of so many books.

    alarms: clean ones suspected. checked: blunders in a reading of which the program does not say that the others check
    it poorly. alone, small, any: named alone, in a group of SMALL or fewer, in any; `checked ...`: of those checked.
    told: named in a small group or said beforehand to be checked poorly. other: another reading blamed. nobody: seen,
    but none blamed. silent: not seen.
    """
    rng, found = random.Random(seed), Counter[str]()  # noqa: S311 - the same books each time
    for _ in range(count):
        at = set_wrong(layout, rng, spread)
        clean = noisy(layout, exact(layout, sheet_spans(layout, ties, rng), at), rng)
        calm = judge(Net(layout, tuple(clean)))
        found["alarms"] += bool(calm.suspects) or not calm.agrees
        wrong = rng.randrange(len(clean))
        span, true = clean[wrong].span, clean[wrong].read
        off = TIMES * (allowed(layout, span, true)[0] or USUAL) * rng.choice((-1, 1))
        net = Net(layout, (*clean[:wrong], reading(layout, span, true + off), *clean[wrong + 1 :]))
        found.update(_seen(net, wrong))
    return found


def _seen(net: Net, wrong: int) -> Iterator[str]:
    """What is counted of one book."""
    verdict, checked = judge(net), wrong not in unchecked(net)
    blamed = {number for suspect in verdict.suspects for number in suspect.numbers}
    small = wrong in blamed and len(blamed) <= SMALL
    names = {"alone": blamed == {wrong}, "small": small, "any": wrong in blamed}
    yield from (name for name, is_so in names.items() if is_so)
    if checked:
        yield "checked"
        yield from (f"checked {name}" for name, is_so in names.items() if is_so)
    if small or not checked:
        yield "told"
    if blamed and wrong not in blamed:
        yield "other"
    if not blamed:
        yield "silent" if verdict.agrees else "nobody"
