"""Apply a pack and the job's own limits to a layout. Every verdict on a length is exact.

Openings carry their rule and verdict already; here are heights, steps, ramps, post gaps and spacing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from stairguard.model.guard import Check, CheckedLayout, Layout, PlacedSurface, RailLine
from stairguard.model.job import Flight, Landing, Ramp
from stairguard.model.rules import Quantity, Rule
from stairguard.rules.cautions import cautions

__all__ = ["Applied", "applied", "check"]

JOB: Final = "job"
"""Clause and status of a limit that the job sets itself."""

HALF_RIGHT: Final = 45  # degrees: the only pitch in whole degrees whose slope is rational

_DATUM: Final = {
    "landing": "the walking surface",
    "flight": "the nosing line",
    "ramp": "the surface",
}
_WORDS: Final[dict[Quantity, str]] = {
    "guard height": "rail height over {place}, plumb from {datum} to the top of the rail",
    "handrail height": "rail as handrail over {place}, plumb from {datum} to the top of the rail",
    "riser": "riser of {place}",
    "run": "run of {place}",
    "nosing projection": "nosing projection of {place}",
    "pitch": "pitch of {place}",
    "flight rise": "total rise of {place}",
    "landing length": "length of {place}",
    "ramp slope": "rise over level length of {place}",
}


@dataclass(frozen=True, slots=True)
class Applied:
    """A rule and what came of it."""

    rule: Rule
    check: Check


def check(layout: Layout) -> CheckedLayout:
    """Hold a layout to its rule set and its job.

    A rule that is not binding appears among the checks where it is met and among the cautions where it is
    not: it never fails a layout.
    """
    ruled = applied(layout)
    checks = tuple(a.check for a in ruled if a.rule.binding or a.check.passes)
    checks += (*_gaps(layout), *_spacings(layout))
    unmet = tuple(a.check for a in ruled if not a.rule.binding and not a.check.passes)
    used = {a.rule for a in ruled if a.rule.binding} | {o.rule for o in layout.openings if o.rule is not None}
    passes = all(c.passes for c in checks) and all(o.passes is not False for o in layout.openings)
    return CheckedLayout(layout, checks, cautions(layout, unmet, _in_order(layout, used)), passes)


def applied(layout: Layout) -> tuple[Applied, ...]:
    """Every rule on heights, steps and ramps applied to every surface it is about."""
    rails = {rail.surface: rail for rail in layout.rails}
    return tuple(
        one
        for number, surface in enumerate(layout.line.surfaces, 1)
        for one in _surface(layout, number, surface, rails[surface.index])
    )


def _holds(rule: Rule, value: Fraction) -> bool:
    """Whether a value satisfies a bound, exactly; the bound itself does."""
    return value >= rule.value if rule.kind == "at least" else value <= rule.value


def _in_order(layout: Layout, used: set[Rule]) -> tuple[Rule, ...]:
    return tuple(rule for rule in layout.rules.rules if rule in used)


def _place(number: int, surface: PlacedSurface) -> str:
    return f"surface {number} ({surface.kind})"


def _surface(layout: Layout, number: int, surface: PlacedSurface, rail: RailLine) -> Iterator[Applied]:
    unit = layout.job.unit
    for quantity, value in _measures(surface, rail).items():
        what = _WORDS[quantity].format(place=_place(number, surface), datum=_DATUM[surface.kind])
        for rule in layout.rules.of(quantity, surface.kind):
            if not _concerns(rule, surface):
                continue
            if quantity == "pitch":
                passes, shown, of = _pitch_holds(rule, surface, value), surface.pitch_deg, "deg"
                shown = abs(shown)
            else:
                passes, shown = _holds(rule, value), float(value)
                of = "" if quantity == "ramp slope" else unit
            status = rule.status if rule.binding else f"{rule.status}, optional"
            limit = float(rule.value)
            yield Applied(rule, Check(rule.clause, what, shown, limit, rule.kind, of, passes, status))


def _measures(surface: PlacedSurface, rail: RailLine) -> dict[Quantity, Fraction]:
    """Measure what rules may limit on a surface; a pitch as its slope."""
    given = surface.given
    heights: dict[Quantity, Fraction] = {"guard height": rail.height}
    if isinstance(given, Landing):
        return heights | {"landing length": given.length}
    heights["handrail height"] = rail.height
    if isinstance(given, Ramp):
        return heights | {"ramp slope": abs(surface.slope)}
    return heights | {
        "riser": given.rise,
        "run": given.run,
        "nosing projection": given.nosing,
        "pitch": abs(surface.slope),
        "flight rise": given.rise * given.risers,
    }


def _concerns(rule: Rule, surface: PlacedSurface) -> bool:
    """Whether the rule's condition, if it has one, is met."""
    if rule.when_run_below is None:
        return True
    return isinstance(surface.given, Flight) and surface.given.run < rule.when_run_below


def _pitch_holds(rule: Rule, surface: PlacedSurface, slope: Fraction) -> bool:
    """Compare a slope with degrees: exactly at 45, the only tie a rational slope can have."""
    if rule.value == HALF_RIGHT:
        return slope >= 1 if rule.kind == "at least" else slope <= 1
    pitch = abs(surface.pitch_deg)
    return pitch >= rule.value if rule.kind == "at least" else pitch <= rule.value


def _gaps(layout: Layout) -> Iterator[Check]:
    """Check the widest clear gap between posts over each surface, along its strands."""
    after = {joint.post: joint.between[1] for joint in layout.joints}
    here = layout.line.surfaces[0].index
    widest: dict[int, Fraction] = {}
    for left, right in pairwise(sorted(layout.posts, key=lambda post: post.station)):
        here = after.get(left.label, here)
        level = (right.station - right.width / 2) - (left.station + left.width / 2)
        widest[here] = max(widest.get(here, level), level)
    limit = layout.job.post.max_gap
    for number, surface in enumerate(layout.line.surfaces, 1):
        level = widest.get(surface.index, Fraction(0))
        if level > 0:
            what = f"widest clear gap between posts over {_place(number, surface)}, along the strands"
            yield _along(layout, what, level, surface.slope, limit)


def _along(layout: Layout, what: str, level: Fraction, slope: Fraction, limit: Fraction) -> Check:
    """Check a length along a slope from its level length: squared, so that no root decides a tie."""
    squared = 1 + slope * slope
    passes = level * level * squared <= limit * limit
    value = _root_shown(float(level) * math.sqrt(squared), limit, passes)
    return Check(JOB, what, value, float(limit), "at most", layout.job.unit, passes, JOB)


def _spacings(layout: Layout) -> Iterator[Check]:
    """Check each surface's strand spacing, square to its strands, against the job's largest."""
    limit = layout.job.strand.spacing
    fields = {field.surface: field for field in layout.fields}
    for number, surface in enumerate(layout.line.surfaces, 1):
        field = fields.get(surface.index)
        if field is None or len(field.heights) < 2:  # one strand has no spacing
            continue
        passes = field.plumb_spacing**2 <= limit**2 * (1 + surface.slope**2)
        what = f"strand spacing over {_place(number, surface)}, square, centre to centre"
        value = _root_shown(field.square_spacing, limit, passes)
        yield Check(JOB, what, value, float(limit), "at most", layout.job.unit, passes, JOB)


def _root_shown(value: float, limit: Fraction, passes: bool) -> float:
    """Keep a rounded root from standing on the other side of its limit than the exact verdict."""
    bound = float(limit)
    return min(value, bound) if passes else max(value, math.nextafter(bound, math.inf))
