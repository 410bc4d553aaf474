"""Joints and posts as plain data, ready for JSON; every key is told by `stairguard.reports.data.layout_data.result`."""

from __future__ import annotations

from typing import Any, Final

from stairguard.geometry.mitre import MirrorJoint, SawCut
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.model.guard.surfaces import Point
from stairguard.model.job import Unit
from stairguard.reports.data.encode import Encoder, Keys, Topic
from stairguard.reports.words.joints.joint_strand_words import carried_words
from stairguard.reports.words.joints.joint_words import ended_words, unmitred_words


def top_bevel(bevels_deg: tuple[float, float]) -> float:
    """One bevel of a post's top: the steeper of its two sides, with its sign."""
    return max(bevels_deg, key=abs)


def _named(place: Point | None) -> dict[str, object] | None:
    return None if place is None else {"station": place.s, "elevation": place.z}


JOINTS: Final[Topic] = {
    Joint: Keys(
        "between turn_deg bend_deg mitre_deg meets from_nosing post jog strands station boundary second_post mitred "
        "advice cut through reason remedies chord ends higher apart lap",
        made={"meets": lambda joint: _named(joint.meets), "ends": lambda joint: [_named(end) for end in joint.ends]},
        left_out="nosing unmitred barred",  # told by how far from it, as the advice and as the reason
        given="strands advice reason remedies",
    ),
    JointStrand: Keys(
        "number station elevation bend_deg whole surfaces fitting slopes_deg skews_deg end_skew_deg",
        left_out="passed ended pull",  # told in the words of the fitting, by the joint and the runs, and by the bend
        given="fitting",
    ),
    MirrorJoint: Keys(left_out="bend_deg mitre_deg"),  # which are the joint's
    SawCut: Keys("flat_mitre_deg=flat_mitre flat_tilt_deg=flat_tilt edge_mitre_deg=edge_mitre edge_tilt_deg=edge_tilt"),
    Chord: Keys(left_out="sec slope reach clear"),
    PlacedPost: Keys(
        "label station base length top_bevel_deg role holes width stands_on step support clear joint "
        "top_bevels_deg=bevels_deg bevel_break edges turned_deg=stance.turned_deg askews_deg=stance.askews_deg half",
        made={"top_bevel_deg": lambda post: top_bevel(post.bevels_deg)},
        left_out="close",
    ),
    Hole: Keys(
        "strand height marked drill_deg low_face high_face before_deg after_deg surfaces broken bears",
        left_out="passage faces",
    ),
}

_encode: Final = Encoder(JOINTS)


def joint_data(joint: Joint, unit: Unit) -> dict[str, Any]:
    """One joint, its strands with the words of what carries them through or ends them."""
    strands = [_encode.record(strand, fitting=carried_words(joint, strand)) for strand in joint.strands]
    return _encode.record(
        joint,
        strands=strands,
        advice=unmitred_words(joint),
        reason=ended_words(joint.barred, unit),
        remedies=_remedies(joint),
    )


def _remedies(joint: Joint) -> list[dict[str, Any]]:
    if not joint.remedies:
        return []
    from stairguard.reports.data.remedy_data import remedy_data  # few guards have a jog

    return [remedy_data(remedy) for remedy in joint.remedies]
