"""How often is a planted blunder named in a tape book, alone or in a small group? Printed; asserted in tests/laws.

python tests/bench/tape_blunders.py [BOOKS] [SEED]

Corners set by the drawing within about 8 mm, every length read with the errors the program expects. The blunder is 5
times what the reading may differ, up or down, in any one reading. Three samples, with fewer ties and with all of them.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tests" / "helpers"))

from taping import exact, noisy, reading, set_wrong, sheet_spans  # noqa: E402

from staking import Layout, read_site, solve  # noqa: E402
from staking.field.tape_adjust import Net  # noqa: E402
from staking.field.tape_suspects import judge  # noqa: E402
from staking.field.taped import allowed, tie_spans  # noqa: E402

SITES = ("tape_only_shed", "metric_hall", "ell_house_on_grid")
LEAST = 3  # redundancy that the smallest book is to have
SMALL = 3  # readings that a crew measures again without grumbling
SPREAD, USUAL = 0.008, 0.00635  # metres; how corners are set, and what a length may differ that has no figure


def layout_of(name: str) -> Layout:
    """A sample."""
    return solve(read_site(ROOT / "sample_sites" / name / "site.toml"))


def redundancy(layout: Layout, ties: int, rng: random.Random) -> int:
    """Of a book with so many ties."""
    spans = sheet_spans(layout, ties, rng)
    return Net(layout, tuple(exact(layout, spans, set_wrong(layout, rng, 0.0)))).redundancy


def studied(layout: Layout, ties: int, count: int, seed: int) -> Counter[str]:
    """Of so many books: alone, in a small group, in any group, another one blamed, silent; and clean ones suspected."""
    rng, found = random.Random(seed), Counter[str]()  # noqa: S311 - the same books each time
    for _ in range(count):
        at = set_wrong(layout, rng, SPREAD)
        clean = noisy(layout, exact(layout, sheet_spans(layout, ties, rng), at), rng)
        calm = judge(Net(layout, tuple(clean)))
        found["alarms"] += bool(calm.suspects) or not calm.agrees
        wrong = rng.randrange(len(clean))
        span, true = clean[wrong].span, clean[wrong].read
        off = 5 * (allowed(layout, span, true)[0] or USUAL) * rng.choice((-1, 1))
        seen = judge(Net(layout, (*clean[:wrong], reading(layout, span, true + off), *clean[wrong + 1 :])))
        blamed = {number for suspect in seen.suspects for number in suspect.numbers}
        found["alone"] += blamed == {wrong}
        found["small"] += wrong in blamed and len(blamed) <= SMALL
        found["among"] += wrong in blamed
        found["other"] += bool(blamed) and wrong not in blamed
        found["nobody"] += not blamed and not seen.agrees
        found["silent"] += not blamed and seen.agrees
    return found


def books(layout: Layout) -> Iterator[tuple[int, int]]:
    """Numbers of ties to try with their redundancy: the first that reaches LEAST, one more, and all."""
    rng, every = random.Random(0), len(list(tie_spans(layout)))  # noqa: S311
    least = next((n for n in range(every + 1) if redundancy(layout, n, rng) >= LEAST), every)
    for ties in dict.fromkeys((least, min(least + 1, every), every)):
        yield ties, redundancy(layout, ties, rng)


def rows(count: int, seed: int = 1) -> Iterator[str]:
    """What was found."""
    for name in SITES:
        layout = layout_of(name)
        for ties, free in books(layout):
            n = studied(layout, ties, count, seed)
            yield (
                f"{name}, {ties} ties, redundancy {free}: of {count} named {n['alone']} alone, {n['small']} among "
                f"{SMALL} at most, {n['among']} among any; another blamed {n['other']}, none blamed but no cure "
                f"{n['nobody']}, not seen {n['silent']}; clean ones suspected {n['alarms']}"
            )


def main() -> None:
    """Prints the figures."""
    count, seed = (int(text) for text in (sys.argv[1:] + ["100", "1"][len(sys.argv) - 1 :])[:2])
    for line in rows(count, seed):
        print(line, flush=True)  # noqa: T201 - a script that prints figures


if __name__ == "__main__":
    main()
