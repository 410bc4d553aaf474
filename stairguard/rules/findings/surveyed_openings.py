"""Openings as measured, held to the rules on them: exact where the figures are, else by their uncertainty."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Final, NamedTuple

from stairguard.geometry.clearance.pockets import compare
from stairguard.model.asked.asked_opening import Measurement, Opened, Uncertainty
from stairguard.model.findings import Verdict
from stairguard.model.fixes import Fix
from stairguard.model.guard.surfaces import PlacedSurface
from stairguard.model.job import Flight, MeasuredFlight, Unit
from stairguard.model.measured_guard import Taken
from stairguard.model.reasons import ByLeave, Reason, Why
from stairguard.model.rules import Rule, RuleSet
from stairguard.rules.fixes.measured_advice import MEND, settled, surely
from stairguard.solve.measured.uncertainty import FINEST_READING, called, judge
from stairguard.solve.sphere.verdicts import stops

_TRIANGLE: Final = "step triangle"
_ROUNDED: Final = Fraction(1, 10**9)  # of the limit: what corners found from lengths may be off by


class JudgedOpening(NamedTuple):
    """What came of one rule on one opening; there is no margin where it passes by leave."""

    rule: Rule
    sphere: float
    margin: float | None
    verdict: Verdict
    band: float
    why: tuple[Reason, ...]
    fixes: tuple[Fix, ...]


def expected(surface: PlacedSurface, rules: RuleSet) -> Iterator[tuple[str, Rule]]:
    """Kinds of opening that a surface has, with the rule that would govern each."""
    places = ["any"]
    given = surface.given
    if isinstance(given, (Flight, MeasuredFlight)):
        places.append("open riser" if given.open_risers else _TRIANGLE)
    for where in places:
        rule = rules.opening(*_places(where, surface), edged=surface.edged)
        if rule is not None:
            yield where, rule


def _places(where: str, surface: PlacedSurface | None) -> tuple[str, ...]:
    """Places whose rules speak to an opening: its own first, then its surface's, if it is of one."""
    own = () if where == "any" else (where,)
    return own if surface is None else (*own, surface.kind)


def judged(
    row: Taken, surface: PlacedSurface | None, rules: RuleSet, ratio: Fraction, unit: Unit, edge_is_low: bool = False,
    mend: Callable[[Rule, float], tuple[Fix, ...]] | None = None,
) -> Iterator[JudgedOpening]:  # fmt: skip
    """Hold one opening to every rule that speaks to it.

    ``edge_is_low`` where the lowest edge was measured apart and gives leave; a lift tells it of its own step. ``mend``
    looks for what would close it, where that is asked for.
    """
    places = _places(row.place, surface)
    edge = rules.leave_by_edge(apart=row.opened is not None and row.opened.beside is not None)
    edged = surface is not None and surface.edged
    for rule in rules.openings(*places, low=row.low, high=row.high, edged=edged):
        found = _judged(row, rule, ratio, unit)
        low = edge is not None and (edge_is_low or _low_edge(row, edge))
        if found.verdict != "pass" and row.place == _TRIANGLE and edge is not None and low:
            why = ByLeave(edge.clause, edge.status)
            found = JudgedOpening(rule, found.sphere, None, "pass", found.band, (why,), ())
        elif found.verdict == "too close to call" and found.fixes == (MEND,) and mend is not None:
            found = found._replace(fixes=surely(mend(rule, found.band)) or found.fixes)
        elif found.verdict == "fail":
            if mend is not None:
                found = found._replace(fixes=mend(rule, found.band))
            if _above(row, surface, rules):
                found = found._replace(verdict="needs a decision", why=(Why.ABOVE_GUARD,))
        yield found


def _above(row: Taken, surface: PlacedSurface | None, rules: RuleSet) -> bool:
    if surface is None:
        return False
    heights = [r.value for r in rules.of("guard height", surface.kind) if r.binding and r.kind == "at least"]
    return bool(heights) and row.low >= max(heights)


def _low_edge(row: Taken, edge: Rule) -> bool:
    """Whether the lowest member over a step, given by its lift, is low enough; squared, so that no root decides."""
    if row.opened is None or row.opened.form != "closed step":
        return False
    step = _lengths(row.opened)
    lift, run, rise = step["lift"], step["run"].value, step["rise"].value
    highest = lift.value + lift.plus_minus  # leave is not given on what the tape may have missed
    return highest**2 * (run**2 + rise**2) <= edge.value**2 * run**2


def _judged(row: Taken, rule: Rule, ratio: Fraction, unit: Unit) -> JudgedOpening:
    sphere, sign = _compared(row, rule.value)
    passes = stops(rule, sign)
    margin = float(rule.value) - sphere
    found = _uncertainty(row, sphere, rule, passes, ratio, FINEST_READING[unit])
    verdict = called(margin, found.guard_band, passes)
    why: tuple[Reason, ...] = (Why.LARGER_SPHERE,) if verdict == "pass" and rule.place == _TRIANGLE else ()
    fixes: tuple[Fix, ...] = ()
    if verdict == "too close to call":
        why = (Why.NEAR_LIMIT, Why.CONTACT_MAY_CHANGE) if found.contact_may_change else (Why.NEAR_LIMIT,)
        fixes = (settled(found.settling, unit),) if found.settling is not None else ()
    return JudgedOpening(rule, sphere, margin, verdict, found.guard_band, why, fixes)


def _compared(row: Taken, limit: Fraction) -> tuple[float, int]:
    """The largest sphere, and the sign of it less the limit: exact at a tie."""
    opened = row.opened
    if opened is None:
        value = row.length.value
        return float(value), (value > limit) - (value < limit)
    if opened.form == "strands":
        spacing, strand = opened.measurements
        gap = spacing.value - strand.value
        return float(gap), (gap > limit) - (gap < limit)
    if opened.beside is not None or opened.form == "edge":
        return opened.sphere, _sign(opened.sphere, limit)
    if opened.form in ("sides", "lengths") and abs(opened.sphere - float(limit)) <= float(limit * _ROUNDED):
        return opened.sphere, 0
    return opened.sphere, max(compare(opened.outline, pocket, limit) for pocket in opened.pockets)


def _sign(sphere: float, limit: Fraction) -> int:
    """Of a sphere found in space: as near the limit as it is found to, it counts as the limit itself."""
    past = sphere - float(limit)
    return 0 if abs(past) <= float(limit * _ROUNDED) else 1 if past > 0 else -1


def _uncertainty(row: Taken, sphere: float, rule: Rule, passes: bool, ratio: Fraction, finest: float) -> Uncertainty:
    if row.opened is None:
        measured, slopes, changes = [row.length], [1.0], False
    elif row.opened.uncertainty is None:
        measured, slopes, changes = [], [], False
    else:
        shares = row.opened.uncertainty.shares
        measured, slopes = [share.measurement for share in shares], [share.derivative for share in shares]
        changes = row.opened.uncertainty.contact_may_change
    return judge(
        sphere, measured, slopes, limit=rule.value, passes=passes, ratio=ratio, contact_may_change=changes,
        finest=finest,
    )  # fmt: skip


def _lengths(opened: Opened) -> dict[str, Measurement]:
    return {m.name: m for m in opened.measurements}
