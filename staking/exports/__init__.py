"""Which files does a job make? One visible line a file.

Libraries for the formats are slow to import, so each is opened when its file is made: `check` never pays for them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from staking.drawing.marks import Drawing
from staking.findings import Finding
from staking.layout.computed import Layout
from staking.layout.setups import SetUp, setup_of

if TYPE_CHECKING:
    from staking.drawing.paper import Fitted
    from staking.exports.stake_lists import Listing
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


@dataclass(frozen=True)
class Made:
    """What files are made from. Each sheet is put together once, for print and for the screen.

    withheld: codes of the stops for which stakes are held back. despite: codes of stops that were overruled.
    """

    layout: Layout
    findings: tuple[Finding, ...]
    drawing: Drawing
    options: Options = field(default_factory=Options)
    withheld: tuple[str, ...] = ()
    despite: tuple[str, ...] = ()

    @cached_property
    def tape_sheet(self) -> Sheet:
        """What a crew works by with tape and string."""
        from staking.sheets.tape_and_string import tape_and_string  # noqa: PLC0415 - opened when needed

        return tape_and_string(self.layout, self.findings, self.despite)

    @cached_property
    def grades_sheet(self) -> Sheet:
        """What the rod man works by."""
        from staking.sheets.grades import grades_sheet  # noqa: PLC0415 - opened when needed

        return grades_sheet(self.layout, self.findings, self.despite)

    @cached_property
    def level_book_sheet(self) -> Sheet:
        """What was levelled, and how it closes."""
        from staking.sheets.level_book import level_book_sheet  # noqa: PLC0415 - opened when needed

        return level_book_sheet(self.layout, self.findings, self.despite)

    @cached_property
    def takeoff_sheet(self) -> Sheet:
        """What must be ordered and cut."""
        from staking.sheets.takeoff import takeoff_sheet  # noqa: PLC0415 - opened when needed

        return takeoff_sheet(self.layout, self.findings, self.despite)

    @cached_property
    def ground_sheet(self) -> Sheet:
        """What is dug and filled."""
        from staking.sheets.ground import ground_sheet  # noqa: PLC0415 - opened when needed

        return ground_sheet(self.layout, self.findings, self.despite)

    @cached_property
    def checks_sheet(self) -> Sheet:
        """What is found, and what to measure once all is staked."""
        from staking.sheets.checks import checks_sheet  # noqa: PLC0415 - opened when needed

        return checks_sheet(self.layout, self.findings, withheld=self.withheld, despite=self.despite)

    @cached_property
    def listings(self) -> tuple[Listing, ...]:
        """The lists of stakes, as they are meant."""
        from staking.exports.stake_lists import listings  # noqa: PLC0415 - opened when needed

        return listings(self)

    @cached_property
    def setup(self) -> SetUp:
        """The instrument's setup. Raises ValueError where the site has none that could be solved."""
        found = setup_of(self.layout)
        if not isinstance(found, SetUp):
            raise ValueError("no setup to write a sheet for")
        return found

    @cached_property
    def setup_sheet(self) -> Sheet:
        """What the instrument reads."""
        from staking.sheets.setup import setup_sheet  # noqa: PLC0415 - opened when needed

        return setup_sheet(self.layout, self.setup, self.findings, self.despite)

    @cached_property
    def plan_pages(self) -> tuple[Fitted, ...]:
        """The plan that the inspector signs."""
        from staking.sheets.plan import plan_pages  # noqa: PLC0415 - opened when needed

        return plan_pages(self.layout, self.findings, withheld=self.withheld, despite=self.despite)


@dataclass(frozen=True, slots=True)
class Export:
    """One file. stakes: it says where stakes stand, so it is withheld after a stop. positioned: it needs a place on
    the earth, and raises PositionError where there is none. wanted: whether a site asks for it.
    """

    name: str
    make: Callable[[Made], bytes]
    stakes: bool
    positioned: bool = False
    wanted: Callable[[Layout], bool] = lambda _: True


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


def _landxml(made: Made) -> bytes:
    from staking.exports.landxml import landxml  # noqa: PLC0415 - opened when needed

    return landxml(made.layout, made.despite)


def _geojson(made: Made) -> bytes:
    from staking.exports.geojson import layout_geojson  # noqa: PLC0415 - opened when needed

    return layout_geojson(made.layout, made.despite)


def _json(made: Made) -> bytes:
    from staking.exports.layout_json import layout_json  # noqa: PLC0415 - opened when needed
    from staking.exports.stake_lists import stake_list_facts  # noqa: PLC0415 - opened when needed

    held = stake_list_facts(made)
    return layout_json(made.layout, made.findings, withheld=bool(made.withheld), despite=made.despite, stakeout=held)


