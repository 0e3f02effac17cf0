"""What a page shows of what the program prints, and whether it does."""

from __future__ import annotations

import re

ELLIPSIS = "..."


def matches(shown: str, printed: str) -> bool:
    """Whether a text is what was printed, lines of ... standing for any lines; blanks at line ends do not count."""
    pattern = "".join(
        r"(?:.*\n)*?" if line.strip() == ELLIPSIS else re.escape(line.rstrip()) + "\n" for line in shown.splitlines()
    )
    return re.fullmatch(pattern, "".join(f"{line.rstrip()}\n" for line in printed.splitlines())) is not None
