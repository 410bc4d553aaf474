"""How much room words take on paper, from the font's own advance widths.

Everything is drawn in one face, DejaVu Sans, without kerning, so the width of a word is the sum of its
advances. Kept here, a record of a drawing can be laid out without loading a font.
"""

from __future__ import annotations

from typing import Final

EM: Final = 2048
"""Design units to the em in DejaVu Sans."""

CAP: Final = 1493
"""Height of a capital, design units."""

WIDEST: Final = 3554
"""The widest advance in the face: what a character outside the table is taken to need."""

ASCENT: Final = 1.35
DESCENT: Final = 0.35
"""Reach above and below the baseline in cap heights: accented capitals, brackets and tails included."""

_BLOCKS: Final = (
    (
        0x0020,
        """
        651 821 942 1716 1303 1946 1597 563 799 799 1024 1716 651 739 651 690 1303 1303 1303 1303
        1303 1303 1303 1303 1303 1303 690 690 1716 1716 1716 1087 2048 1401 1405 1430 1577 1294 1178
        1587 1540 604 604 1343 1141 1767 1532 1612 1235 1612 1423 1300 1251 1499 1401 2025 1403 1251
        1403 799 690 799 1716 1024 1024 1255 1300 1126 1300 1260 721 1300 1298 569 569 1186 569 1995
        1298 1253 1300 1300 842 1067 803 1298 1212 1675 1212 1212 1075 1303 690 1303 1716
        """,
    ),
    (
        0x00A0,
        """
        651 821 1303 1303 1303 1303 690 1024 1024 2048 965 1253 1716 739 2048 1024 1024 1716 821 821
        1024 1303 1303 651 1024 821 965 1253 1985 1985 1985 1087 1401 1401 1401 1401 1401 1401 1995
        1430 1294 1294 1294 1294 604 604 604 604 1587 1532 1612 1612 1612 1612 1612 1716 1612 1499
        1499 1499 1499 1251 1239 1290 1255 1255 1255 1255 1255 1255 2011 1126 1260 1260 1260 1260
        569 569 569 569 1253 1298 1253 1253 1253 1253 1253 1716 1253 1298 1298 1298 1298 1212 1300
        1212 1401 1255 1401 1255 1401 1255 1430 1126 1430 1126 1430 1126 1430 1126 1577 1300 1587
        1300 1294 1260 1294 1260 1294 1260 1294 1260 1294 1260 1587 1300 1587 1300 1587 1300 1587
        1300 1540 1298 1876 1423 604 569 604 569 604 569 604 569 604 569 1208 1138 604 569 1343 1186
        1186 1141 569 1141 569 1141 768 1141 700 1151 582 1532 1298 1532 1298 1532 1298 1666 1532
        1298 1612 1253 1612 1253 1612 1253 2191 2095 1423 842 1423 842 1423 842 1300 1067 1300 1067
        1300 1067 1300 1067 1251 803 1251 803 1251 803 1499 1298 1499 1298 1499 1298 1499 1298 1499
        1298 1499 1298 2025 1675 1251 1212 1251 1403 1075 1403 1075 1403 1075 721
        """,
    ),
    (
        0x0370,
        """
        1340 1163 1765 1326 570 570 1532 1331 - - 1024 1125 1126 1125 690 - - - - - 1024 1024 1418
        651 1528 1784 836 - 1664 - 1689 1691 693 1401 1405 1141 1401 1294 1403 1540 1612 604 1343
        1401 1767 1532 1294 1612 1540 1235 - 1294 1251 1251 1612 1403 1612 1565 604 1251 1350 1107
        1298 693 1185 1350 1307 1212 1253 1107 1114 1298 1253 693 1207 1212 1303 1144 1142 1253 1233
        1300 1202 1298 1233 1185 1351 1183 1351 1715 693 1185 1253 1185 1715 1343 1258 1268 1431
        1725 1431 1351 1715 1359 1612 1253 1328 1202 1178 939 1351 1351 1772 1285 1912 1715 1553
        1350 1621 1259 1406 1243 1572 1280 1432 1253 1251 1098 1359 1300 1126 569 1612 1260 1260
        1239 1300 1430 1767 1333 1300 1440 1430 1440
        """,
    ),
    (
        0x0400,
        """
        1294 1294 1610 1249 1430 1300 604 604 604 2240 2140 1610 1454 1532 1248 1540 1401 1405 1405
        1249 1600 1294 2206 1313 1532 1532 1454 1540 1767 1540 1612 1540 1235 1430 1251 1248 1763
        1403 1590 1404 2190 2240 1705 1807 1405 1430 2211 1423 1255 1263 1207 1076 1416 1260 1845
        1089 1331 1331 1237 1309 1545 1339 1253 1339 1300 1126 1193 1212 1751 1212 1394 1210 1874
        1929 1447 1617 1207 1124 1724 1232 1260 1260 1280 1076 1124 1067 569 569 569 1848 1840 1335
        1237 1331 1212 1339
        """,
    ),
    (
        0x2010,
        """
        739 739 1303 1024 2048 2048 1024 1024 651 651 651 651 1061 1061 1061 1061 1024 1024 1208
        1208 685 1367 2048
        """,
    ),
    (0x2030, "2748 3554 465 765 1065 465 765 1065 694 819 819 "),
    (
        0x20A0,
        """
        1796 1303 1303 1303 1303 1995 1303 2606 2199 2025 1606 1303 1303 1303 1303 2606 1303 1303
        1303 1303 1585 1303
        """,
    ),
    (0x2150, "1985 1985 2806 1985 1985 1985 1985 1985 1985 1985 1985 1985 1985 1985 1985 "),
    (0x2190, "1716 1716 1716 1716 1716 1716 1716 1716 1716 1716 "),
    (
        0x2200,
        """
        1401 1303 1059 1294 1294 1784 1370 1370 1784 1784 1470 1784 1784 1470 1303 1550 1550 1380
        1716 1716 1716 690 1304 1716 1282 1282 1305 1305 1305 1463 1706 1716 1836 1836 1716 1024
        1024 1024 1024 1499 1499 1499 1499 1067 1616 2165 1067 1616 2165 1067 1067 1067 1303 1303
        533 1303 1716 1716 1716 1716 1716 1716 1716 1716 768 1716 1716 1716 1716 1716 1716 1716 1716
        1716 1716 1716 1716 1716 1716 1716 1716 1716 1718 1718 2048 2048 1716 1716 1716 1716 1716
        1716 1716 1716 1716 1716 1716 1716 1716 1716 1716 1716
        """,
    ),
    (0x2300, "1233 "),
)  # first code point, then advance widths in design units; "-": not in the face