def _pdf(sheet: Sheet, options: Options) -> bytes:
    from staking.exports.pdf import pdf  # noqa: PLC0415 - opened when needed

    return pdf(sheet, options.paper)


def _html(sheet: Sheet) -> bytes:
    from staking.exports.html import html  # noqa: PLC0415 - opened when needed

    return html(sheet).encode("utf-8")


def _grades_csv(made: Made) -> bytes:
    from staking.exports.grades_csv import grades_csv  # noqa: PLC0415 - opened when needed

    return grades_csv(made.layout)


def _levels_csv(made: Made) -> bytes:
    from staking.exports.levels_csv import levels_csv  # noqa: PLC0415 - opened when needed

    return levels_csv(made.layout)


def _takeoff_csv(made: Made) -> bytes:
    from staking.exports.takeoff_csv import takeoff_csv  # noqa: PLC0415 - opened when needed

    return takeoff_csv(made.layout)


def _ground_csv(made: Made) -> bytes:
    from staking.exports.ground_csv import ground_csv  # noqa: PLC0415 - opened when needed

    return ground_csv(made.layout)


def _plan_pdf(made: Made) -> bytes:
    from staking.exports.plan import plan_pdf  # noqa: PLC0415 - opened when needed

    layout = made.layout
    return plan_pdf(made.plan_pages, f"revision {layout.site.revision}; site file {layout.site.fingerprint}")


def _plan_svg(made: Made) -> bytes:
    from staking.exports.plan import plan_svg  # noqa: PLC0415 - opened when needed

    return plan_svg(made.plan_pages)


def _setup_csv(made: Made) -> bytes:
    from staking.exports.setup_csv import setup_csv  # noqa: PLC0415 - opened when needed

    return setup_csv(made.layout, made.setup)


def _has_floor(layout: Layout) -> bool:
    return layout.design is not None


def _has_books(layout: Layout) -> bool:
    return bool(layout.site.levelled)


def _has_quantities(layout: Layout) -> bool:
    return layout.takeoff is not None


def _has_ground(layout: Layout) -> bool:
    return layout.earth is not None


def _has_setup(layout: Layout) -> bool:
    return isinstance(setup_of(layout), SetUp)


EXPORTS: tuple[Export, ...] = (
    Export("points.csv", _points, stakes=True),
    Export("stakeout.csv", _stakeout, stakes=True),
    Export("layout.dxf", _dxf, stakes=True),
    Export("landxml.xml", _landxml, stakes=True),
    Export("layout.geojson", _geojson, stakes=True, positioned=True),
    Export("tape_and_string.pdf", lambda made: _pdf(made.tape_sheet, made.options), stakes=True),
    Export("tape_and_string.html", lambda made: _html(made.tape_sheet), stakes=True),
    Export("grades.pdf", lambda made: _pdf(made.grades_sheet, made.options), stakes=True, wanted=_has_floor),
    Export("grades.html", lambda made: _html(made.grades_sheet), stakes=True, wanted=_has_floor),
    Export("grades.csv", _grades_csv, stakes=True, wanted=_has_floor),
    Export("levels.pdf", lambda made: _pdf(made.level_book_sheet, made.options), stakes=False, wanted=_has_books),
    Export("levels.html", lambda made: _html(made.level_book_sheet), stakes=False, wanted=_has_books),
    Export("levels.csv", _levels_csv, stakes=False, wanted=_has_books),
    Export("setup.csv", _setup_csv, stakes=True, wanted=_has_setup),
    Export("setup.pdf", lambda made: _pdf(made.setup_sheet, made.options), stakes=True, wanted=_has_setup),
    Export("setup.html", lambda made: _html(made.setup_sheet), stakes=True, wanted=_has_setup),
    Export("takeoff.pdf", lambda made: _pdf(made.takeoff_sheet, made.options), stakes=True, wanted=_has_quantities),
    Export("takeoff.html", lambda made: _html(made.takeoff_sheet), stakes=True, wanted=_has_quantities),
    Export("takeoff.csv", _takeoff_csv, stakes=True, wanted=_has_quantities),
    Export("ground.pdf", lambda made: _pdf(made.ground_sheet, made.options), stakes=True, wanted=_has_ground),
    Export("ground.html", lambda made: _html(made.ground_sheet), stakes=True, wanted=_has_ground),
    Export("ground.csv", _ground_csv, stakes=True, wanted=_has_ground),
    Export("checks.pdf", lambda made: _pdf(made.checks_sheet, made.options), stakes=False),
    Export("checks.html", lambda made: _html(made.checks_sheet), stakes=False),
    Export("plan.pdf", _plan_pdf, stakes=False),
    Export("plan.svg", _plan_svg, stakes=False),
    Export("layout.json", _json, stakes=False),
)

__all__ = ["EXPORTS", "Export", "Made", "Options"]
