"""Strands at a joint in English: which pass whole and which end, with fitting, bend, slope and how askew they come.

A page tells them in sentences of their own, a drawing more briefly.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence

from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.words.drawing_words import surface_name
from stairguard.reports.words.grouping import groups, in_steps
from stairguard.reports.words.joints.joint_words import ended_words, fitting_words
from stairguard.reports.words.lengths import Formatter, degrees_words, fixed, rising_words
from stairguard.reports.words.names import surface_names


def carried_words(joint: Joint, strand: JointStrand) -> str:
    """What carries a strand through a joint or ends it there; at a corner of two posts, what at which of them."""
    words = fitting_words(strand.fitting)
    if strand.passed is not None:
        return f"{words} at {joint.end_post(strand)}{_passed(joint, strand)}"
    return f"{words}, at each of two posts" if strand.whole and joint.second_post else words


def strand_sentences(layout: Layout, joint: Joint, fmt: Formatter) -> Iterator[str]:
    """Strands that pass whole and strands that end, alike ones once, as a page tells them."""
    posts = "both posts" if joint.second_post else "this post"
    if not joint.whole:
        because = ended_words(joint.barred, layout.job.unit)
        yield f"Strands whole through {posts}: none{f': {because}' if because else ''}."
    for same in groups(joint.whole, _told):
        yield f"Strands whole through {posts}: {_numbers(same)}: {_whole(joint, same[0])}{_across(joint, fmt)}."
    names = surface_names(layout)
    for same in groups(joint.ended, _told):
        strand = same[0]
        here = f"at {joint.end_post(strand)}" if joint.second_post else "here"
        carried = f"{fitting_words(strand.fitting)}{_passed(joint, strand)}"
        way = _arriving(joint, strand, lambda slope: f"slope {degrees_words(slope)}")
        yield f"Ended {here}: {_numbers(same)} of {names[strand.surfaces[0]]}: {carried}, {way}."


def strand_notes(layout: Layout, joint: Joint) -> Iterator[str]:
    """Strands that pass whole and strands that end, alike ones once, and why any end, as a drawing tells them."""
    for same in groups(joint.whole, _told):
        yield _whole_note(joint, same)
    for same in groups(joint.ended, lambda s: (s.surfaces, s.passed, s.bend_deg, s.slopes_deg, s.skews_deg)):
        yield _ended_note(layout, joint, same)
    if joint.ended:
        from_the_rail_down = sorted(joint.ended, key=lambda strand: strand.number)
        reasons = dict.fromkeys(ended_words(strand.ended, layout.job.unit) for strand in from_the_rail_down)
        yield f"why: {'; '.join(reasons)}"


def _told(strand: JointStrand) -> Hashable:
    """All that is told of a strand but its number."""
    return strand.surfaces, strand.fitting, strand.passed, strand.bend_deg, strand.slopes_deg, strand.skews_deg


def _numbers(same: Sequence[JointStrand]) -> str:
    return in_steps(strand.number for strand in same)


def _numbered(same: Sequence[JointStrand]) -> str:
    return f"strand{'s' if len(same) > 1 else ''} {_numbers(same)}"


def _whole(joint: Joint, strand: JointStrand) -> str:
    """What carries a strand through, and how it bends there and bears on the one post."""
    words = carried_words(joint, strand)
    if not strand.bend_deg:
        return words
    before, after = (degrees_words(slope or 0.0) for slope in strand.slopes_deg)
    in_all = " in all" if joint.second_post else ""
    words += f", bend {degrees_words(strand.bend_deg)}{in_all}, slope {before} before and {after} after"
    words += _either_face(strand, ", ")
    if joint.second_post is None:
        words += f"; each bears on the post with {fixed(strand.pull, 2)} of its tension"
    return words


def _whole_note(joint: Joint, same: Sequence[JointStrand]) -> str:
    strand = same[0]
    bend = f", bend {degrees_words(strand.bend_deg)}" if strand.bend_deg else ""
    before, after = (rising_words(slope or 0.0) for slope in strand.slopes_deg)
    words = f"{_numbered(same)} whole: {carried_words(joint, strand)}{bend}; {before} before, {after} after"
    return words + _either_face(strand, "; ")


def _either_face(strand: JointStrand, lead: str) -> str:
    """How askew a strand that passes comes to the outer faces, "" where it is square to them."""
    skew = strand.skews_deg[1]
    return f"{lead}{degrees_words(abs(skew))} askew in plan to either face" if skew else ""


def _ended_note(layout: Layout, joint: Joint, same: Sequence[JointStrand]) -> str:
    strand = same[0]
    kinds = groups(same, lambda s: s.fitting)
    several = len(kinds) > 1
    fittings = [fitting_words(kind[0].fitting) + (f" {_numbers(kind)}" if several else "") for kind in kinds]
    verb = "ends" if len(same) == 1 else "end"
    if joint.second_post is not None:
        verb += f" at {joint.end_post(strand)}"
    where = surface_name(layout, layout.line.surfaces[strand.surfaces[0]])
    carried = f"{', '.join(fittings)}{_passed(joint, strand)}"
    return f"{_numbered(same)} of {where} {verb}: {carried}; {_arriving(joint, strand, rising_words)}"


def _passed(joint: Joint, strand: JointStrand) -> str:
    """What carries a strand through one of a corner's two posts that ends at the other, "" of any that does not."""
    return "" if strand.passed is None else f", {fitting_words(strand.passed)} at {joint.own_post(strand)}"


def _arriving(joint: Joint, strand: JointStrand, sloping: Callable[[float], str]) -> str:
    """How a strand that ends comes to the post of its own leg, and of two on from there to where it ends."""
    side = joint.side_of(strand)
    skew = strand.skews_deg[side]
    words = sloping(strand.slopes_deg[side] or 0.0)
    if skew:
        words += f", {degrees_words(abs(skew))} askew in plan"
    if strand.end_skew_deg is None or joint.chord is None:
        return words
    return (
        f"{words}; bend {degrees_words(strand.bend_deg)} at {joint.own_post(strand)}, then slope "
        f"{degrees_words(joint.chord.pitch_deg)} and {degrees_words(strand.end_skew_deg)} askew in plan to the inner "
        f"faces of both posts"
    )


def _across(joint: Joint, fmt: Formatter) -> str:
    """How strands run between the two posts of a corner, "" at one post."""
    chord = joint.chord
    if chord is None:
        return ""
    bends = [degrees_words(bend) for bend in chord.bends_deg]
    bent = f"{bends[0]} at each" if bends[0] == bends[1] else f"{bends[0]} at {joint.post} and {bends[1]} at the other"
    return (
        f"; bend {bent}; between them {fmt(chord.length)} from centre to centre, slope "
        f"{degrees_words(chord.pitch_deg)}, {degrees_words(chord.skew_deg)} askew in plan to their inner faces"
    )
