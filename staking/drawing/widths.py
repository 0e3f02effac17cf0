"""How wide the letters of the embedded font are, so that a drawing knows where its texts end.

Made by exports/fonts/make_fonts.py from the fonts beside that script; not edited by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

EM = 2048  # units of the tables below in the height of the font


def _by_letter(table: tuple[tuple[int, str], ...]) -> Mapping[str, int]:
    return MappingProxyType({letter: width for width, letters in table for letter in letters})


REGULAR: Mapping[str, int] = _by_letter(
    (
        (342, "\u2044"),
        (409, "\u2009\u202f"),
        (465, "\u2032"),
        (563, "'"),
        (569, "ijl\xec\xed\xee\xef\u0129\u012b\u012d\u012f\u0131\u0135\u013a\u013c"),
        (582, "\u0142"),
        (604, "IJ\xcc\xcd\xce\xcf\u0128\u012a\u012c\u012e\u0130\u0134"),
        (651, " ,.\xa0\xb7\u2018\u2019"),
        (690, "/:;\\|\xa6"),
        (700, "\u0140"),
        (721, "f\u017f"),
        (739, "-\xad\u2011"),
        (765, "\u2033"),
        (768, "\u013e"),
        (799, "()[]"),
        (803, "t\u0163\u0165\u0167"),
        (821, "!\xa1\xb2\xb3\xb9"),
        (842, "r\u0155\u0157\u0159"),
        (942, '"'),
        (965, "\xaa\xba"),
        (1024, "*_`\xa7\xa8\xaf\xb0\xb4\xb8\u2013"),
        (1061, "\u201c\u201d"),
        (1067, "s\u015b\u015d\u015f\u0161"),
        (1075, "z\u017a\u017c\u017e"),
        (1087, "?\xbf"),
        (1126, "c\xe7\u0107\u0109\u010b\u010d"),
        (1138, "\u0133"),
        (1141, "L\u0139\u013b\u013d\u013f"),
        (1151, "\u0141"),
        (1178, "F"),
        (1186, "k\u0137\u0138"),
        (1208, "\u0132\u2022"),
        (1212, "vxy\xfd\xff\u0177"),
        (1235, "P"),
        (1239, "\xde"),
        (1251, "TY\xdd\u0162\u0164\u0166\u0176\u0178"),
        (1253, "o\xab\xbb\xf0\xf2\xf3\xf4\xf5\xf6\xf8\u014d\u014f\u0151"),
        (1255, "a\xe0\xe1\xe2\xe3\xe4\xe5\u0101\u0103\u0105"),
        (1260, "e\xe8\xe9\xea\xeb\u0113\u0115\u0117\u0119\u011b"),
        (1290, "\xdf"),
        (1294, "E\xc8\xc9\xca\xcb\u0112\u0114\u0116\u0118\u011a"),
        (1298, "hnu\xf1\xf9\xfa\xfb\xfc\u0125\u0144\u0146\u0148\u014b\u0169\u016b\u016d\u016f\u0171\u0173"),
        (1300, "Sbdgpq\xfe\u010f\u0111\u011d\u011f\u0121\u0123\u015a\u015c\u015e\u0160"),
        (1303, "$0123456789{}\xa2\xa3\xa4\xa5\xb5\xb6"),
        (1305, "\u221a"),
        (1343, "K\u0136"),
        (1401, "AV\xc0\xc1\xc2\xc3\xc4\xc5\u0100\u0102\u0104\u0394"),
        (1403, "XZ\u0179\u017b\u017d"),
        (1405, "B"),
        (1423, "R\u0127\u0154\u0156\u0158"),
        (1430, "C\xc7\u0106\u0108\u010a\u010c"),
        (1499, "U\xd9\xda\xdb\xdc\u0168\u016a\u016c\u016e\u0170\u0172"),
        (1532, "N\xd1\u0143\u0145\u0147\u014a"),
        (1540, "H\u0124"),
        (1577, "D\u010e"),
        (1587, "G\xd0\u0110\u011c\u011e\u0120\u0122"),
        (1597, "&"),
        (1612, "OQ\xd2\xd3\xd4\xd5\xd6\xd8\u014c\u014e\u0150"),
        (1666, "\u0149"),
        (1675, "w\u0175"),
        (1716, "#+<=>^~\xac\xb1\xd7\xf7\u2190\u2191\u2192\u2193\u2212\u2248\u2264\u2265"),
        (1767, "M"),
        (1784, "\u22a5"),
        (1836, "\u2220\u2610\u2611"),
        (1876, "\u0126"),
        (1946, "%"),
        (1985, "\xbc\xbd\xbe\u215b\u215c\u215d\u215e"),
        (1995, "m\xc6"),
        (2011, "\xe6"),
        (2025, "W\u0174"),
        (2048, "@\xa9\xae\u2014\u2026"),
        (2095, "\u0153"),
        (2191, "\u0152"),
    )
)
BOLD: Mapping[str, int] = _by_letter(
    (
        (342, "\u2044"),
        (409, "\u2009\u202f"),
        (540, "\u2032"),
        (627, "'"),
        (702, "ijl\xec\xed\xee\xef\u0129\u012b\u012d\u012f\u0131\u0135\u013a\u013c"),
        (713, " \xa0"),
        (748, "/\\|\xa6"),
        (760, "\u0142"),
        (762, "IJ\xcc\xcd\xce\xcf\u0128\u012a\u012c\u012e\u0130\u0134"),
        (778, ",.\xb7\u2018\u2019"),
        (819, ":;"),
        (850, "-\xad\u2011"),
        (891, "f\u017f"),
        (897, "\xb2\xb3\xb9"),
        (915, "\u2033"),
        (934, "!\xa1"),
        (936, "()[]"),
        (979, "t\u0163\u0165\u0167"),
        (982, "\u013e"),
        (1010, "r\u0155\u0157\u0159"),
        (1024, "_`\xa7\xa8\xaf\xb0\xb4\xb8\u2013"),
        (1067, '"'),
        (1071, "*"),
        (1140, "\u0140"),
        (1155, "\xaa\xba"),
        (1188, "?\xbf"),
        (1192, "z\u017a\u017c\u017e"),
        (1214, "c\xe7\u0107\u0109\u010b\u010d"),
        (1219, "s\u015b\u015d\u015f\u0161"),
        (1303, "\xa4\xb6"),
        (1305, "L\u0139\u013b\u013d\u013f"),
        (1309, "\u2022"),
        (1315, "\u0141"),
        (1321, "x"),
        (1323, "\xab\xbb"),
        (1335, "vy\xfd\xff\u0177"),
        (1346, "\u201c\u201d"),
        (1362, "k\u0137\u0138"),
        (1366, "\u221a"),
        (1382, "a\xe0\xe1\xe2\xe3\xe4\xe5\u0101\u0103\u0105"),
        (1389, "e\xe8\xe9\xea\xeb\u0113\u0115\u0117\u0119\u011b"),
        (1397, "T\u0162\u0164\u0166"),
        (1399, "EF\xc8\xc9\xca\xcb\u0112\u0114\u0116\u0118\u011a"),
        (1404, "\u0133"),
        (1407, "o\xf0\xf2\xf3\xf4\xf5\xf6\xf8\u014d\u014f\u0151"),
        (1425, "$0123456789\xa2\xa3\xa5"),
        (1458, "hnu{}\xf1\xf9\xfa\xfb\xfc\u0125\u0144\u0146\u0148\u014b\u0169\u016b\u016d\u016f\u0171\u0173"),
        (1466, "bdgpq\xfe\u010f\u0111\u011d\u011f\u0121\u0123"),
        (1473, "\xdf"),
        (1475, "S\u015a\u015c\u015e\u0160"),
        (1483, "Y\xdd\u0176\u0178"),
        (1485, "Z\u0179\u017b\u017d"),
        (1501, "P"),
        (1503, "C\xc7\u0106\u0108\u010a\u010c"),
        (1507, "\xb5"),
        (1511, "\xde"),
        (1524, "\u0132"),
        (1561, "B"),
        (1577, "R\u0154\u0156\u0158"),
        (1579, "X"),
        (1585, "AV\xc0\xc1\xc2\xc3\xc4\xc5\u0100\u0102\u0104\u0394"),
        (1587, "K\u0136"),
        (1618, "\u0127"),
        (1663, "U\xd9\xda\xdb\xdc\u0168\u016a\u016c\u016e\u0170\u0172"),
        (1681, "G\u011c\u011e\u0120\u0122"),
        (1700, "D\u010e"),
        (1714, "HN\xd1\u0124\u0143\u0145\u0147\u014a"),
        (1716, "#+<=>^~\xac\xb1\xd0\xd7\xf7\u0110\u2190\u2191\u2192\u2193\u2212\u2248\u2264\u2265"),
        (1741, "OQ\xd2\xd3\xd4\xd5\xd6\xd8\u014c\u014e\u0150"),
        (1786, "&"),
        (1836, "\u2220\u2610\u2611"),
        (1872, "\u22a5"),
        (1892, "w\u0175"),
        (1994, "\u0126"),
        (2013, "\u0149"),
        (2038, "M"),
        (2048, "@\xa9\xae\u2014\u2026"),
        (2052, "%"),
        (2120, "\xbc\xbd\xbe\u215b\u215c\u215d\u215e"),
        (2134, "m"),
        (2146, "\xe6"),
        (2222, "\xc6"),
        (2241, "\u0153"),
        (2259, "W\u0174"),
        (2390, "\u0152"),
    )
)

_OTHER = 1229  # a letter that the font has not: the width of its empty box


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a text [points] set in `size` [points].

    >>> round(text_width("103", 10.0), 2)
    19.09
    """
    return _units(text, bold) * size / EM


@lru_cache(maxsize=16384)  # each text is measured for its column, its label and its page
def _units(text: str, bold: bool) -> int:
    table = BOLD if bold else REGULAR
    return sum([table.get(letter, _OTHER) for letter in text])
