"""What a sheet is made of, whatever it is printed on: a head, and blocks one below the other."""

from __future__ import annotations

from dataclasses import dataclass, field

from staking.drawing.marks import Drawing


@dataclass(frozen=True, slots=True)
class Heading:
    """The title of a part of the sheet."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; strong: in bold."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Bullets:
    """Short points, one below the other."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under a head. An empty cell in a column of `to_fill` is printed as a box to write into.

    widths: relative widths of the columns; right: numbers of the columns set flush right, from 0.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()
    right: frozenset[int] = frozenset()
    to_fill: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with a caption. height: of the picture on letter paper [points]."""

    drawing: Drawing
    caption: str = ""
    height: float = 165.0


@dataclass(frozen=True, slots=True)
class Step:
    """One thing the crew does: number and title, what to do, figures in a table, and its own small picture.

    It is kept together on one page where it fits. A box to tick stands beside the title.
    """

    number: int
    title: str
    text: tuple[str, ...]
    table: Table | None = None
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer in large words, in a frame, with the sentences behind it, each after a word that sums it up."""

    text: str
    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Cautions:
    """Safety and law, in a frame that a copier cannot lose."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Signatures:
    """Lines to sign: who (for example "Set by"), each with room for name and date."""

    roles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class QrCode:
    """A text as a QR code, with words that say what it holds. size: of its side on paper [points]."""

    text: str
    caption: str
    size: float = 150.0


Block = Heading | Paragraph | Bullets | Table | Picture | QrCode | Step | Verdict | Cautions | Signatures


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet. facts: label and value pairs of the head (job, lot, revision, ...); foot: on every page."""

    title: str
    facts: tuple[tuple[str, str], ...]
    blocks: tuple[Block, ...]
    foot: str
    warning: str = ""  # printed large at the top of every page (for example a stop that was overruled)
    language: str = field(default="en")
