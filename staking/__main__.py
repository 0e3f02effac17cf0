"""Starts the command line: `python -m staking` and the `staking` command."""

from __future__ import annotations

import gc

from staking.app import cli


def main() -> None:
    """Run the verbs without the collector of reference cycles.

    A run is over before the collector could give anything back, and looking through the libraries again and again
    while they are opened takes a fifth of the time of `check` and `make`.
    """
    gc.disable()
    try:
        cli.main()
    finally:
        gc.freeze()  # or Python would look through them once more when it ends


if __name__ == "__main__":
    main()
