"""Which words of a description mean something, and which are passed over without harm?"""

from __future__ import annotations

import re

from staking.sitefile.descriptions.items import Item

FILLERS: tuple[str, ...] = (
    "more or less",
    r"the following (?:\w+ )?(?:\(\d+\) )?(?:courses|calls)(?: and distances)?",
    "end of (?:the |said )?curve",
    "leaving (?:the |said )curve",
    "point of (?:tangency|tangent)",
    # the size of what marks a corner
    r"\d+(?:[ -]\d+/\d+|/\d+|\.\d+)?[ -]?(?:\"|''|inch(?:es)?|in\.?)"
    r"(?= (?:\w+ ){0,2}(?:iron|steel|rebar|rod|pipe|pin|bar|cap))",
    # joints of a sentence
    "a|an|and|as|at|be|being|by|is|it|its|of|or|the|this|to|which|that|thereof|therein|herein|same|for|with|from|on|in",
    "also|are|was|having|has|said|through|along|whose|where|follows|following|continuing|continue|continued|running",
    "true|grid|only|proceeding|leaving|thereon|thereto|about|approximately|subtended|subtending|formed|to-wit",
    # measuring
    "distances?|lengths?|equals?|equaling|measuring|courses?|bears?|bearing|dist",
    # corners, and what marks them
    "points?|corners?|irons?|pins?|pipes?|rods?|bars?|rebars?|stakes?|stones?|monuments?|marker|nails?|spike|bolt",
    "cap|capped|plastic|aluminum|aluminium|brass|steel|concrete|hub|tack|disk|disc|axle|post|set|found|placed|marked",
    "diameter|dia|galvanized|old|new",
    # what descriptions call themselves
    "described|description|particularly|bounded|metes|bounds",
    # curves
    "circular|simple|circle|line|curved|concaved",
)
"""What names no direction, no distance and no neighbour; each is a pattern in small letters."""

_KIND_OF_CURVE = (
    r"(?:(?:a|an|the|said|that|tangent|tangential|non-? ?tangent(?:ial)?|circular|simple|compound|reverse|certain) )*"
)
_SIDE = r"(?:north|south)?(?:east|west|north|south)(?:erly|ern|ward)?"
_NO_STREET = r"(?! ?-? ?of ?-? ?way| angle| line| bank| hand side of)"

