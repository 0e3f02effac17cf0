"""The examples in docstrings give what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from types import ModuleType

import pytest

import staking

NAMES = [found.name for found in pkgutil.walk_packages(staking.__path__, "staking.") if "__main__" not in found.name]


def _module(name: str) -> ModuleType:
    return importlib.import_module(name)


def test_there_are_examples() -> None:
    """So that the next test cannot pass for want of them."""
    finder = doctest.DocTestFinder(exclude_empty=True)
    assert sum(bool(found.examples) for name in NAMES for found in finder.find(_module(name))) > 50


@pytest.mark.parametrize("name", NAMES)
def test_examples_in_docstrings(name: str) -> None:
    """Module by module."""
    assert doctest.testmod(_module(name)).failed == 0
