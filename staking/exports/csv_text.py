"""A table as text that a spreadsheet opens (RFC 4180)."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable


def csv_text(head: Iterable[str], rows: Iterable[Iterable[object]]) -> bytes:
    """Head and rows in UTF-8: commas between cells, CRLF after each. Words from outside are made harmless before."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows(rows)
    return text.getvalue().encode("utf-8")
