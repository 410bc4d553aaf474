"""What is said of a joint under its detail: rails and their cuts, the post's top, a jog, every strand."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from stairguard.model.guard.pieces import EndCut
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.drawing.paper import metrics
from stairguard.reports.drawing.paper.columns import Block, Cell
from stairguard.reports.drawing.paper.drafting import CAP
from stairguard.reports.words.drawing_words import (
    count,
    surface_name,
)
from stairguard.reports.words.grouping import groups, in_steps, labels
from stairguard.reports.words.joint_words import (
    carried_words,
    ended_words,
    fitting_words,
    joint_words,
    onto_chord,
    passed_words,
    turn_words,
    unmitred_words,
    uphill_words,
)
from stairguard.reports.words.lengths import Formatter, degrees_words, slight
from stairguard.reports.words.remedy_words import altered_words, setting_words

_MOST_ALIKE: Final = 6


def joint_posts(layout: Layout, joint: Joint) -> tuple[PlacedPost, ...]:
    """Return the post that makes a joint, or the two of a corner, as one comes to them."""
    found = {post.label: post for post in layout.posts}
    return tuple(found[label] for label in (joint.post, joint.second_post) if label is not None)


def rail_label(layout: Layout, surface: int) -> str:
    """Label of the rail piece over a surface, as the cut list has it."""
    return next(cut.label for cut in layout.cuts.rails if surface in cut.surfaces)


def joint_block(layout: Layout, alike: Sequence[Joint], fmt: Formatter, width: float, beside: float = 0.0) -> Block:
    """Say all of a joint that is no picture; the first of those alike stands for all.

    Parameters
    ----------
    layout
        The solved guard.
    alike
        Joints alike in all but their places, one or more.
    fmt
        Writes a length as a tape shows it.
    width
        Of the words, millimetres.
    beside
        How much of the title's line is taken, millimetres.
    """
    joint = alike[0]
    title, others = _title(alike, width - beside)
    said = [
        *others,
        _between(layout, joint),
        _rails(layout, joint, fmt),
        _met(layout, joint, fmt),
        *_cuts(layout, joint),
        *_tops(joint_posts(layout, joint)),
        *_jog(layout, joint, fmt),
        *_strands(layout, joint),
    ]
    return Block(title, tuple(row for sentence in said for row in _set(sentence, width)))


_ONE_FIGURE: Final = re.compile(r"(?<=[0-9]') (?=[0-9])|(?<=[0-9]) (?=(?:in|mm|deg)\b)")
_GLUE: Final = "·"  # as wide as a space, and in no sentence here
_INDENT: Final = 3.0


def _set(sentence: str, width: float) -> Iterator[tuple[Cell, ...]]:
    """Set a sentence in rows as wide as there is room, no figure broken between feet and inches or before its unit."""
    glued = _ONE_FIGURE.sub(_GLUE, sentence)
    for i, line in enumerate(metrics.wrap(glued, CAP, width - _INDENT)):
        cell = Cell(line.replace(_GLUE, " "), _INDENT)
        yield (cell,) if i else (Cell("-", 0.5), cell)


def _title(alike: Sequence[Joint], width: float) -> tuple[str, tuple[str, ...]]:
    """Name a joint and those like it; what does not fit the title is a sentence."""
    first = alike[0]
    name = f"JOINT {first.post}" if first.second_post is None else f"CORNER {first.post} and {first.second_post}"
    if len(alike) == 1:
        return name, ()
    rest = labels(post for joint in alike[1:] for post in (joint.post, joint.second_post) if post).split(", ")
    more = f" and {len(rest) - _MOST_ALIKE} more in the lists" if len(rest) > _MOST_ALIKE else ""
    listed = ", ".join(rest[:_MOST_ALIKE]) + more
    whole = f"{name} (alike: {listed})"
    if metrics.width(whole, CAP) <= width:
        return whole, ()
    return f"{name} and {len(alike) - 1} more", (f"alike: {listed}",)


def _between(layout: Layout, joint: Joint) -> str:
    first, last = (_name(layout, index) for index in joint.between)
    words = [f"{first} to {last}"]
    if joint.between[1] > joint.between[0] + 1:
        words[0] += ", no level piece between"
    if joint.turn_deg:
        words.append(f"{turn_words(joint)} in plan, drawn unrolled")
    if joint.second_post is not None:
        touch = joint.chord is not None and not joint.chord.clear
        words.append(f"made by two posts{' that touch' if touch else ''}")
    if abs(joint.bend_deg - abs(joint.turn_deg)) > _SAME_ANGLE:  # a level corner's bend is its turn
        words.append(f"bend {degrees_words(joint.bend_deg)}{' in space' if joint.turn_deg else ''}")
    elif not joint.turn_deg:
        words.append("straight on")
    return ", ".join(words)


_SAME_ANGLE: Final = 1e-6


def _name(layout: Layout, index: int) -> str:
    return surface_name(layout, layout.line.surfaces[index])


def _rails(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    heights = []
    for index in joint.between:
        name = _name(layout, index)
        over = f"nosing line of {name}" if layout.line.surfaces[index].nosings else name
        heights.append(f"{fmt(layout.rails[index].height)} over {over}")
    return f"rail tops, plumb: {', '.join(heights)}"


def _met(layout: Layout, joint: Joint, fmt: Formatter) -> str:
    """Say where the rails meet and the post stands, from the nosing here, else from the edge or corner."""
    post = f"post centre {_place(layout, joint, joint.station, fmt)}"
    if joint.second_post is not None:
        post = "the corner is between the posts"
    if joint.mitred:
        apart = f" (what is left, {_small(joint.apart, layout)}, is less than half a mark)" if joint.apart else ""
        over = "at the corner" if joint.second_post is not None else "over the post's centre"
        place = _place(layout, joint, joint.ends[0].s, fmt)
        if joint.ends[0].s != joint.station:
            return f"rails meet over the post, {place}; {post}{apart}"
        return f"rails meet {over}{'' if place == over else f', {place}'}{apart}"
    if joint.meets is None:
        return f"rails parallel, never meet; {post}"
    return f"rails produced would meet {_place(layout, joint, joint.meets.s, fmt)}; {post}"


def _small(length: Fraction, layout: Layout) -> str:
    return slight(abs(length), layout.job.unit)


def _place(layout: Layout, joint: Joint, station: Fraction, fmt: Formatter) -> str:
    """Say where a station is: level and uphill or downhill of the nosing, or past the edge or corner."""
    nosing = joint.nosing
    if nosing is None:
        edge = "corner" if joint.turn_deg else "edge"
        past = station - joint.boundary
        return f"{fmt(abs(past))} level {'past' if past > 0 else 'before'} the {edge}" if past else f"at the {edge}"
    name = f"nosing {nosing.number}"
    if all(layout.line.surfaces[i].nosings for i in joint.between):
        name += f" of {surface_name(layout, layout.line.surfaces[nosing.surface])}"
    return uphill_words(nosing.uphill(station), name, fmt)


def _cuts(layout: Layout, joint: Joint) -> Iterator[str]:
    """Say how each piece is cut, and whether the two mate flush."""
    cuts: dict[str, list[str]] = {}
    for side, index in enumerate(joint.between):
        piece = next(cut for cut in layout.cuts.rails if index in cut.surfaces)
        cuts.setdefault(_cut(piece.start_cut if side else piece.end_cut), []).append(piece.label)
    lines = [f"{' and '.join(dict.fromkeys(pieces))}: {cut}" for cut, pieces in cuts.items()]
    if joint.mitred:
        lines[-1] += "; they meet flush"
    yield from lines
    if not joint.mitred:
        yield unmitred_words(joint)


_NAMES: Final = {
    "square": "square cut",
    "plumb": "plumb cut",
    "mitre": "mitre",
    "plan mitre": "mitre across its top",
    "compound": "compound cut",
}


def _cut(cut: EndCut) -> str:
    """Name a cut with the saw's settings, the piece laid flat, and its long point."""
    if cut.kind == "square":
        return _NAMES[cut.kind]
    across = cut.kind in ("plan mitre", "compound")
    mitre, tilt = (cut.angle_deg, cut.tilt_deg) if across else (0.0, cut.angle_deg)
    saw = f"laid flat: mitre {degrees_words(mitre)}, tilt {degrees_words(tilt)}"
    long = {
        "top": ", long at top",
        "underside": ", long at underside",
        "outside": ", long outside",
        "inside": ", long inside",
    }
    edge = f" at {cut.edge}" if cut.edge else ""
    return f"{_NAMES[cut.kind]}, {saw}{long.get(cut.long_point, '')}{edge}"


