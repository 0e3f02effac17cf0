"""Do the documents say what the program does, and leave nothing out?

Blocks of code are tried page by page, in the order in which they stand, in a folder with a copy of the sample sites:

    ```sh                 lines that begin with `staking ` are run; the ```text that follows is what they print,
                          a line ... in it standing for any lines
    ```text PATH          is written to that path
    ```toml PATH          is written to that path first; a block that holds [site], [slab] and [placement] is a site,
                          one that does not is what stands in a file that is there already
    ```diff PATH          changes that file: lines with - must stand in it once, lines with + take their place
    ```csv PATH           is what stands in that file
"""

from __future__ import annotations

import ast
import importlib
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner
from shown import matches

from staking import read_site, solve
from staking.app.cli import main
from staking.checks import CHECKS
from staking.drawing.layers import LAYERS, OF_LAYOUT
from staking.errors import TextError
from staking.exports import EXPORTS
from staking.exports.as_built import AS_BUILT
from staking.sitefile import complaints
from staking.sitefile.tables import RECORDS, keys_of
from staking.survey.angles import parse_direction
from staking.units import UNITS, parse_length

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = tuple(sorted(DOCS.rglob("*.md")))
TASKS = tuple(sorted(DOCS.glob("tasks/*.md")))
BLOCK = re.compile(r"^```(?P<words>[^\n`]*)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
FREE = ("points", "setbacks")  # tables whose keys are names that the writer chooses


def _name(page: Path) -> str:
    return str(page.relative_to(ROOT))


@dataclass(frozen=True)
class Block:
    """One fenced block: its language, the path behind it, and what stands in it."""

    language: str
    path: str
    text: str


def blocks(page: Path) -> list[Block]:
    """The fenced blocks of a page, in order."""
    found = [(each["words"].split(), each["text"]) for each in BLOCK.finditer(page.read_text(encoding="utf-8"))]
    return [Block((words or [""])[0], " ".join(words[1:]), text) for words, text in found]


def reference(name: str) -> str:
    """A page of the reference."""
    return (DOCS / "reference" / name).read_text(encoding="utf-8")


def chapter(page: str, heading: str) -> str:
    """What stands below a heading, up to the next one of any level."""
    _, _, rest = page.partition(f"\n{heading}\n")
    return re.split(r"^#+ ", rest, maxsplit=1, flags=re.MULTILINE)[0].strip()


# --- nothing is left out -------------------------------------------------------------------------------------------


def test_the_generated_pages_are_fresh() -> None:
    """The pages of the reference are what their generator would write now."""
    done = subprocess.run(
        [sys.executable, "docs/reference/generate.py", "--check"],
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.stderr, done.returncode) == ("", 0)


@pytest.mark.parametrize("verb", sorted(main.commands))
def test_every_verb_has_its_chapter_and_its_use(verb: str) -> None:
    """A verb is in the reference, and a lesson or task page shows it at work."""
    assert chapter(reference("command_line.md"), f"## `staking {verb}`")
    shown = [page for page in (DOCS / "first_site.md", *TASKS) if f"staking {verb}" in page.read_text(encoding="utf-8")]
    assert shown


def _declared_keys() -> Iterator[tuple[str, str, str]]:
    for name, kinds in RECORDS.items():
        for kind, record in kinds.items():
            yield from ((name, kind, key) for key in keys_of(record) if name)


@pytest.mark.parametrize(("table", "kind", "key"), sorted(_declared_keys()))
def test_every_key_of_the_site_file_has_its_line(table: str, kind: str, key: str) -> None:
    """A key has a line in the chapter of its table and kind, and the line says what it means."""
    page = reference("site_file.md")
    titles = {f"## `[{table}]`", f"## `[[{table}]]`"}
    start = next(page.index(title) for title in titles if title in page)
    rows = re.findall(rf"^\| `{key}` \|(.*)\|$", page[start:], re.MULTILINE)
    assert rows, f"{table} {kind} {key}"
    assert rows[0].split("|")[-1].strip()


@pytest.mark.parametrize(
    "kind", sorted({kind for name, kinds in RECORDS.items() if name != "keep_clear" for kind in kinds})
)
def test_every_kind_is_shown_in_a_task(kind: str) -> None:
    """A page of the tasks shows how a kind is asked for."""
    shown = "".join(block.text for page in TASKS for block in blocks(page))
    assert not kind or f'kind = "{kind}"' in shown


def _raised_codes() -> Iterator[str]:
    """Every code that a finding or error is made with anywhere in the program."""
    for path in sorted((ROOT / "staking").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            match node:
                case ast.Call(func=ast.Name(id="Finding" | "mistake"), args=[ast.Constant(value=str(code)), *_]):
                    yield code
                case ast.Call(func=ast.Attribute(attr="_said"), args=[ast.Constant(value=str(code)), *_]):
                    yield code
                case ast.keyword(arg="code", value=ast.Constant(value=str(code))):
                    yield code
                case ast.arg(arg="code"):
                    yield "cannot-solve"


CODES = sorted({*_raised_codes(), *complaints._CODES.values(), *(code for check in CHECKS for code in check.codes)})


def test_the_codes_are_found_in_the_program() -> None:
    """The list of codes that the next test goes through holds those of checks, reader and solver."""
    assert {"setback-crossed", "unknown-key", "bad-length", "open-placement", "cannot-solve"} <= set(CODES)


@pytest.mark.parametrize("code", CODES)
def test_every_code_has_its_paragraph(code: str) -> None:
    """A code stands in the findings with a severity and a sentence."""
    words = chapter(reference("findings.md"), f"### {code}")
    assert re.match(r"\*(note|warning|strong warning|stop)[^*]*\.\* \S", words)


def test_the_findings_describe_no_code_that_is_gone() -> None:
    """Every code in the findings is one that the program can say."""
    assert sorted(re.findall(r"^### (.+)$", reference("findings.md"), re.MULTILINE)) == CODES


@pytest.mark.parametrize("name", [*(each.name for each in EXPORTS), *(each.name for each in AS_BUILT), "manifest.json"])
def test_every_file_has_its_chapter(name: str) -> None:
    """A file that is written has a line in the table of files and a chapter of its own."""
    page = reference("files.md")
    assert f"| `{name}` |" in page
    assert chapter(page, f"## `{name}`")


@pytest.mark.parametrize("name", sorted(OF_LAYOUT))
def test_every_layer_has_its_line(name: str) -> None:
    """A layer of the drawing stands in the table of layers with what it holds."""
    assert f"| `{name}` | {LAYERS[name].words} |" in reference("files.md")


def _links() -> Iterator[tuple[Path, str]]:
    for page in PAGES:
        text = BLOCK.sub("", page.read_text(encoding="utf-8"))
        yield from ((page, target) for target in LINK.findall(text))


def _anchors(page: Path) -> set[str]:
    heads = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_every_link_leads_somewhere(page: Path) -> None:
    """A relative link names a file that is there, and a heading in it where it names one."""
    for target in [target for origin, target in _links() if origin == page and "://" not in target]:
        path, _, anchor = target.partition("#")
        there = (page.parent / path).resolve() if path else page
        assert there.exists(), target
        assert not anchor or anchor in _anchors(there), target


def _formulas() -> list[tuple[str, str]]:
    text = (DOCS / "formulas.md").read_text(encoding="utf-8")
    return re.findall(r"\| `(staking\.[\w.]+)` \| `(tests/[\w/]+\.py::\w+)` \|$", text, re.MULTILINE)


@pytest.mark.parametrize(("code", "test"), _formulas())
def test_every_formula_names_code_and_test_that_are_there(code: str, test: str) -> None:
    """A line of the formulas leads to something in the program, and to a test of that name."""
    module, _, name = code.rpartition(".")
    assert hasattr(importlib.import_module(module), name)
    path, _, function = test.partition("::")
    assert f"def {function}(" in (ROOT / path).read_text(encoding="utf-8")


def test_every_line_of_the_formulas_is_tried() -> None:
    """No line of the table escapes the test before this one."""
    lines = re.findall(r"^\| (?!what \||---)", (DOCS / "formulas.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert len(_formulas()) == len(lines) > 20


# packages of formulas; what stands above them uses theirs
FORMULAS = ("survey", "layout", "field")


def test_every_formula_with_a_source_has_its_line() -> None:
    """A public function or class that names where its formula is printed stands in the table of formulas too."""
    told = {code for code, _ in _formulas()}
    missing = []
    for path in (path for package in FORMULAS for path in sorted((ROOT / "staking" / package).glob("*.py"))):
        for made in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(made, ast.FunctionDef | ast.ClassDef) and "Source:" in (ast.get_docstring(made) or ""):
                code = f"staking.{path.parent.name}.{path.stem}.{made.name}"
                missing += [code] * (not made.name.startswith("_") and code not in told)
    assert missing == []


# --- everything that is shown is what happens ----------------------------------------------------------------------


def test_every_page_is_reached_from_another() -> None:
    """A task or chapter that no other page leads to would not be found."""
    reached = {(page.parent / target.partition("#")[0]).resolve() for page, target in _links()}
    assert set(PAGES) - reached - {DOCS / "index.md"} == set()


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_what_a_page_shows_is_what_happens(page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Files are written and changed as the page says, its commands are run, and they print what it shows."""
    shutil.copytree(ROOT / "sample_sites", tmp_path / "sample_sites")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    printed = ""
    for block in blocks(page):
        printed = follow(block, printed)


def follow(block: Block, printed: str) -> str:
    """Do what a block says; what was printed by it, or what is still to be compared."""
    path = Path(block.path)
    match block.language:
        case "sh" if block.text.startswith("staking "):
            return run(block.text)
        case "text" if block.path:
            path.write_text(block.text, encoding="utf-8")
        case "text" if printed:
            assert matches(block.text, printed), f"expected\n{block.text}\nprinted\n{printed}"
        case "toml":
            read(block)
        case "diff" if block.path:
            path.write_text(changed(path.read_text(encoding="utf-8"), block.text), encoding="utf-8")
        case "csv":
            assert block.text.replace("\r", "") in path.read_text(encoding="utf-8")
    return ""


def run(commands: str) -> str:
    """What the commands print; a command that breaks down raises its error."""
    printed = ""
    for line in commands.replace("\\\n", " ").splitlines():
        program, *words = shlex.split(line, comments=True)
        assert program == "staking"
        result = CliRunner().invoke(main, words, prog_name="staking")
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        assert result.exit_code == status(words[0], result.output)
        printed += result.output
    return printed


def status(verb: str, printed: str) -> int:
    """The exit status that goes with what a verb printed."""
    if "nothing was written" in printed or ("Usage: " in printed and "Error: " in printed):
        return 2
    if verb == "levels" and re.search(r"^strong warning: |, OUT; |marks? out[:;]", printed, re.MULTILINE):
        return 1
    if verb in ("lot", "points", "levels", "tape"):
        return 1 if ": stop: " in printed or ": strong warning: " in printed else 0
    if verb == "changes":
        return 0 if "nothing that stands on the ground changed" in printed else 1
    if verb == "compare":
        return 1 if re.search(r"^OUT ", printed, re.MULTILINE) else 0
    return 1 if "stake files withheld" in printed or "stop: stake files would be" in printed else 0


def read(block: Block) -> None:
    """Parse a TOML block; a whole site file is written where the page says, read and solved."""
    data = tomllib.loads(block.text)
    path = Path(block.path or "as_shown/site.toml")
    if {"site", "slab", "placement"} <= set(data):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(block.text, encoding="utf-8")
        if block.path:
            return  # the page runs it, and it may be meant to be wrong
        solve(read_site(path))
    else:
        assert not block.path or block.text in path.read_text(encoding="utf-8")
        check_keys(data)


def check_keys(data: dict[str, object]) -> None:
    """Every table and key of a piece of a site file is known."""
    for name, value in data.items():
        assert name in (*RECORDS, *FREE), name
        for entry in value if isinstance(value, list) else [value]:
            known = {key for record in RECORDS.get(name, {}).values() for key in keys_of(record)}
            assert name in FREE or (isinstance(entry, dict) and set(entry) <= known), f"{name}: {entry}"


def changed(text: str, change: str) -> str:
    """The text with the lines marked - taken out and the lines marked + in their place."""
    old = [line[1:] for line in change.splitlines() if line.startswith("-")]
    new = [line[1:] for line in change.splitlines() if line.startswith("+")]
    before = "".join(f"{line}\n" for line in old)
    assert text.count(before) == 1, before
    return text.replace(before, "".join(f"{line}\n" for line in new))


SPELLINGS = DOCS / "tasks" / "lengths_and_bearings.md"


def rows(heading: str) -> list[tuple[str, str]]:
    """What is written, and what is said of it, in the table below a heading."""
    found = re.findall(r"^\| `(.*)` \| (.*) \|$", chapter(SPELLINGS.read_text(encoding="utf-8"), heading), re.MULTILINE)
    return [(written, said) for written, said in found]


@pytest.mark.parametrize(("written", "said"), rows("## Lengths that are read"))
def test_a_length_is_read_as_the_page_says(written: str, said: str) -> None:
    """A length of the table, on a site in feet, has the value beside it."""
    feet = float(parse_length(written, UNITS["ft"]) / UNITS["ft"].metres)
    assert f"{feet:.4f} ft" == said


@pytest.mark.parametrize(("written", "said"), rows("## Bearings and azimuths that are read"))
def test_a_bearing_is_read_as_the_page_says(written: str, said: str) -> None:
    """A bearing of the table has the azimuth beside it."""
    assert f"{parse_direction(written):.4f}°" == said


@pytest.mark.parametrize(("written", "said"), rows("## Lengths that are refused"))
def test_a_length_is_refused_for_the_reason_on_the_page(written: str, said: str) -> None:
    """A length of the table is refused, and the reason is the one beside it."""
    with pytest.raises(TextError) as refused:
        parse_length(written, UNITS["ft"])
    assert refused.value.message.endswith(f": {said}")


@pytest.mark.parametrize(("written", "said"), rows("## Bearings that are refused"))
def test_a_bearing_is_refused_for_the_reason_on_the_page(written: str, said: str) -> None:
    """A bearing of the table is refused, and the reason is the one beside it."""
    with pytest.raises(TextError) as refused:
        parse_direction(written)
    assert refused.value.message.endswith(f": {said}")


def test_every_spelling_is_tried() -> None:
    """No line of the four tables escapes the tests before this one."""
    lines = re.findall(r"^\| (?!written|---)", SPELLINGS.read_text(encoding="utf-8"), re.MULTILINE)
    heads = ["Lengths that are read", "Lengths that are refused"]
    heads += ["Bearings and azimuths that are read", "Bearings that are refused"]
    assert sum(len(rows(f"## {head}")) for head in heads) == len(lines) > 60
