"""Which class of record is meant by `kind = "..."`?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import Discriminator

TAG = "kind:"  # marks the tags of kinds in the location of an error, so that the reader can leave them out


def by_kind(default: str) -> Discriminator:
    """Chooses a record's class by its `kind`, which may be left out where there is a default."""

    def chosen(value: Any) -> str:
        kind = value.get("kind", default) if isinstance(value, Mapping) else getattr(value, "kind", default)
        return f"{TAG}{kind}" if isinstance(kind, str) else TAG  # no kind has an empty name

    return Discriminator(chosen)
