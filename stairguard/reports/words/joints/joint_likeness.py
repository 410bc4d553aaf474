"""What joints must have in common for one to be told, or drawn, for all."""

from __future__ import annotations

from collections.abc import Hashable

from stairguard.model.guard.rail_joints import Joint
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
