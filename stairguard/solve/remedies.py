"""What to do about a jog: move the post, change either rail's height, or move the risers."""

from __future__ import annotations

from fractions import Fraction

from stairguard.model.guard import Change, PlacedSurface, Remedy
from stairguard.model.rules import RuleSet
from stairguard.solve.meeting import Meeting, Rails, edge_of

__all__ = ["remedies"]


def remedies(rails: Rails, rules: RuleSet, meeting: Meeting) -> tuple[Remedy, ...]:
    """Ways to be rid of a jog: move the post, change either rail's height, or move the risers."""
    before, after, rises = meeting.before, meeting.after, meeting.rises
    ways: list[Remedy] = []
    if meeting.turn_deg == 0 and meeting.meets is not None:
        from_nosing = meeting.from_nosing()
        value = meeting.meets - meeting.boundary if from_nosing is None else from_nosing
        ways.append(Remedy("post station", value, False, _no_room(rails, meeting)))
    changes = [(before, rises), (after, -rises)]
    # the gentler one's height first
    changes.sort(key=lambda c: abs(c[0].slope))
    for surface, by in changes:
        ways.append(_height_remedy(rules, surface, rails.heights[surface.index] + by))
    if meeting.turn_deg or meeting.crossed:
        ways += _offsets(meeting, rails.job.unit)
    return tuple(ways)


def _offsets(meeting: Meeting, unit: str) -> list[Remedy]:
    """How much farther apart the edges of both sides would let the rails meet, and the level piece instead."""
    moved = meeting.after if meeting.after.slope else meeting.before
    if not moved.slope:
        return []
    by = meeting.rises / moved.slope
    now = edge_of(meeting.after, False) - edge_of(meeting.before, True)
    fits = now + by >= 0
    why = f"the edges of the two sides then stand {float(now + by):.6g} {unit} apart along the guard"
    ways = [Remedy("riser offset", by, fits, why if fits else f"they stand only {float(now):.6g} {unit} apart")]
    if by < 0:
        ways.append(Remedy("level piece", -by, True, "the lower rail runs level as far, then the upper one climbs"))
    return ways


def _no_room(rails: Rails, meeting: Meeting) -> str:
    if meeting.after.given.start_post is not None:
        return "the job puts the post elsewhere"
    flight, half = meeting.flight, rails.job.post.width / 2
    if meeting.crossed or flight is None:
        return "the post would not stand where the surfaces meet"
    if not {meeting.before.kind, meeting.after.kind} - {"flight"}:
        return "the post would not stand against the riser between the flights"
    from_nosing = meeting.from_nosing()
    assert from_nosing is not None  # rails that never meet have no such remedy
    at_top = (flight is meeting.before) == (flight.slope > 0)
    if (from_nosing < half) if at_top else (from_nosing > -half):
        return "the post would not stand wholly on the landing, clear of the nosing"
    if not at_top:
        return "the strands would run into the landing, or the end post is in the way"
    return "the landing is too short, its end post is in the way"


def _height_remedy(rules: RuleSet, surface: PlacedSurface, value: Fraction) -> Remedy:
    """Whether every binding rule on guard height at a place allows a height."""
    what: Change = f"{surface.kind} rail height"  # type: ignore[assignment]  # each kind makes one of the words
    for rule in rules.of("guard height", surface.kind):
        too_low = rule.kind == "at least" and value < rule.value
        too_high = rule.kind == "at most" and value > rule.value
        if rule.binding and (too_low or too_high):
            return Remedy(what, value, False, f"{rule.clause}: {rule.kind} {float(rule.value):g}", surface.index)
    why = f"within {rules.name}" if rules.rules else "no rules asked for"
    return Remedy(what, value, value > 0, why, surface.index)
