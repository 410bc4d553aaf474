"""What a push's sheet says in words beside its picture: the push, then a name and a value a row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import cos, radians
from typing import Final

from stairguard.model.job import Unit
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.callouts import CAPS, leading
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.drawing.paper.scene import ACCENT, GREY, Place, Rect, Text
from stairguard.reports.drawing.probe.probe_picture import PushPicture
from stairguard.reports.words.lengths import Formatter, degrees_words, exact_words, length_words
from stairguard.reports.words.one_line import clean


def square(length: float, unit: Unit, fmt: Formatter) -> str:
    """Write a length square to the strands, and say so."""
    return f"{length_words(length, unit, fmt)} square"


def push_facts(picture: PushPicture, unit: Unit, fmt: Formatter, room: Rect) -> Iterator[Text]:
    """Set the column of words; rows without room are left out, the caller's own first."""
    push = clean(f"push {picture.push}")
    cap = next((c for c in (6.0, *CAPS) if metrics.width(push, c) <= room.width), CAP)
    y = room.top - metrics.ASCENT * cap
    yield Text(metrics.shorten(push, cap, room.width), Place(room.left, y), cap, ink=ACCENT, what="push")
    y -= metrics.DESCENT * cap + 2.0
    rows = [(clean(k), clean(v)) for k, v in (*_rows(picture, unit, fmt), *picture.rows)]
    cap = next((c for c in CAPS if _tall(rows, c, room.width) <= y - room.bottom), CAP)
    for key, lines in _set(rows, cap, room.width):
        for k, line in enumerate(lines):
            y -= leading(cap)
            if y < room.bottom:
                return
            at = y + metrics.DESCENT * cap
            if k == 0:
                yield Text(key, Place(room.left, at), cap, ink=GREY, what="fact")
            yield Text(line, Place(room.right, at), cap, "end", what="fact")
        y -= _ROW_GAP


_ROW_GAP: Final = 1.0


def _set(rows: Sequence[tuple[str, str]], cap: float, wide: float) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Each row's name, and its value in as many lines as the room beside the name asks for."""
    for key, value in rows:
        name = metrics.shorten(key, cap, 0.7 * wide)
        yield name, metrics.wrap(value, cap, wide - metrics.width(name, cap) - 3.0) or ("",)


def _tall(rows: Sequence[tuple[str, str]], cap: float, wide: float) -> float:
    return sum(len(lines) * leading(cap) + _ROW_GAP for _, lines in _set(rows, cap, wide))


def _rows(picture: PushPicture, unit: Unit, fmt: Formatter) -> Iterator[tuple[str, str]]:
    """What the picture itself knows."""
    spread = picture.deflection * cos(radians(picture.force_angle_deg))
    axes = picture.spacing_or_clear if picture.strands == 2 else picture.clear + picture.sphere / 2
    thick = picture.diameter if picture.strands == 2 else picture.diameter / 2
    yield picture.probe, f"⌀{exact_words(Fraction(picture.sphere), unit)}"
    yield "strand", f"⌀{exact_words(Fraction(picture.diameter), unit)}"
    if picture.strands == 2:
        yield "spacing at rest", square(axes, unit, fmt)
    else:
        yield f"{picture.edge} to axis", square(axes, unit, fmt)
    yield "gap at rest", square(axes - thick, unit, fmt)
    yield "gap pushed open", square(axes - thick + picture.strands * spread, unit, fmt)
    yield "strand moves", length_words(picture.deflection, unit, fmt)
    yield "contact angle", degrees_words(picture.angle_deg)
    if picture.force_angle_deg > picture.angle_deg + 0.05:
        yield "force on strand at", degrees_words(picture.force_angle_deg)
