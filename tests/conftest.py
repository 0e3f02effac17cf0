"""How property tests run: without a time limit, since no test asserts a speed and machines are shared."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
