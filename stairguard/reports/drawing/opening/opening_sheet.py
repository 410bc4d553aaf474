"""One opening on a sheet: the outline, the largest sphere through it, the limit, and the verdict in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final

from stairguard.geometry.clearance.outline import Outline
from stairguard.geometry.clearance.pockets import Pocket, pockets
from stairguard.model.job import Unit
from stairguard.model.outcome import Outcome
from stairguard.reports.drawing.opening.opening_facts import facts
from stairguard.reports.drawing.opening.opening_picture import Pictured, picture
from stairguard.reports.drawing.opening.opening_shape import shape
from stairguard.reports.drawing.paper.scene import ACCENT, INK, Line, Place, Rect, Sheet, View
from stairguard.reports.drawing.paper.single_sheet import PAPER, body, framed
from stairguard.reports.drawing.paper.title_block import TitleCell
from stairguard.reports.words.asked.opening_answer_words import limit_rule
from stairguard.reports.words.lengths import UNIT_WORDS, Formatter
from stairguard.reports.words.rules.verdict_words import outcome_head

_COLUMN: Final = 82.0
_PAD: Final = 4.0


def opening_sheet(
    outline: Outline,
    pocket: Pocket,
    *,
    limit: Fraction | None,
    outcome: Outcome | None,
    labels: Mapping[int, str],
    title: str,
    unit: Unit,
    fmt: Formatter,
    date: str,
    rule: str = "",
    fix: str = "",
    uncertainty: str = "",
    others: Sequence[Pocket] | None = None,
    marks: Sequence[str] = (),
    not_shown: str = "",
    section: bool = False,
) -> Sheet:
    """Draw an opening, seen square to the guard, or in a section square to it.

    Parameters
    ----------
    outline
        What bounds it, in ``unit``. It need not run once round: an edge that meets nothing at an end runs on past
        the picture.
    pocket
        The largest sphere's.
    limit
        Diameter of the sphere to stop, drawn dashed; None without a limit.
    outcome
        None without a limit. The accent ink is for what does not comply, and nothing else.
    labels
        The length of an edge by its site, as it is to be written; of an edge with a negative radius, how far its
        surface stands behind its line. An edge without one shows its own, an open one none; ``""`` shows none.
    title, date
        Printed in the title block as they are.
    fmt
        Writes a length of ``unit`` as a tape shows it.
    rule
        What is asked, in words; without it, that the limit's sphere must not pass, nor one of just its size.
    fix, uncertainty
        What to do, and how sure it is: a sentence or two under a heading of their own, if given.
    others
        Further pockets, drawn faint. If not given all of an outline that runs once round are found; none of any other.
    marks
        What to call the corners of an outline that runs once round, in order; numbers from 1 if not given.
    not_shown
        What the picture cannot show, in a sentence or two under a heading of its own, if given.
    section
        Whether the outline is one.

    Notes
    -----
    Words never overlap. Where not all lengths fit on the picture those of touched edges go first, then the longest; the
    others are listed beside it as far as there is room.
    """
    drawn = shape(outline, marks)
    if others is None:
        others = pockets(outline) if drawn.closed else ()
    fails = outcome == "does not comply"
    rest = tuple(p for p in others if (p.centre, p.diameter) != (pocket.centre, pocket.diameter))
    subject = Pictured(
        outline=outline,
        shape=drawn,
        pocket=pocket,
        others=rest,
        limit=limit,
        fails=fails,
        labels=labels,
        unit=unit,
        fmt=fmt,
    )

    room = body(unit)
    column = Rect(room.right - _COLUMN - _PAD, room.bottom + _PAD, room.right - _PAD, room.top - _PAD)
    edge = column.left - _PAD
    shown = picture(subject, Rect(room.left + 1.0, room.bottom + 1.0, edge - 1.0, room.top - 1.0))
    verdict = "" if outcome is None else outcome_head(outcome)
    if not rule and limit is not None:
        rule = limit_rule(limit, unit)
    words = facts(subject, verdict, rule, fix, uncertainty, shown.left, column, not_shown)
    rule_line = Line("thin", (Place(edge, room.bottom), Place(edge, room.top)), "column")
    cells = (
        TitleCell("SCALE", _scales(shown.views), 0.17),
        TitleCell("UNIT", (UNIT_WORDS[unit],), 0.11),
        TitleCell("DATE", (date,), 0.12),
        TitleCell("RESULT", (outcome_head(outcome),), 0.2, ACCENT if fails else INK),
    )
    seen = "OPENING, SECTION SQUARE TO THE GUARD" if section else "OPENING, SEEN SQUARE TO THE GUARD"
    frame = framed(unit, seen, title, cells)
    parts = (*frame, *shown.parts, rule_line, *words)
    width, height = PAPER[unit]
    return Sheet(
        name="opening",
        width=width,
        height=height,
        scale_text=_scales(shown.views)[0],
        parts=parts,
        views=shown.views,
    )


def _scales(views: Sequence[View]) -> tuple[str, ...]:
    first = views[0].scale_text
    return (first,) if len(views) == 1 else (f"opening {first}", f"detail {views[1].scale_text}")
