"""How often is a planted blunder named in a tape book? Printed; the law is asserted in tests/laws.

python tests/bench/tape_blunders.py [BOOKS] [SEED]
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "helpers"))

from making import sample
from tape_study import SITES, SMALL, books, studied


def rows(count: int, seed: int = 1) -> Iterator[str]:
    """What was found."""
    for name in SITES:
        for ties, free in books(name):
            n = studied(sample(name), ties, count, seed)
            yield (
                f"{name}, {ties} ties, redundancy {free}: of {count} named {n['alone']} alone, {n['small']} among "
                f"{SMALL} at most, {n['any']} among any; of {n['checked']} in readings that the others check "
                f"{n['checked alone']}, {n['checked small']}, {n['checked any']}; named among {SMALL} or "
                f"told beforehand {n['told']}; another blamed {n['other']}, none blamed but no cure "
                f"{n['nobody']}, not seen {n['silent']}; clean ones suspected {n['alarms']}"
            )


def main() -> None:
    """Prints the figures."""
    count, seed = (int(text) for text in (sys.argv[1:] + ["100", "1"][len(sys.argv) - 1 :])[:2])
    for line in rows(count, seed):
        print(line, flush=True)  # noqa: T201 - a script that prints figures


if __name__ == "__main__":
    main()
