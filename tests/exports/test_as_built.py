"""Which files a comparison makes, and that no folder loses anybody's file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pypdfium2
import pytest
from making import SAMPLES
from measuring import HOW, as_designed, off
from reported import measured

from staking import Layout, check, compare, export, read_site, solve
from staking.errors import OutputError
from staking.exports import Options
from staking.exports.as_built import AS_BUILT, export_comparison
from staking.field.design_points import design_points


def test_every_file_is_written_or_none(oregon: Layout, tmp_path: Path) -> None:
    """The list is what is in the folder, with a manifest that says what was held against what."""
    written = export_comparison(measured(oregon), tmp_path / "out")
    assert written.files == tuple(each.name for each in AS_BUILT)
    assert {path.name for path in (tmp_path / "out").iterdir()} == {*written.files, "manifest.json"}
    manifest = json.loads((tmp_path / "out" / "manifest.json").read_text("utf-8"))
    assert manifest["verb"] == "compare"
    assert manifest["measured_file"] == {"name": "as_set.csv", "sha256": "3fa9" * 16}
    assert manifest["site_file"]["sha256"] == oregon.site.fingerprint
    assert manifest["verdict"][-1]["answer"] == "out"


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_every_sample_has_its_report(folder: Path, tmp_path: Path) -> None:
    """Grids, arcs, parts, heights and metres: every point measured, each a little off, and every file is made."""
    layout = solve(read_site(folder / "site.toml"))
    names = [each.name for each in design_points(layout)]
    points = [off(each, 0.002, -0.003, 0.001) for each in as_designed(layout, *names)]
    written = export_comparison(compare(layout, points, HOW), tmp_path / "out")
    assert len(written.files) >= len(AS_BUILT) - 1


def test_a_local_site_has_no_map(local: Layout, tmp_path: Path) -> None:
    """Without a place on the earth there is no GeoJSON, and everything else."""
    written = export_comparison(measured(local), tmp_path / "out")
    assert set(written.files) == {each.name for each in AS_BUILT if not each.positioned}


def test_the_same_comparison_gives_the_same_bytes(oregon: Layout, tmp_path: Path) -> None:
    """Two runs into two folders are equal, file by file."""
    for name in ("a", "b"):
        export_comparison(measured(oregon), tmp_path / name)
    files = [{path.name: path.read_bytes() for path in (tmp_path / name).iterdir()} for name in ("a", "b")]
    assert files[0] == files[1]


def test_a_report_does_not_take_away_the_files_of_a_job(local: Layout, tmp_path: Path) -> None:
    """A folder of `make` is refused with a folder to name instead, and nothing in it is touched."""
    export(local, check(local), tmp_path / "out")
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    with pytest.raises(OutputError) as refused:
        export_comparison(measured(local), tmp_path / "out")
    assert "holds what `staking make` wrote, and `staking compare` would take it away" in refused.value.message
    assert refused.value.remedy == f"name a folder of its own, for example {tmp_path / 'out' / 'compare'}"
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before


def test_a_job_does_not_take_away_a_report(local: Layout, tmp_path: Path) -> None:
    """The other way round too; but a report inside the folder of the job lives with it."""
    export_comparison(measured(local), tmp_path / "report")
    with pytest.raises(OutputError, match="holds what `staking compare` wrote"):
        export(local, check(local), tmp_path / "report")
    export(local, check(local), tmp_path / "out")
    export_comparison(measured(local), tmp_path / "out" / "as_built")
    export(local, check(local), tmp_path / "out")
    assert (tmp_path / "out" / "as_built" / "as_built.pdf").exists()


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_report_prints_on_either_paper(local: Layout, tmp_path: Path, paper: Any) -> None:
    """Verdict, cautions and signatures are on it, as text that can be searched."""
    export_comparison(measured(local), tmp_path / paper, options=Options(paper=paper))
    pages = pypdfium2.PdfDocument(tmp_path / paper / "as_built.pdf")
    text = "".join(page.get_textpage().get_text_range() for page in pages)
    assert 2 <= len(pages) <= 6
    for words in (
        "OUT by 1 in at",
        "settle it before concrete",
        "Cautions",
        "Inspector: seen",
        "not a boundary survey",
    ):
        assert words in text


def test_the_page_for_a_telephone_needs_nothing_else(local: Layout, tmp_path: Path) -> None:
    """One file, well-formed, no address of anywhere."""
    export_comparison(measured(local), tmp_path / "out")
    page = (tmp_path / "out" / "as_built.html").read_text("utf-8")
    ElementTree.fromstring(page.replace("<!DOCTYPE html>", ""))  # noqa: S314 - our own text
    assert "http" not in page.replace("http://www.w3.org", "").replace("http-equiv", "")
    assert '<section class="verdict">' in page
