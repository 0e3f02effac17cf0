"""What stands in an XML file, read so that no file can make the reader open another one, or grow?

DOCTYPE is refused before anything in it is read: without it there are no entities, so nothing is opened and nothing
multiplies. Depth and number of elements are limited; the caller limits the bytes. Only branches asked for are kept.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

DEEPEST = 64  # elements within one another; files of the trade have fewer than 20
MOST = 1_000_000  # elements that are kept; a hundred thousand points need a tenth

_WHY = "a file of points and parcels needs none"


class XmlError(ValueError):
    """A file that is no XML, or XML that is not read here; `line` counts from 1, `remedy` says what to do."""

    def __init__(self, line: int, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.line = line
        self.message = message
        self.remedy = remedy


@dataclass(frozen=True, slots=True)
class Node:
    """An element: its name without the namespace, where it stands, and what it holds."""

    tag: str
    line: int
    attributes: Mapping[str, str]
    text: str = ""
    children: tuple[Node, ...] = ()

    def get(self, name: str) -> str:
        """An attribute without blanks around it; empty where there is none."""
        return self.attributes.get(name, "").strip()

    def first(self, tag: str) -> Node | None:
        """The first child of a name."""
        return next(self.all(tag), None)

    def all(self, *tags: str) -> Iterator[Node]:
        """The children of these names, in order."""
        return (child for child in self.children if child.tag in tags)

    def within(self, tag: str) -> Iterator[Node]:
        """Every element of a name at any depth, in the order of the file."""
        for child in self.children:
            if child.tag == tag:
                yield child
            yield from child.within(tag)


@dataclass(slots=True)
class _Open:
    """An element whose end has not come yet."""

    tag: str
    line: int
    attributes: Mapping[str, str]
    text: list[str] = field(default_factory=list)
    children: list[Node] = field(default_factory=list)

    def closed(self) -> Node:
        return Node(self.tag, self.line, self.attributes, "".join(self.text).strip(), tuple(self.children))


def parse_xml(data: bytes, kept: Collection[str]) -> tuple[Node, str]:
    """The root with those of its branches whose names are kept, and its namespace.

    Elements of other namespaces are left out with all they hold. Raises XmlError with a line.
    """
    return _Parsing(kept).parse(data)


class _Parsing:
    """One run through one file."""

    def __init__(self, kept: Collection[str]) -> None:
        self.kept = kept
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.text
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.EntityDeclHandler = self.doctype
        self.open: list[_Open] = []
        self.root: Node | None = None
        self.space = ""
        self.passed = 0  # depth inside a branch that is not kept
        self.count = 0

    def parse(self, data: bytes) -> tuple[Node, str]:
        try:
            self.parser.Parse(data, True)
        except expat.ExpatError as error:
            words = expat.ErrorString(error.code)
            raise XmlError(
                error.lineno, f"the file is not well-formed XML: {words}", "export it again; it may be cut short"
            ) from None
        except LookupError:
            raise XmlError(1, "the file is in an encoding that is not known here", "export it again as UTF-8") from None
        if self.root is None:
            raise XmlError(1, "the file holds no element")
        return self.root, self.space

    def doctype(self, *_: object) -> None:
        raise XmlError(
            self.parser.CurrentLineNumber, f"the file has a DOCTYPE, which could reach beyond it; {_WHY}", "delete it"
        )

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if len(self.open) + self.passed >= DEEPEST:
            raise XmlError(self.parser.CurrentLineNumber, f"elements stand more than {DEEPEST} deep in one another")
        space, _, tag = name.rpartition(" ")
        if not self.open:
            self.space = space
        elif self.passed or space != self.space or (len(self.open) == 1 and tag not in self.kept):
            self.passed += 1
            return
        self.count += 1
        if self.count > MOST:
            raise XmlError(self.parser.CurrentLineNumber, f"the file holds more than {MOST} elements")
        self.open.append(_Open(tag, self.parser.CurrentLineNumber, dict(attributes)))

    def end(self, _: str) -> None:
        if self.passed:
            self.passed -= 1
            return
        node = self.open.pop().closed()
        if self.open:
            self.open[-1].children.append(node)
        else:
            self.root = node

    def text(self, text: str) -> None:
        if self.open and not self.passed:
            self.open[-1].text.append(text)
