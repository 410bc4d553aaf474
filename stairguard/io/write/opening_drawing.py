"""A drawing of one opening, in the one format asked for; it never overwrites."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final

from stairguard.errors import Fault, OutputError
from stairguard.model.asked.asked_opening import Measurement, Opened
from stairguard.model.job import Unit

if TYPE_CHECKING:
    from stairguard.reports.drawing.paper.scene import Sheet

_ENDINGS: Final = (".svg", ".png", ".pdf")
_FREE: Final = "a new file, ending in .svg, .png or .pdf, in a folder that can be written"
_MARKS: Final[dict[Unit, Fraction]] = {"in": Fraction(1, 32), "mm": Fraction(1, 2)}


def check_drawing(path: str | Path) -> None:
    """Raise OutputError unless a drawing may be written there; writes nothing."""
    target = Path(os.path.abspath(path))
    got = ""
    if target.suffix.lower() not in _ENDINGS:
        got = str(path)
    elif "\0" in str(target) or not target.parent.is_dir():
        got = f"no folder {target.parent}"
    elif os.path.lexists(target):
        got = f"{path}, which is there already"
    elif not os.access(target.parent, os.W_OK | os.X_OK):
        got = f"no leave to write in {target.parent}"
    if got:
        raise OutputError(Fault("draw", _FREE, got))


def draw_opening(opened: Opened, path: str | Path, *, date: str | None = None) -> Path:
    """Draw an opening into a new file, ending in .svg, .png or .pdf.

    Parameters
    ----------
    opened
        From any of the functions that find one.
    path
        Of the new file.
    date
        ``YYYY-MM-DD``, for the title block; today if not given.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    InputError
        The date is none.
    OutputError
        Another ending, a file that is there already, or a folder that cannot be written; nothing was written.
    """
    from stairguard.io.write.folder import read_date, write_new
    from stairguard.io.write.render import save

    day = read_date(date)
    check_drawing(path)
    target = Path(os.path.abspath(path))
    try:
        with TemporaryDirectory() as folder:
            save((opening_drawing(opened, day),), Path(folder), "opening")
            content = Path(folder, f"opening{target.suffix.lower()}").read_bytes()
        write_new(target, content)
    except OSError as error:
        raise OutputError(Fault("draw", _FREE, f"{path}: {error.strerror or error}")) from None
    return target


def opening_drawing(opened: Opened, day: str) -> Sheet:
    """Set an opening on its sheet: the result is that of its page."""
    from stairguard.reports.drawing.opening.opening_sheet import opening_sheet
    from stairguard.reports.words.asked.opening_answer_words import TITLES, across_words, not_shown_words, what_to_do
    from stairguard.reports.words.lengths import Figures
    from stairguard.reports.words.uncertainty_words import rule_sentence, sure_words

    unit, u = opened.unit, opened.uncertainty

    fmt = Figures(unit, _MARKS[unit]).tape
    decided = u is not None and u.verdict is not None and opened.binding
    unsure = [across_words(m, unit) for m in _across(opened)] + ([] if u is None else [sure_words(u, unit)])
    return opening_sheet(
        opened.outline,
        opened.pockets[0],
        limit=opened.limit,
        outcome=opened.outcome,
        labels=_labels(opened),
        title=TITLES[opened.form],
        unit=unit,
        fmt=fmt,
        date=day,
        rule=rule_sentence(u, unit) if u is not None and decided else "",
        fix="" if opened.outcome == "complies" else what_to_do(opened),
        uncertainty=" ".join(unsure),
        others=opened.pockets[1:],
        not_shown=not_shown_words(opened),
        section=opened.form == "edge",
    )


def _across(opened: Opened) -> list[Measurement]:
    """Measured lengths that are no edge's: diagonals, and what stands out from the picture's plane."""
    if opened.of_step or opened.form == "edge":
        return [m for m in opened.measurements if m.name in ("height", "offset", "strand diameter")]
    if opened.form not in ("sides", "lengths"):
        return []
    return [m for m in opened.measurements[len(opened.outline.sides) :] if m.name != "strand diameter"]


def _labels(opened: Opened) -> dict[int, str]:
    """Lengths of edges as they were given: sides, and how far the member stands over the nosing line."""
    from stairguard.reports.words.asked.opening_answer_words import given_length, lift_label, spacing_label

    unit, edges = opened.unit, opened.outline.sides
    if opened.form in ("sides", "lengths"):
        return {k: given_length(m, unit) for k, m in enumerate(opened.measurements[: len(edges)])}
    given = {m.name: m for m in opened.measurements}
    if "spacing" in given:
        return {1: spacing_label(given["spacing"], unit)}
    if opened.of_step:
        lift = lift_label(given["lift"], unit) if opened.beside is not None else given_length(given["lift"], unit)
        return {k: lift for k, edge in enumerate(edges) if edge.name == "member"}
    return {}