PHRASES: tuple[tuple[str, str, str], ...] = (
    # kind, value ("" for the words themselves), pattern; the first that fits counts
    ("except", "", r"less (?:and|&|,) ?except|sav(?:e|ing) (?:and|&) except\w*|except(?:ing)?|excluding"),
    ("except", "", r"less (?:the|that|a|any)"),
    ("witness", "", r"basis of (?:the )?bearings?|bearings (?:are |is )?based|together with|subject to"),
    ("witness", "", r"(?:from|to) (?:which|whence)(?! [^;]{0,50}(?:radi|cent))|whence"),
    ("curve_ahead", "", rf"(?:point of )?(?:beginning|start) of {_KIND_OF_CURVE}(?:curve|curvature)"),
    ("curve_ahead", "", r"point of (?:non-? ?tangent |reverse |compound )?(?:curve|curvature)|p\.?c\.?(?= )"),
    ("curve_ahead", "", rf"to (?=a ){_KIND_OF_CURVE}curve"),
    (
        "beginning",
        "",
        r"(?:point|place|corner) (?:and place |or place )?of (?:true |the |actual )?(?:beginning|starting|start)",
    ),
    (
        "beginning",
        "",
        r"p\.? ?o\.? ?b\.?|to (?:the )?(?:beginning|start)(?! of| at)|first (?:mentioned |named )?(?:corner|station)",
    ),
    ("beginning", "", r"(?:beginning|starting) (?:corner|point)|place begun"),
    ("commencement", "", r"(?:point|place) of commencement|p\.? ?o\.? ?c\.?(?= )"),
    ("commence", "", r"commenc(?:e|es|ing)|starting reference|(?:from )?(?:the )?tie corner|tie(?= ?:)"),
    ("from", "", r"from (?:the|a|an)"),
    ("begin", "", r"(?:beginning|begins?|starting|starts?)(?: again)?(?: at| on| for)?"),
    (
        "strong",
        "",
        r"thence(?: (?:running|run|runs|go|goes|proceed|proceeding|continuing|continue))*|then|thense|thance",
    ),
    ("weak", "", r"running|runs|run|go|goes|proceed(?:ing)?"),
    ("degree_of_curve", "", r"degree of (?:the )?(?:curve|curvature)"),
    ("untangent", "", r"(?:non|not)-? ?(?:being )?(?:a )?tangent(?:ial)?"),
    ("tangent_length", "", r"tangent (?:length|distance)|tangent(?= (?:of|=|:) ?[\d.])|tangent(?= \d)|t(?= ?=)"),
    ("line_ahead", "", r"tangent line|line tangent|to (?:a )?tangent(?= ?[;.])"),
    ("tangent", "", r"tangent to (?:the |said )(?:last |preceding )?(?:mentioned |described )?(?:curve|course|line)"),
    ("tangent", "", r"tangent(?:ial(?:ly)?)?"),
    ("reverse", "", r"reverse(?= curve| circular)"),
    ("compound", "", r"compound(?= curve| circular)"),
    ("radial", "from centre", r"(?:to|through) (?:which|said) (?:point |beginning )?a radial(?: line| bearing)?"),
    (
        "radial",
        "from centre",
        r"radial(?: line| bearing)? (?:to|through) (?:which|said|the|that)(?: (?:beginning|point))?",
    ),
    (
        "radial",
        "to centre",
        r"(?:the )?(?:radius point|radius cent(?:er|re))(?: of (?:which|said curve|the curve))?"
        r"|(?:the )?cent(?:er|re)(?: point)? of (?:which|(?:said|the) (?:curve|circle))|whose cent(?:er|re)",
    ),
    ("radial", "", r"radial(?:ly)?(?: line| bearing)?"),
    ("chord", "", r"(?:long )?chord|ch(?:d|rd)?\.?(?= ?[=:])|c\.?b\.?(?= ?[=:])|l\.?c\.?(?= ?[=:])"),
    ("delta", "", r"(?:central|delta) angle|delta|δ|∆|through an angle|i(?= ?=)"),
    ("curve", "", r"(?:arc|length) of (?=a |an |the |said |that )(?:\w+ ){0,3}?(?:curve|circle)"),
    ("curve", "", r"(?:along|on|with|following|by|upon) (?:the |said |an |its )*arc(?! length| distance)"),
    ("arc", "", r"arc(?: length| distance)?|length of (?:the |said )?arc|curve length|[al](?= ?=)"),
    ("radius", "", r"radius|rad\.?(?= ?[=:])|r(?= ?[=:])"),
    ("curve", "", r"(?:along|on|with|by|upon) (?:the |said |a )+arc of(?= (?:a|an|the|said|that) )"),
    ("curve", "", r"curv(?:e|es|ing|ature)|arcing"),
    (
        "concave",
        "",
        rf"conca(?:ve|ved)(?: to(?:ward|wards)?)?(?: the)? (?:left|right|{_SIDE})",
    ),
    (
        "deflection",
        "",
        r"deflect(?:ing|ion)?(?: angle)?|(?:interior|exterior|included) angle|turn(?:ing)? an? (?:\w+ )?angle",
    ),
    ("deflection", "", r"(?:at|by) (?:an|right) angles?|right angles?|perpendicular(?:ly)?|parallel|turning"),
    ("turn", "left", r"counter-?clockwise|anti-?clockwise|(?:to (?:the |my )?)?left(?: hand)?"),
    ("turn", "right", rf"clockwise|(?:to (?:the |my )?)?right(?: hand)?{_NO_STREET}"),
    ("heading", "", r"(?:(?:north|south)(?:east|west)?|east|west)(?:erly|wardly|ward)"),
    ("azimuth_word", "", r"(?:true |grid )?azimuth(?:al)?|az\.?(?= ?[=:\d])"),
    ("cardinal", "", r"north|south|east|west|[nsew](?![.,]?\d)(?:\.(?= ))?"),
    ("magnetic", "", r"magnetic(?:ally)?|declination|variation"),
    (
        "holding",
        "",
        r"contain(?:s|ing)?|(?:said )?to (?:hold|contain)|(?:an )?area(?: of)?|compris(?:es|ing)|embracing|holding",
    ),
    ("for", "", r"(?:for )?(?:a )?distance of|for"),
    ("bears", "", r"(?:which |that )?(?:bears|bearing|bear)"),
)
"""Every phrase that means something to the reader."""

