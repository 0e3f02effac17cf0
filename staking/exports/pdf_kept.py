"""Paragraphs and tables that are measured once a width: a page asks each of them many times how high it is."""

from __future__ import annotations

from reportlab.platypus import Paragraph, Table


class Lines(Paragraph):
    """A paragraph that keeps its lines as long as it is as wide."""

    _as_wide: float | None = None
    _size = 0.0, 0.0

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Its size in lines no longer than that [points]."""
        if self._as_wide != available_width or not hasattr(self, "blPara"):  # which reportlab takes away at times
            self._as_wide, self._size = available_width, super().wrap(available_width, available_height)
        return self._size


class Grid(Table):
    """A table that keeps the heights of its rows as long as it is as wide."""

    _as_wide: float | None = None
    _size = 0.0, 0.0

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Its size [points]; of a table that is too high, that of the rows for which there is room."""
        if self._as_wide != available_width:
            self._size = super().wrap(available_width, available_height)
            self._as_wide = available_width if self._size[1] <= available_height else None
        return self._size