ADVANCES: Final = {
    chr(first + offset): int(advance)
    for first, advances in _BLOCKS
    for offset, advance in enumerate(advances.split())
    if advance != "-"
}


def width(words: str, cap: float) -> float:
    """Length of ``words`` on paper, millimetres, for capitals ``cap`` millimetres high."""
    return sum(ADVANCES.get(c, WIDEST) for c in words) * cap / CAP


def extent(words: str, cap: float) -> tuple[float, float]:
    """Width, and height from the deepest tail to the highest accent, millimetres."""
    return width(words, cap), (ASCENT + DESCENT) * cap


def shorten(words: str, cap: float, room: float) -> str:
    """Cut ``words`` to ``room`` millimetres, an ellipsis for what is gone; nothing where not even that fits."""
    if width(words, cap) <= room:
        return words
    left = room - width("…", cap)
    if left < 0:
        return ""
    for count, character in enumerate(words):
        left -= width(character, cap)
        if left < 0:
            return words[:count].rstrip() + "…"
    return words  # not reached: the whole did not fit


def wrap(words: str, cap: float, room: float) -> tuple[str, ...]:
    """Break ``words`` into lines no longer than ``room`` millimetres; a longer word is cut."""
    lines: list[str] = []
    line = ""
    for word in words.split():
        longer = f"{line} {word}" if line else word
        if width(longer, cap) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        line = shorten(word, cap, room)
    return (*lines, line) if line else tuple(lines)
