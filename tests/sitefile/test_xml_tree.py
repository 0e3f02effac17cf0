"""XML is read without opening anything else and without growing."""

from __future__ import annotations

import pytest

from staking.sitefile.xml_tree import DEEPEST, XmlError, parse_xml

KEPT = {"kept"}
LAUGHS = b"""<!DOCTYPE r [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><r>&b;</r>"""
OUTSIDE = b"""<?xml version="1.0"?>\n<!DOCTYPE r [<!ENTITY x SYSTEM "file:///etc/passwd">]><r><kept>&x;</kept></r>"""
BARE = b"<!DOCTYPE r><r/>"
EXTERNAL = b'<!DOCTYPE r SYSTEM "http://127.0.0.1/x.dtd"><r/>'


@pytest.mark.parametrize("data", [LAUGHS, OUTSIDE, BARE, EXTERNAL])
def test_doctype_is_refused(data: bytes) -> None:
    """Entities that multiply, that name another file, or an outer DTD are never looked at."""
    with pytest.raises(XmlError, match="DOCTYPE") as refused:
        parse_xml(data, KEPT)
    assert refused.value.line == data[: data.index(b"<!DOC")].count(b"\n") + 1


@pytest.mark.parametrize("data", [b"", b"no xml", b"<r>", b"<r>&x;</r>", b"<r a='1' a='2'/>", b"<r/><r/>", b"\x00\x01"])
def test_what_is_no_xml_is_refused(data: bytes) -> None:
    """A file that is cut short, empty, or no XML at all is refused in a sentence."""
    with pytest.raises(XmlError, match="not well-formed"):
        parse_xml(data, KEPT)


def test_an_unknown_encoding_is_refused() -> None:
    """An encoding nobody knows is named as the reason."""
    with pytest.raises(XmlError, match="encoding"):
        parse_xml(b'<?xml version="1.0" encoding="x-none"?><r/>', KEPT)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "iso-8859-1"])
def test_encodings_are_read(encoding: str) -> None:
    """Text comes out the same in each encoding that the head of the file names."""
    text = f'<?xml version="1.0" encoding="{encoding}"?><r><kept n="é">ö</kept></r>'
    root, _ = parse_xml(text.encode(encoding), KEPT)
    assert [(node.text, node.get("n")) for node in root.all("kept")] == [("ö", "é")]


def test_only_wanted_branches_are_kept() -> None:
    """Branches of other names and elements of other namespaces are left out with all they hold."""
    data = b'<r xmlns="a" xmlns:o="b"><kept>1<o:x><kept>2</kept></o:x></kept><other><kept>3</kept></other></r>'
    root, space = parse_xml(data, KEPT)
    assert space == "a"
    assert [(node.text, node.children) for node in root.within("kept")] == [("1", ())]


@pytest.mark.parametrize("name", [b"kept", b"other"])
def test_depth_is_limited(name: bytes) -> None:
    """Elements that stand too deep in one another are refused, kept or not."""
    data = b"<r>" + b"<%b>" % name * DEEPEST + b"</%b>" % name * DEEPEST + b"</r>"
    with pytest.raises(XmlError, match="deep"):
        parse_xml(data, KEPT)


def test_the_number_of_elements_is_limited(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that holds more elements than any job needs is refused."""
    monkeypatch.setattr("staking.sitefile.xml_tree.MOST", 10)
    with pytest.raises(XmlError, match="more than 10 elements"):
        parse_xml(b"<r>" + b"<kept/>" * 10 + b"</r>", KEPT)
