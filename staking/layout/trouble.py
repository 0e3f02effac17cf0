"""Collects what cannot be solved, with its place in the site file, so that all of it is said at once."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from staking.errors import RuleError, SolveError
from staking.findings import Finding, Severity
from staking.sitefile.declared import Site


class Trouble:
    """The findings so far of one solving."""

    def __init__(self, site: Site) -> None:
        self._site = site
        self._findings: list[Finding] = []

    @contextmanager
    def at(self, *path: str | int) -> Iterator[None]:
        """Runs the rule of one declared record; a RuleError becomes a finding at the record's place."""
        try:
            yield
        except RuleError as error:
            self._findings.append(self._finding(error, path))

    def _finding(self, error: RuleError, path: tuple[str | int, ...]) -> Finding:
        steps = [int(step) if step.isdecimal() else step for step in error.key.split(".") if step]
        place = self._site.place(*path, *steps)
        return Finding(error.code, Severity.STOP, error.words(self._site.notation.length), place, error.remedy)

    def stop(self) -> None:
        """Raise SolveError with everything collected, if there is anything."""
        if self._findings:
            raise SolveError(*self._findings)
