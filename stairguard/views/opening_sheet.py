"""One opening on a sheet: the outline, the largest sphere through it, the limit, and the verdict in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final

from stairguard.geometry.outline import Outline
from stairguard.geometry.pockets import Pocket, pockets
from stairguard.model.job import Unit
from stairguard.rules.cautions import ALWAYS
from stairguard.views import metrics
from stairguard.views.drafting import CAP, LEADING
from stairguard.views.opening_facts import facts
from stairguard.views.opening_labels import GREY, exact_words
from stairguard.views.opening_picture import Subject, picture
from stairguard.views.opening_shape import shape
from stairguard.views.scene import ACCENT, INK, Line, Part, Place, Rect, Sheet, Text, View
from stairguard.views.titleblock import HEIGHT, draw_frame
from stairguard.views.wording import Formatter

__all__ = ["PAPER", "opening_sheet"]

PAPER: Final[dict[Unit, tuple[float, float]]] = {"mm": (297.0, 210.0), "in": (279.4, 215.9)}
"""Landscape sheets, millimetres: A4 (ISO 216) and 11 by 8-1/2 in."""

_MARGIN: Final = 8.0
_COLUMN: Final = 82.0
_PAD: Final = 4.0
_CONFORMS: Final = frozenset({"passes", "conforms"})
_UNIT: Final[dict[Unit, str]] = {"in": "inches", "mm": "millimetres"}


def opening_sheet(
    outline: Outline,
    pocket: Pocket,
    *,
    limit: Fraction | None,
    verdict: str | None,
    labels: Mapping[int, str],
    title: str,
    unit: Unit,
    fmt: Formatter,
    date: str,
    rule: str = "",
    uncertainty: str = "",
    others: Sequence[Pocket] | None = None,
    marks: Sequence[str] = (),
) -> Sheet:
    """Draw an opening, seen square to the guard.

    Parameters
    ----------
    outline
        What bounds it, in ``unit``. It need not run once round: an edge that meets nothing at an end runs on past
        the picture.
    pocket
        The largest sphere's.
    limit
        Diameter of the sphere to stop, drawn dashed; None without a limit.
    verdict
        In words, such as ``"passes"`` or ``"too close to call"``; None without one. All but ``"passes"`` and
        ``"conforms"`` are said in the accent ink.
    labels
        The length of an edge by its site, as it is to be written; of an edge with a negative radius, how far its
        surface stands behind its line. An edge without one shows its own, an open one none; ``""`` shows none.
    title, date
        Printed in the title block as they are.
    fmt
        Writes a length of ``unit`` as a tape shows it.
    rule
        What is asked, in words; without it, that the limit's sphere must not pass, nor one of just its size.
    uncertainty
        A sentence or two under a heading of their own, if given.
    others
        Further pockets, drawn faint. If not given all of an outline that runs once round are found; none of any other.
    marks
        What to call the corners of an outline that runs once round, in order; numbers from 1 if not given.

    Notes
    -----
    Words never overlap. Where not all lengths fit on the picture those of touched edges go first, then the longest; the
    others are listed beside it as far as there is room.
    """
    drawn = shape(outline, marks)
    if others is None:
        others = pockets(outline) if drawn.closed else ()
    said = metrics.clean(verdict or "")
    fails = bool(said) and said.lower() not in _CONFORMS
    rest = tuple(p for p in others if (p.centre, p.diameter) != (pocket.centre, pocket.diameter))
    subject = Subject(outline, drawn, pocket, rest, limit, fails, labels, unit, fmt)

    wide, tall = PAPER[unit]
    page = Rect(_MARGIN, _MARGIN, wide - _MARGIN, tall - _MARGIN)
    cautions, strip = _cautions(page)
    body = Rect(page.left, page.bottom + HEIGHT + strip, page.right, page.top)
    column = Rect(body.right - _COLUMN - _PAD, body.bottom + _PAD, body.right - _PAD, body.top - _PAD)
    edge = column.left - _PAD
    shown = picture(subject, Rect(body.left + 1.0, body.bottom + 1.0, edge - 1.0, body.top - 1.0))
    words = facts(subject, said.upper(), rule or _rule(limit, unit), uncertainty, shown.left, column)
    rule_line = Line("thin", (Place(edge, body.bottom), Place(edge, body.top)), "column")
    block = _title_block(title, shown.views, unit, date, said.upper() or "NOTHING CHECKED", page, fails=fails)
    parts = (*draw_frame(page), *shown.parts, rule_line, *words, *cautions, *block)
    return Sheet("opening", wide, tall, _scales(shown.views)[0], parts, shown.views)


def _cautions(page: Rect) -> tuple[tuple[Part, ...], float]:
    """Set what is said with every result over the title block; return the strip's height too."""
    lines = metrics.wrap(f"CAUTIONS: {' '.join(ALWAYS)}", CAP, page.width - 8)
    tall = len(lines) * LEADING + 3.6
    top = page.bottom + HEIGHT + tall
    parts: list[Part] = [Line("thin", (Place(page.left, top), Place(page.right, top)), "cautions")]
    for k, line in enumerate(lines, 1):
        parts.append(Text(line, Place(page.left + 4, top - 0.8 - k * LEADING), CAP, what="caution"))
    return tuple(parts), tall


def _rule(limit: Fraction | None, unit: Unit) -> str:
    if limit is None:
        return ""
    return f"A sphere of {exact_words(limit, unit)} must not pass; one of exactly that size counts as passing."


def _scales(views: Sequence[View]) -> tuple[str, ...]:
    first = views[0].scale_text
    return (first,) if len(views) == 1 else (f"opening {first}", f"detail {views[1].scale_text}")


def _title_block(
    title: str, views: Sequence[View], unit: Unit, date: str, verdict: str, page: Rect, *, fails: bool
) -> tuple[Part, ...]:
    """Draw the title block along the foot of the page."""
    top = page.bottom + HEIGHT
    parts: list[Part] = [Line("frame", (Place(page.left, top), Place(page.right, top)), "title block")]
    cells = (
        ("SCALE", _scales(views), 0.17, INK),
        ("UNIT", (_UNIT[unit],), 0.11, INK),
        ("DATE", (date,), 0.12, INK),
        ("CHECKED", (verdict,), 0.2, ACCENT if fails else INK),
    )
    left = page.left + page.width * (1 - sum(cell[2] for cell in cells))
    room = left - page.left - 8
    parts.append(Text("OPENING, SEEN SQUARE TO THE GUARD", Place(page.left + 4, top - 5.0), CAP, what="title"))
    named = metrics.clean(title)
    cap = next((c for c in _TITLE_CAPS if metrics.width(named, c) <= room), CAP)
    parts.append(Text(metrics.shorten(named, cap, room), Place(page.left + 4, page.bottom + 3.2), cap, what="title"))
    for label, lines, share, ink in cells:
        parts.append(Line("thin", (Place(left, page.bottom), Place(left, top)), "title block"))
        parts.append(Text(label, Place(left + 2.5, top - 5.0), CAP, ink=GREY, what="title block"))
        for k, line in enumerate(lines):
            fitted = metrics.shorten(metrics.clean(line), CAP, share * page.width - 5)
            parts.append(
                Text(fitted, Place(left + 2.5, page.bottom + 6.4 - k * LEADING), CAP, ink=ink, what=label.lower())
            )
        left += share * page.width
    return tuple(parts)


_TITLE_CAPS: Final = (4.5, 3.5, CAP)
