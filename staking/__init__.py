"""Puts a concrete slab in the right place on a lot: one site file in; stakes, files and a tape sheet out.

>>> from staking import read_site, solve, check
>>> layout = solve(read_site("sample_sites/tape_only_shed/site.toml"))
>>> [stake.name for stake in layout.stakes][:4]
['101', '102', '103', '104']
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from staking.version import VERSION as __version__  # noqa: N811 - the name that Python's tools look for

if TYPE_CHECKING:
    from staking.checks import check
    from staking.errors import InputError, OutputError, SolveError, StakingError
    from staking.exports.as_built import export_comparison
    from staking.exports.job import export
    from staking.field.compare import compare
    from staking.field.compared import Comparison, HowMeasured, MeasuredPoint
    from staking.findings import Finding, Place, Severity
    from staking.layout.computed import Layout
    from staking.layout.solve import solve
    from staking.sitefile.declared import Site
    from staking.sitefile.reader import read_site

_ROOMS = {
    "read_site": "staking.sitefile.reader",
    "solve": "staking.layout.solve",
    "check": "staking.checks",
    "export": "staking.exports.job",
    "export_comparison": "staking.exports.as_built",
    "compare": "staking.field.compare",
    "Comparison": "staking.field.compared",
    "HowMeasured": "staking.field.compared",
    "MeasuredPoint": "staking.field.compared",
    "Site": "staking.sitefile.declared",
    "Layout": "staking.layout.computed",
    "Finding": "staking.findings",
    "Place": "staking.findings",
    "Severity": "staking.findings",
    "StakingError": "staking.errors",
    "InputError": "staking.errors",
    "SolveError": "staking.errors",
    "OutputError": "staking.errors",
}

__all__ = [
    "Comparison",
    "Finding",
    "HowMeasured",
    "InputError",
    "Layout",
    "MeasuredPoint",
    "OutputError",
    "Place",
    "Severity",
    "Site",
    "SolveError",
    "StakingError",
    "__version__",
    "check",
    "compare",
    "export",
    "export_comparison",
    "read_site",
    "solve",
]


def __getattr__(name: str) -> Any:
    """A room of the house, opened when it is first asked for, so that `staking --help` starts quickly."""
    if name not in _ROOMS:
        raise AttributeError(f"module 'staking' has no attribute {name!r}")
    return getattr(import_module(_ROOMS[name]), name)
