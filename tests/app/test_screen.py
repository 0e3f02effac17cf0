"""Is every figure of a layout readable, however narrow the terminal?"""

from __future__ import annotations

import re

import pytest
from making import PLACED_RECTANGLE, SAMPLES, layout_of, sample

from staking.app.screen import show_layout
from staking.layout.computed import Layout


def shown(layout: Layout, columns: int, capsys: pytest.CaptureFixture[str], patch: pytest.MonkeyPatch) -> str:
    """What is printed on a terminal of so many columns."""
    patch.setenv("COLUMNS", str(columns))
    show_layout(layout)
    return capsys.readouterr().out


def words(text: str) -> set[str]:
    """Everything between blanks and the bars of tables."""
    return set(re.sub("[│┃━─┏┓┗┛┡┩└┘┳╇┴]", " ", text).split())


@pytest.mark.parametrize("columns", [20, 40, 50, 60, 72])
@pytest.mark.parametrize("name", [folder.name for folder in SAMPLES])
def test_no_figure_is_cropped(
    name: str, columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every word and figure of the widest screen stands whole on a narrow one, whatever is wrapped or stacked."""
    layout = sample(name)
    wide = shown(layout, 300, capsys, monkeypatch)
    narrow = shown(layout, columns, capsys, monkeypatch)
    assert "…" not in narrow
    # a stacked line may end in the comma that stands for the end of a line in a cell
    assert words(wide) - {word.rstrip(",") for word in words(narrow)} - words(narrow) == set()


@pytest.mark.parametrize("columns", [50, 60, 72, 80])
def test_a_table_is_never_wider_than_the_screen(
    columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Bars that the terminal breaks would make the table unreadable."""
    printed = shown(sample("ell_house_on_grid"), columns, capsys, monkeypatch)
    assert max(len(line) for line in printed.splitlines() if line[0] in "│┃┏") <= columns


def test_a_table_without_room_is_stacked(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Each entry below the other, the name of the column before each figure."""
    printed = shown(sample("ell_house_on_grid"), 40, capsys, monkeypatch)
    assert "- name  101\n  north 21036439.5273\n  east  1640209.1170\n  kind  corner\n" in printed


def test_what_people_wrote_is_printed_as_they_wrote_it(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Square brackets in a name are no style."""
    text = PLACED_RECTANGLE.replace('"right"', '"east [bold]"').replace("right =", '"east [bold]" =')
    assert "lot east [bold]" in shown(layout_of(text), 120, capsys, monkeypatch)
