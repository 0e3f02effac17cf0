"""Which letters can the printed sheets show? Those that the embedded font has."""

from __future__ import annotations

# first and last of each run of letters: Latin of western and central Europe, fractions, arrows, signs of the trade
RUNS = (
    (0x0020, 0x007E),
    (0x00A0, 0x017F),
    (0x0394, 0x0394),
    (0x2009, 0x2009),
    (0x2011, 0x2011),
    (0x2013, 0x2014),
    (0x2018, 0x2019),
    (0x201C, 0x201D),
    (0x2022, 0x2022),
    (0x2026, 0x2026),
    (0x202F, 0x202F),
    (0x2032, 0x2033),
    (0x2044, 0x2044),
    (0x215B, 0x215E),
    (0x2190, 0x2193),
    (0x2212, 0x2212),
    (0x221A, 0x221A),
    (0x2220, 0x2220),
    (0x2248, 0x2248),
    (0x2264, 0x2265),
    (0x22A5, 0x22A5),
    (0x2610, 0x2611),
)
_KNOWN = frozenset({"\t", "\n"}.union(*(map(chr, range(first, last + 1)) for first, last in RUNS)))


def missing_letters(text: str) -> str:
    """The letters of a text that print as an empty box, each once, in their order.

    >>> missing_letters("Jägerstraße 中-Ж")
    '中Ж'
    """
    return "".join(letter for letter in dict.fromkeys(text) if letter not in _KNOWN)