def _tops(posts: Sequence[PlacedPost]) -> Iterator[str]:
    for same in groups(posts, lambda post: post.bevels_deg):
        names = " and ".join(post.label for post in same)
        before, after = map(_slope, same[0].bevels_deg)
        yield f"top of {names}: {before if before == after else f'{before} before, {after} after'}"


def _slope(angle: float) -> str:
    if round(angle, 1) == 0:
        return "level"
    return f"{degrees_words(abs(angle))} {'up' if angle > 0 else 'down'}"


def _jog(layout: Layout, joint: Joint, fmt: Formatter) -> Iterator[str]:
    if not joint.jog:
        return
    yield joint_words(layout, joint, fmt)[-1]
    ways = [
        f"{altered_words(remedy)} ({', '.join(setting_words(one, layout.job.unit) for one in remedy.settings)})"
        for remedy in joint.remedies
        if remedy.allowed
    ]
    barred = len(joint.remedies) - len(ways)
    if ways:
        yield f"to be rid of it: {' or '.join(ways)}"
    if barred:
        yield f"{count(barred, 'way')} not allowed: see the lists"


def _strands(layout: Layout, joint: Joint) -> Iterator[str]:
    """Say which strands pass whole and which end, with fitting, slope and skew, and why any end."""
    whole = [s for s in joint.strands if s.whole]
    for same in groups(whole, lambda s: (s.fitting, s.bend_deg, s.slopes_deg, s.skews_deg)):
        yield _whole(joint, same)
    ended = [s for s in joint.strands if not s.whole]
    for same in groups(ended, lambda s: (s.surfaces, s.passed, s.bend_deg, s.slopes_deg, s.skews_deg)):
        yield _ended(layout, joint, same)
    if ended:
        yield f"why: {'; '.join(_reasons(layout, ended))}"


