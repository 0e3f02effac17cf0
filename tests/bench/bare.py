"""What would a bare script take to write the same bytes by the same libraries, with nothing computed on the way?

Inside the timing is what the libraries do, and the disk: csv.writer with cells that are text already; ezdxf with a
new document, the same entities with literal attributes, and its writing; the elements of an XML tree, and theirs;
geojson geometries and features from literal numbers, and their dumping; json.dumps of literal dictionaries; jinja2
filling in the template; reportlab making its paragraphs and tables from literal arguments, and building the pages;
SHA-256, writing, flushing and renaming of every file.

Paragraphs and tables are reportlab's own, measured anew each time they are asked for their height; ours keep that as
long as they are as wide.

Outside is all that is computed here: reading, solving, checks, the words of the sheets, the widths of columns,
whether a step still fits on a page, the pictures with the places of their labels, their SVG, longitudes and
latitudes. Outside too is what libraries keep for a second run: the compiled template, the fonts.

Building uses flowables up, so they are made anew before each round; inside the timing the same paragraphs and tables
are made once more and thrown away. The few lines of ours that draw a picture and the margins of a page on the canvas
are called by reportlab while it builds, and count on both sides.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from types import MappingProxyType, SimpleNamespace
from typing import Any
from unittest.mock import patch
from xml.etree.ElementTree import Element, SubElement, tostring

import ezdxf
import geojson
from ezdxf._options import options
from jinja2 import Environment, PackageLoader, StrictUndefined
from lxml import etree
from reportlab.platypus import BaseDocTemplate, Paragraph, Table

from staking import check, read_site, solve
from staking.drawing.draw import plan
from staking.exports import EXPORTS, Made
from staking.exports import html as pages
from staking.exports.geojson import DECIMALS
from staking.exports.html import html
from staking.exports.pdf import pdf
from staking.sheets.page import Sheet

_FLOWABLES: Mapping[str, Callable[..., object]] = MappingProxyType(
    {
        "staking.exports.pdf_style.Lines": Paragraph,  # the library's own
        "staking.exports.pdf.Grid": Table,
        "staking.exports.pdf_blocks.Grid": Table,
        "staking.exports.pdf_table.Grid": Table,
    }
)
_XSI = "http://www.w3.org/2001/XMLSchema-instance"
_HEADER = ("$INSUNITS", "$MEASUREMENT", "$LUNITS", "$LUPREC", "$PLIMMIN", "$PLIMMAX")

Writers = Mapping[str, Callable[[], bytes]]


def bare_make(site: Path, reference: Path, folder: Path) -> Callable[[], Callable[[], object]]:
    """Prepares a round: what it returns is to be called once and timed. Both write the files of `reference`.

    Raises AssertionError where a file comes out with other bytes than those of the reference.
    """
    layout = solve(read_site(site))
    findings = check(layout)
    made = Made(layout, findings, plan(layout))
    sheets = {"tape_and_string": made.tape_sheet, "checks": made.checks_sheet}
    lasting = dict(_literal_files(reference)) | {f"{name}.html": _page(sheet) for name, sheet in sheets.items()}
    lasting |= {
        each.name: partial(each.make, made) for each in EXPORTS if each.name == "plan.pdf"
    }  # its pages are kept
    manifest = json.loads((reference / "manifest.json").read_bytes())

    def prepare() -> Callable[[], object]:
        printed = {f"{name}.pdf": _print(sheet) for name, sheet in sheets.items()}
        return partial(_write, folder, lasting | printed, manifest)

    prepare()()
    for file in reference.iterdir():
        assert (folder / file.name).read_bytes() == file.read_bytes(), f"the bare script writes another {file.name}"
    return prepare


def _literal_files(reference: Path) -> Iterator[tuple[str, Callable[[], bytes]]]:
    for table in reference.glob("*.csv"):
        with table.open(encoding="utf-8", newline="") as file:
            yield table.name, partial(_csv, list(csv.reader(file)))
    yield "landxml.xml", partial(_xml, etree.fromstring((reference / "landxml.xml").read_bytes()))
    yield "layout.dxf", _dxf(reference / "layout.dxf")
    yield "layout.geojson", partial(_geojson, json.loads((reference / "layout.geojson").read_bytes()))
    yield "layout.json", partial(_json, json.loads((reference / "layout.json").read_bytes()))
    for picture in reference.glob("*.svg"):
        yield picture.name, partial(bytes, picture.read_bytes())  # text that no library makes


def _csv(rows: Sequence[Sequence[str]]) -> bytes:
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    return text.getvalue().encode("utf-8")


def _xml(known: Any) -> bytes:
    """The same elements made anew and written."""
    root = Element("LandXML", {"xmlns": known.tag[1:].partition("}")[0], "xmlns:xsi": _XSI})
    root.attrib.update({name.replace(f"{{{_XSI}}}", "xsi:"): value for name, value in known.attrib.items()})
    _grow(root, known)
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True)) + b"\n"


def _grow(root: Element, known: Any) -> None:
    root.text, root.tail = known.text, known.tail
    for child in known:
        _grow(SubElement(root, child.tag.partition("}")[2], dict(child.attrib)), child)


def _json(content: Mapping[str, Any]) -> bytes:
    return (json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def _geojson(content: Mapping[str, Any]) -> bytes:
    features: list[geojson.Feature | geojson.geometry.Geometry] = [
        geojson.Feature(geometry=_geometry(**feature["geometry"]), properties=feature["properties"])
        for feature in content["features"]
    ]
    collection = geojson.FeatureCollection(features, staking=content["staking"])
    return (geojson.dumps(collection, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def _geometry(*, type: str, coordinates: Any) -> Any:  # noqa: A002 - the format's own word
    return getattr(geojson, type)(coordinates, precision=DECIMALS)


def _dxf(path: Path) -> Callable[[], bytes]:
    """Writes the drawing anew from what is read once from the file."""
    known: Any = ezdxf.readfile(path)  # type: ignore[attr-defined]
    head = path.read_text(encoding="ascii").partition("  0\n")[0]
    literal = SimpleNamespace(
        head=head,
        version=known.dxfversion,
        header={name: known.header[name] for name in _HEADER},
        layers=[layer.dxfattribs(drop={"handle", "owner"}) for layer in known.layers],
        entities=[_entity(entity) for entity in known.modelspace()],
        space=_attributes(known.modelspace(), "extmin", "extmax", "limmin", "limmax"),
        paper=_attributes(known.layout("Layout1"), "limmin", "limmax"),
        view=_attributes(known.viewports.get("*Active")[0], "height", "center"),
    )
    return partial(_draw, literal)


def _attributes(of: Any, *names: str) -> dict[str, Any]:
    return {name: of.dxf.get(name) for name in names}


def _entity(entity: Any) -> tuple[str, dict[str, Any], list[Any]]:
    corners = list(entity.get_points("xyb")) if entity.dxftype() == "LWPOLYLINE" else []
    return entity.dxftype(), entity.dxfattribs(drop={"handle", "owner", "count"}), corners


def _draw(literal: SimpleNamespace) -> bytes:
    before, options.write_fixed_meta_data_for_testing = options.write_fixed_meta_data_for_testing, True
    try:
        return _drawn(literal)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _drawn(literal: SimpleNamespace) -> bytes:
    document: Any = ezdxf.new(literal.version, setup=False)  # type: ignore[attr-defined]
    for name, value in literal.header.items():
        document.header[name] = value
    for layer in literal.layers:
        if layer["name"] not in document.layers:
            document.layers.new(layer["name"], layer)
    space = document.modelspace()
    for kind, attributes, corners in literal.entities:
        entity = space.new_entity(kind, attributes)
        if corners:
            entity.set_points(corners, format="xyb")
    space.dxf.update(literal.space)
    document.layout("Layout1").dxf.update(literal.paper)
    document.set_modelspace_vport(**literal.view)
    text = io.StringIO()
    document.write(text)
    written: str = literal.head + text.getvalue()
    return written.encode("ascii")


def _page(sheet: Sheet) -> Callable[[], bytes]:
    """Fills in the template with values that are computed once."""
    given: dict[str, Any] = {}
    with patch.object(pages, "_template", lambda: SimpleNamespace(render=lambda **values: given.update(values) or "")):
        html(sheet)
    ours = pages._template().environment
    loader = PackageLoader("staking.exports", "templates")
    bare = Environment(loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    bare.filters["glued"] = _remembered(ours.filters["glued"])
    for name in sorted(ours.globals.keys() - bare.globals.keys()):
        bare.globals[name] = _remembered(ours.globals[name])
    template = bare.get_template("sheet.html")
    return lambda: template.render(**given).encode("utf-8")


def _remembered(call: Any) -> Callable[[Any], Any]:
    """A function that is computed once for every text and every other thing."""
    known: dict[Any, tuple[Any, Any]] = {}

    def answer(asked: Any) -> Any:
        key = asked if isinstance(asked, str) else id(asked)
        if key not in known:
            known[key] = asked, call(asked)  # what was asked is kept, so that nothing else can have its id
        return known[key][1]

    return answer


def _print(sheet: Sheet) -> Callable[[], bytes]:
    """Builds the pages from flowables that are ready."""
    parsed: list[Callable[[], object]] = []
    built: list[Callable[[], bytes]] = []

    class Kept(BaseDocTemplate):
        def build(self, *args: Any, **more: Any) -> None:
            def now() -> bytes:
                BaseDocTemplate.build(self, *args, **more)
                return bytes(self.filename.getvalue())

            built.append(now)

    with ExitStack() as stack:
        for name, flowable in _FLOWABLES.items():
            stack.enter_context(patch(name, _noted(flowable, parsed)))
        stack.enter_context(patch("staking.exports.pdf.BaseDocTemplate", Kept))
        pdf(sheet, "letter")

    def made() -> bytes:
        for make in parsed:
            make()
        return built[0]()

    return made


def _noted(flowable: Callable[..., object], parsed: list[Callable[[], object]]) -> Callable[..., object]:
    """Makes a flowable, and notes how it can be made once more."""

    def make(*args: Any, **more: Any) -> object:
        parsed.append(partial(flowable, *args, **more))
        return flowable(*args, **more)

    return make


def _write(folder: Path, writers: Writers, manifest: Mapping[str, Any]) -> None:
    """A new set of files beside the old one, then swapped in."""
    new, old = folder.with_name("bare-new"), folder.with_name("bare-old")
    new.mkdir()
    content = {name: make() for name, make in writers.items()}
    listed = {name: {"sha256": hashlib.sha256(made).hexdigest(), "size": len(made)} for name, made in content.items()}
    content["manifest.json"] = _json(dict(manifest) | {"files": dict(sorted(listed.items()))})
    for name, made in content.items():
        _flushed(new / name, made)
    _flush_folder(new)
    if folder.exists():
        folder.rename(old)
    new.rename(folder)
    _flush_folder(folder.parent)
    if old.exists():
        shutil.rmtree(old)


def _flushed(path: Path, made: bytes) -> None:
    with path.open("xb") as file:
        file.write(made)
        file.flush()
        os.fsync(file.fileno())


def _flush_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
