"""Ways to close one opening that is asked about by itself: the same as of one found on a guard."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from stairguard.model.asked.asked_opening import Measurement, Opened
from stairguard.model.fixes import Fix, TapeMark
from stairguard.model.job import USUAL_MARK
from stairguard.model.measured_guard import Taken
from stairguard.model.rules import Rule
from stairguard.rules.fixes.measured_advice import surely
from stairguard.rules.fixes.measured_ways import ClosingTerms, edge_fix, opening_fixes

_MOST_CORNERS: Final = 8
"""Of an outline: of more each edge in turn would take long to try."""


def opened_fixes(
    opened: Opened, strand_edges: frozenset[int], ratio: Fraction, edge: int | None = None
) -> tuple[Fix, ...]:
    """Ways to make an opening stop its limit's sphere, guard band and all; none where that is not worked out.

    Parameters
    ----------
    opened
        Of any form, with a limit.
    strand_edges
        Of an outline, those that are strands' axes.
    ratio
        Of the guard band to twice the standard uncertainty.
    edge
        Of an outline, the one to move, if it can; else what moves least.
    """
    corners = len(opened.points)
    apart = opened.form == "points" and opened.beside is not None  # what moves in space is not worked out
    if opened.limit is None or corners > _MOST_CORNERS or (opened.form == "lengths" and corners > 3) or apart:
        return ()
    sure = opened.uncertainty if opened.binding else None
    length = Measurement("opening", Fraction(opened.sphere), Fraction(0))
    row = Taken(what="opening", length=length, opened=opened, points=opened.points, strand_edges=strand_edges)
    band = 0.0 if sure is None else sure.guard_band
    asked = ClosingTerms(_rule(opened.limit), ratio, TapeMark(opened.unit, USUAL_MARK[opened.unit]), band)
    chosen = None if edge is None else edge_fix(row, opened, 0, asked, edge)
    fixes = opening_fixes(row, 0, asked) if chosen is None else (chosen,)
    if opened.outcome != "too close to call":
        return fixes
    return surely(fixes)


def _rule(limit: Fraction) -> Rule:
    """The limit asked about, which exactly its size does not keep."""
    return Rule(
        quantity="opening",
        place="any",
        kind="stops",
        value=limit,
        clause="the limit asked about",
        status="common practice",
        source="",
        note="",
        binding=True,
    )
