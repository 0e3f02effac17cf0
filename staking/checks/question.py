"""What a check is: one question about a layout, the findings it can answer with, and what each of them means."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from staking.findings import Finding
from staking.layout.computed import Layout


@dataclass(frozen=True, slots=True)
class Check:
    """question: in one sentence. codes: every finding it can give, each with what it means and where that is from."""

    question: str
    codes: Mapping[str, str]
    run: Callable[[Layout], Iterator[Finding]]