def _whole(joint: Joint, same: Sequence[JointStrand]) -> str:
    strand = same[0]
    words = f"{_numbered(same)} whole: {carried_words(joint, strand)}"
    before, after = strand.slopes_deg
    if strand.bend_deg:
        words += f", bend {degrees_words(strand.bend_deg)}"
    words += f"; {_slope(before or 0.0)} before, {_slope(after or 0.0)} after"
    skew = strand.skews_deg[1]
    return f"{words}; {degrees_words(abs(skew))} askew in plan to either face" if skew else words


def _ended(layout: Layout, joint: Joint, same: Sequence[JointStrand]) -> str:
    strand = same[0]
    side = 0 if strand.surfaces[0] == joint.between[0] else 1
    slope, skew = strand.slopes_deg[side] or 0.0, strand.skews_deg[side] or 0.0
    kinds = groups(same, lambda s: s.fitting)
    fittings = [
        fitting_words(kind[0].fitting) + (f" {in_steps(s.number for s in kind)}" if len(kinds) > 1 else "")
        for kind in kinds
    ]
    verb = "ends" if len(same) == 1 else "end"
    if joint.second_post is not None:
        verb += f" at {joint.end_post(strand)}"
    askew = f", {degrees_words(abs(skew))} askew in plan" if skew else ""
    where = _name(layout, strand.surfaces[0])
    way = f"{_slope(slope)}{askew}{onto_chord(joint, strand)}"
    return f"{_numbered(same)} of {where} {verb}: {', '.join(fittings)}{passed_words(joint, strand)}; {way}"


def _numbered(same: Sequence[JointStrand]) -> str:
    return f"strand{'s' if len(same) > 1 else ''} {in_steps(s.number for s in same)}"


def _reasons(layout: Layout, ended: Sequence[JointStrand]) -> tuple[str, ...]:
    """What made the strands end here, each reason once, from the rail down."""
    found = (strand.ended for strand in sorted(ended, key=lambda strand: strand.number))
    return tuple(dict.fromkeys(ended_words(why, layout.job.unit) for why in found))
