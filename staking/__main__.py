"""Starts the command line: `python -m staking` and the `staking` command."""

from __future__ import annotations

from staking.app.cli import main

if __name__ == "__main__":
    main()
