"""Cuts of rails and of joint posts' tops in English: for the saw, in a list, and beside the joint they are made for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from stairguard.geometry.mitre import MirrorJoint, SawCut
from stairguard.model.guard.pieces import CutKind, EndCut, LongPoint
from stairguard.model.guard.placed_posts import PlacedPost
from stairguard.model.guard.rail_joints import Joint
from stairguard.model.guard.solved_layout import Layout
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.joints.joint_words import unmitred_words
from stairguard.reports.words.lengths import degrees_words, rising_words
from stairguard.reports.words.names import surface_names

_UNDER: Final = {"top": "top", "underside": "under"}


def cut_in_list(cut: EndCut) -> str:
    """Write a cut in few words: by its angle from square, or across a piece laid flat, and where its long point is."""
    if cut.kind == "square":
        return "square"
    if cut.across:
        point = f"{cut.side} {_UNDER.get(cut.edge, '')}".rstrip()
        return f"flat {degrees_words(cut.angle_deg)} / {degrees_words(cut.tilt_deg)} {point}"
    return f"{cut.kind} {degrees_words(cut.angle_deg)} {_UNDER.get(cut.long_point, '')}".rstrip()


_NAMES: Final[Mapping[CutKind, str]] = {
    "square": "square cut",
    "plumb": "plumb cut",
    "mitre": "mitre",
    "plan mitre": "mitre across its top",
    "compound": "compound cut",
}
_LONG: Final[Mapping[LongPoint, str]] = {
    "top": ", long at top",
    "underside": ", long at underside",
    "outside": ", long outside",
    "inside": ", long inside",
    "neither": "",
}


def _named(cut: EndCut) -> str:
    """Name a cut with the saw's settings, the piece laid flat, and its long point."""
    if cut.kind == "square":
        return _NAMES[cut.kind]
    mitre, tilt = (cut.angle_deg, cut.tilt_deg) if cut.across else (0.0, cut.angle_deg)
    edge = f" at {cut.edge}" if cut.edge else ""
    saw = f"laid flat: mitre {degrees_words(mitre)}, tilt {degrees_words(tilt)}"
    return f"{_NAMES[cut.kind]}, {saw}{_LONG[cut.long_point]}{edge}"


def cut_notes(layout: Layout, joint: Joint) -> Iterator[str]:
    """How each piece is cut, and whether the two mate flush, as a drawing tells it."""
    cuts: dict[str, list[str]] = {}
    for piece, cut in _ends(layout, joint):
        cuts.setdefault(_named(cut), []).append(piece)
    lines = [f"{' and '.join(dict.fromkeys(pieces))}: {cut}" for cut, pieces in cuts.items()]
    if joint.mitred:
        lines[-1] += "; they meet flush"
    yield from lines
    if not joint.mitred:
        yield unmitred_words(joint)


def _ends(layout: Layout, joint: Joint) -> Iterator[tuple[str, EndCut]]:
    """The labels of both rails' pieces, and how they end at a joint."""
    before, after = (layout.cuts.rail_over(index) for index in joint.between)
    yield before.label, before.end_cut
    yield after.label, after.start_cut


def cut_sentences(layout: Layout, joint: Joint) -> str:
    """How the rails are cut at a joint, as a page tells it: mitred, or each to end on the post, and why."""
    if not joint.mitred or joint.cut is None:
        advice = unmitred_words(joint)
        words = f"{_on_faces(layout, joint)} {advice[:1].upper()}{advice[1:]}."
        return words if joint.jog or joint.cut is None or joint.cut.flush else f"{words} {_twisted(joint.cut)}"
    if joint.bend_deg == 0:
        return "The rail runs straight on: square cuts, flush."
    if not joint.turn_deg:
        half = degrees_words(joint.mitre_deg)
        return (
            f"Mitre {half} on each piece, leaning in the rail's plumb plane (on edge: mitre {half}; laid flat: blade "
            f"tilted {half}); they meet flush."
        )
    first, second = _saw(joint.cut.first), _saw(joint.cut.second)
    if first == second:
        return f"Each piece, laid flat: {first}; they meet flush."
    return f"Laid flat, the piece before: {first}; the piece after: {second}; they meet flush."


def _twisted(cut: MirrorJoint) -> str:
    """The true mitre that leaves the sections twisted, for an easing cut from solid, say."""
    return (
        f"The true mitre, not flush, laid flat: the piece before {_saw(cut.first)}; the piece after {_saw(cut.second)}."
    )


def _saw(saw: SawCut) -> str:
    mitre, tilt = degrees_words(abs(saw.flat_mitre)), degrees_words(abs(saw.flat_tilt))
    upright = tilt == degrees_words(0)
    return f"mitre {mitre} across its top, blade {'upright' if upright else f'tilted {tilt}'}"


def _on_faces(layout: Layout, joint: Joint) -> str:
    """How rails that are not mitred end: plumb, on the post."""
    names = surface_names(layout)
    ends = zip(joint.between, _ends(layout, joint), strict=True)
    cuts = [f"that of {names[index]} {_on_face(cut)}" for index, (_, cut) in ends]
    where = "run on to the far faces of their own posts" if joint.second_post else "end on the post"
    return f"The pieces {where}, {' and '.join(cuts)}."


def _on_face(cut: EndCut) -> str:
    if cut.kind == "square":
        return "square"
    if not cut.side:
        return f"plumb ({degrees_words(cut.angle_deg)} from square)"
    tilt = f", blade tilted {degrees_words(cut.tilt_deg)}" if cut.tilt_deg else ""
    return f"plumb, askew (laid flat: mitre {degrees_words(cut.angle_deg)}{tilt}, long {cut.long_point} the turn)"


def top_notes(posts: Sequence[PlacedPost]) -> Iterator[str]:
    """How the tops of a joint's posts slope, alike ones once, as a drawing tells it."""
    for same in groups(posts, lambda post: post.bevels_deg):
        names = " and ".join(post.label for post in same)
        before, after = map(rising_words, same[0].bevels_deg)
        yield f"top of {names}: {before if before == after else f'{before} before, {after} after'}"
