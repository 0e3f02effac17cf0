"""Can somebody begin with the starter?"""

from __future__ import annotations

from pathlib import Path

import pytest

from staking.errors import OutputError
from staking.layout.solve import solve
from staking.sitefile.reader import read_site
from staking.sitefile.starter import starter_site, write_starter


def test_the_starter_can_be_solved(tmp_path: Path) -> None:
    """The file is read and solved as it is, in a folder made for it."""
    layout = solve(read_site(write_starter(tmp_path / "new" / "job")))
    assert layout.site.declared.site.unit == "ft"


def test_an_existing_file_is_never_touched(tmp_path: Path) -> None:
    """A second start in the same folder is refused."""
    path = write_starter(tmp_path)
    path.write_text("mine")
    with pytest.raises(OutputError, match="is there already"):
        write_starter(tmp_path)
    assert path.read_text() == "mine"


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    """A link in the place of the file may lead anywhere."""
    (tmp_path / "site.toml").symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(OutputError):
        write_starter(tmp_path)
    assert not (tmp_path / "elsewhere.toml").exists()


@pytest.mark.parametrize("name", ["file", "file/under", "nul\x00"])
def test_no_folder_can_be_made_there(name: str, tmp_path: Path) -> None:
    """A file in the way, and a name that no folder can have."""
    (tmp_path / "file").touch()
    with pytest.raises(OutputError):
        write_starter(tmp_path / name)


def test_every_line_fits_the_screen() -> None:
    """No line is wider than 120 characters."""
    assert max(map(len, starter_site().splitlines())) <= 120
