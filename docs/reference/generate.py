"""What do the reference pages say? They are made from the program itself, so that they cannot tell anything else.

python docs/reference/generate.py            write the pages
python docs/reference/generate.py --check    status 1 where a page is not what it would be
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType

from page_of_commands import commands_page
from page_of_files import files_page
from page_of_findings import findings_page
from page_of_site_file import site_file_page

FOLDER = Path(__file__).parent
MADE = "<!-- Made by generate.py in this folder: change the program, not this page. -->"

PAGES: Mapping[str, Callable[[], str]] = MappingProxyType(
    {
        "site_file.md": site_file_page,
        "findings.md": findings_page,
        "command_line.md": commands_page,
        "files.md": files_page,
    }
)


def pages() -> dict[str, str]:
    """Every page by its file name, ending in one line end."""
    return {name: f"{MADE}\n\n{make().rstrip()}\n" for name, make in PAGES.items()}


def stale() -> tuple[str, ...]:
    """The pages that are not there, or not what they would be if they were made now."""
    return tuple(name for name, text in pages().items() if _written(FOLDER / name) != text)


def _written(path: Path) -> str:
    return path.read_text(encoding="utf-8") if path.is_file() else ""


def write() -> None:
    """Write every page."""
    for name, text in pages().items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")


def main(words: list[str]) -> int:
    """Write, or with --check only compare; 0 where all is well."""
    if words not in ([], ["--check"]):
        sys.stderr.write(f"{__doc__}\n")
        return 2
    if not words:
        write()
        return 0
    late = stale()
    for name in late:
        sys.stderr.write(f"docs/reference/{name} is stale: run python docs/reference/generate.py\n")
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
