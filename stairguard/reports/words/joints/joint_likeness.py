"""What joints must have in common for one to be told, or drawn, for all; and which the others are."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from stairguard.model.guard.rail_joints import Joint
from stairguard.reports.words.grouping import in_steps, labels
from stairguard.reports.words.remedy_words import remedies_here


def apart_from_place(joint: Joint) -> Hashable:
    """All of a joint but where it is; surfaces count from its first."""
    first = joint.between[0]
    meets = None if joint.meets is None else joint.meets.s - joint.station
    strands = tuple(
        (s.number, s.bend_deg, tuple(i - first for i in s.surfaces), s.fitting, s.passed, s.slopes_deg, s.skews_deg)
        for s in joint.strands
    )
    return (
        joint.between[1] - first, joint.turn_deg, joint.bend_deg, meets, joint.from_nosing,
        joint.station - joint.boundary, joint.jog, joint.cut, joint.unmitred, remedies_here(joint), joint.barred,
        strands, joint.chord,
    )  # fmt: skip


def alike_sentence(same: Sequence[Joint]) -> str:
    """Name the others of alike joints, and where there is a jog from which surfaces the keys of their ways count."""
    first, *others = same
    words = f"Alike: {labels(label for other in others for label in other.labels)}"
    if not first.jog:
        return f"{words}."
    firsts = in_steps(other.between[0] + 1 for other in others)
    return f"{words}, where the keys below count from surface {firsts} on instead of {first.between[0] + 1}."