PARCEL = re.compile(
    r"(?:^|\n)\s*(?P<kind>parcel|tract)\s*(?:no\.?\s*|number\s*)?(?P<which>\d+|[ivx]+|[a-c]|one|two|three|four)(?![a-z0-9])"
    r"|(?P<order>first|second|third)\s+(?:parcel|tract|piece|lot)(?![a-z])"
)
"""The heading of one parcel among several."""


def _spread(pattern: str) -> str:
    """A pattern whose blanks stand for any blanks and line ends."""
    return pattern.replace(" ?", r"\s*").replace(" ", r"\s+")


_MEANT = tuple(
    (kind, value, re.compile(rf"(?<![a-z0-9])(?:{_spread(pattern)})(?![a-z0-9])")) for kind, value, pattern in PHRASES
)
_FILLER = re.compile(rf"(?:{'|'.join(map(_spread, FILLERS))})(?![a-z0-9'])")
_WORD = re.compile(r"[^\W\d_]+(?:['.-][^\W\d_]+)*|[^\s;.,:()=]+|.", re.DOTALL)
_NAMED = re.compile(
    r"(?:lots?|blocks?|blk\.?|sections?|sec\.?|pages?|pg\.?|books?|volume|vol\.?|tracts?|parcel|number|no\.?|highway|"
    r"route|road|township|range|unit|phase|map|plat|instrument|document|zone|corner|station)\s+(?:no\.?\s*|number\s*)?#?"
    r"[a-z]?-?\d[\w:/-]*(?![\w']|\.\d)(?!\s*(?:feet|ft|chains|poles|rods)(?![a-z]))"
)
_NUMBERED = re.compile(
    r"\(\s*(\d{1,3})\s*\)|(\d{1,3})[.)](?=\s)|(?:course|call|line|curve|l|c)\s*(?:no\.?\s*)?(\d{1,3})\b[.:)]?"
)


def phrase_at(plain: str, at: int) -> Item | None:
    """A phrase that means something and begins here."""
    for kind, value, pattern in _MEANT:
        if found := pattern.match(plain, at):
            return Item(kind, at, found.end(), value)
    return None


def filler_at(plain: str, at: int) -> Item | None:
    """Words that are passed over, if they begin here."""
    found = _FILLER.match(plain, at)
    return Item("filler", at, found.end()) if found else None


def named_at(plain: str, at: int) -> Item | None:
    """A name with a number, such as Lot 7, whose number is not a length."""
    found = _NAMED.match(plain, at)
    return Item("word", at, found.end()) if found else None


def numbered_at(plain: str, at: int) -> Item | None:
    """The number of a call, such as (3) or `3.` at the beginning of a line; its value is the number.

    The value is empty where a word or a letter stands in front, as `L3`: such names need not count from 1.
    """
    found = _NUMBERED.match(plain, at)
    if found is None:
        return None
    opens_line = not plain[plain.rfind("\n", 0, at) + 1 : at].strip()
    if not (opens_line or found[1]):
        return None
    return Item("numbered", at, found.end(), found[1] or found[2] or "")


def word_at(plain: str, at: int) -> Item:
    """The one word or sign that begins here, whatever it is."""
    found = _WORD.match(plain, at)
    return Item("word", at, found.end() if found else at + 1)
