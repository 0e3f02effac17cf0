"""Which files does a job make? One visible line a file.

Libraries for the formats are slow to import, so each is opened when its file is made: `check` never pays for them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from staking.drawing.marks import Drawing
from staking.findings import Finding
from staking.layout.computed import Layout

if TYPE_CHECKING:
    from staking.sheets.page import Sheet


@dataclass(frozen=True, slots=True)
class Options:
    """How files are written.

    columns, delimiter, decimals, header: of stakeout.csv. dxf_version: r12 ... r2018. paper: of the PDFs.
    """

    columns: Sequence[str] = ("name", "north", "east", "elevation", "note")
    delimiter: str = ","
    decimals: int = 4
    header: bool = False
    dxf_version: str = "r2000"
    paper: Literal["letter", "a4"] = "letter"


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

    return layout_geojson(made.layout, made.despite)


def _json(made: Made) -> bytes:
    from staking.exports.layout_json import layout_json  # noqa: PLC0415 - opened when needed

    return layout_json(made.layout, made.findings, withheld=bool(made.withheld), despite=made.despite)


def _tape_sheet(made: Made) -> Sheet:
    from staking.sheets.tape_and_string import tape_and_string  # noqa: PLC0415 - opened when needed

    return tape_and_string(made.layout, made.findings, made.despite)


def _checks_sheet(made: Made) -> Sheet:
    from staking.sheets.checks import checks_sheet  # noqa: PLC0415 - opened when needed

    return checks_sheet(made.layout, made.findings, withheld=made.withheld, despite=made.despite)


def _as_pdf(sheet: Callable[[Made], Sheet]) -> Callable[[Made], bytes]:
    def make(made: Made) -> bytes:
        from staking.exports.pdf import pdf  # noqa: PLC0415 - opened when needed

        return pdf(sheet(made), made.options.paper)

    return make


def _as_html(sheet: Callable[[Made], Sheet]) -> Callable[[Made], bytes]:
    def make(made: Made) -> bytes:
        from staking.exports.html import html  # noqa: PLC0415 - opened when needed

        return html(sheet(made)).encode("utf-8")

    return make


EXPORTS: tuple[Export, ...] = (
    Export("points.csv", _points, stakes=True),
    Export("stakeout.csv", _stakeout, stakes=True),
    Export("layout.dxf", _dxf, stakes=True),
    Export("layout.geojson", _geojson, stakes=True, positioned=True),
    Export("tape_and_string.pdf", _as_pdf(_tape_sheet), stakes=True),
    Export("tape_and_string.html", _as_html(_tape_sheet), stakes=True),
    Export("checks.pdf", _as_pdf(_checks_sheet), stakes=False),
    Export("checks.html", _as_html(_checks_sheet), stakes=False),
    Export("layout.json", _json, stakes=False),
)

__all__ = ["EXPORTS", "Export", "Made", "Options"]
