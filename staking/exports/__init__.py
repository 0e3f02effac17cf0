"""Which files does a job make? One visible line a file.

Libraries for the formats are slow to import, so each is opened when its file is made: `check` never pays for them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from staking.drawing.marks import Drawing
from staking.findings import Finding
from staking.layout.computed import Layout


@dataclass(frozen=True, slots=True)
class Options:
    """How files are written. columns, delimiter, decimals, header: of stakeout.csv. dxf_version: r12 ... r2018."""

    columns: Sequence[str] = ("name", "north", "east", "elevation", "note")
    delimiter: str = ","
    decimals: int = 4
    header: bool = False
    dxf_version: str = "r2000"


@dataclass(frozen=True, slots=True)
class Made:
    """What files are made from.

    withheld: codes of the stops for which stakes are held back. despite: codes of stops that were overruled.
    """

    layout: Layout
    findings: tuple[Finding, ...]
    drawing: Drawing
    options: Options = field(default_factory=Options)
    withheld: tuple[str, ...] = ()
    despite: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Export:
    """One file. stakes: it says where stakes stand, so it is withheld after a stop. positioned: it needs a place on
    the earth, and raises PositionError where there is none.
    """

    name: str
    make: Callable[[Made], bytes]
    stakes: bool
    positioned: bool = False


def _points(made: Made) -> bytes:
    from staking.exports.points_csv import points_csv  # noqa: PLC0415 - opened when needed

    return points_csv(made.layout)


def _stakeout(made: Made) -> bytes:
    from staking.exports.points_csv import stakeout_csv  # noqa: PLC0415 - opened when needed

    options = made.options
    return stakeout_csv(
        made.layout,
        columns=options.columns,
        delimiter=options.delimiter,
        decimals=options.decimals,
        header=options.header,
    )


def _dxf(made: Made) -> bytes:
    from staking.exports.dxf import dxf  # noqa: PLC0415 - opened when needed

    remarks = [f"made despite the stop {code}" for code in made.despite]
    return dxf(made.layout, made.drawing, version=made.options.dxf_version, remarks=remarks)


def _geojson(made: Made) -> bytes:
    from staking.exports.geojson import layout_geojson  # noqa: PLC0415 - opened when needed

    return layout_geojson(made.layout)


def _json(made: Made) -> bytes:
    from staking.exports.layout_json import layout_json  # noqa: PLC0415 - opened when needed

    return layout_json(made.layout, made.findings, withheld=bool(made.withheld), despite=made.despite)


EXPORTS: tuple[Export, ...] = (
    Export("points.csv", _points, stakes=True),
    Export("stakeout.csv", _stakeout, stakes=True),
    Export("layout.dxf", _dxf, stakes=True),
    Export("layout.geojson", _geojson, stakes=True, positioned=True),
    Export("layout.json", _json, stakes=False),
)

__all__ = ["EXPORTS", "Export", "Made", "Options"]
