"""Joints and posts as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any

from stairguard.geometry.mitre import MirrorJoint, SawCut
from stairguard.model.guard.jogs import Setting
from stairguard.model.guard.placed_posts import Hole, PlacedPost
from stairguard.model.guard.rail_joints import Joint, JointStrand
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.reports.words.drawing_words import fitting_words

__all__ = ["joint_data", "post_data", "top_bevel"]


def top_bevel(bevels_deg: tuple[float, float]) -> float:
    """One bevel of a post's top: the steeper of its two sides, with its sign."""
    return max(bevels_deg, key=abs)


def joint_data(joint: Joint) -> dict[str, Any]:
    """One joint."""
    meets = joint.meets
    return {
        "between": list(joint.between),
        "turn_deg": joint.turn_deg,
        "bend_deg": joint.bend_deg,
        "mitre_deg": joint.mitre_deg,
        "meets": None if meets is None else {"station": float(meets.s), "elevation": float(meets.z)},
        "from_nosing": None if joint.from_nosing is None else float(joint.from_nosing),
        "post": joint.post,
        "jog": float(joint.jog),
        "strands": [_strand(joint, strand) for strand in joint.strands],
        "station": float(joint.station),
        "boundary": float(joint.boundary),
        "second_post": joint.second_post,
        "mitred": joint.mitred,
        "advice": joint.advice,
        "cut": None if joint.cut is None else _cut(joint.cut),
        "through": joint.through,
        "reason": joint.reason,
        "remedies": [
            {
                "what": remedy.what,
                "value": float(remedy.value),
                "allowed": remedy.allowed,
                "why": remedy.why,
                "surface": remedy.surface,
                "settings": [_setting(setting) for setting in remedy.settings],
                "effects": [
                    {"what": e.what, "where": e.where, "size": None if e.size is None else float(e.size)}
                    for e in remedy.effects
                ],
            }
            for remedy in joint.remedies
        ],
        "chord": None if joint.chord is None else _chord(joint.chord),
        "ends": [{"station": float(end.s), "elevation": float(end.z)} for end in joint.ends],
        "higher": joint.higher,
        "apart": float(joint.apart),
        "lap": joint.lap,
    }


def _setting(setting: Setting) -> dict[str, Any]:
    value = setting.value
    return {"key": setting.key, "value": value if isinstance(value, bool) else float(value)}


def _chord(chord: Chord) -> dict[str, Any]:
    return {
        "level": chord.level,
        "length": chord.length,
        "pitch_deg": chord.pitch_deg,
        "skew_deg": chord.skew_deg,
        "bends_deg": list(chord.bends_deg),
    }


def _strand(joint: Joint, strand: JointStrand) -> dict[str, Any]:
    return {
        "number": strand.number,
        "station": float(strand.station),
        "elevation": float(strand.elevation),
        "bend_deg": strand.bend_deg,
        "whole": strand.whole,
        "surfaces": list(strand.surfaces),
        "fitting": fitting_words(joint, strand),
        "slopes_deg": list(strand.slopes_deg),
        "skews_deg": list(strand.skews_deg),
        "end_skew_deg": strand.end_skew_deg,
    }


def _cut(cut: MirrorJoint) -> dict[str, Any]:
    return {"first": _saw(cut.first), "second": _saw(cut.second), "twist_deg": cut.twist_deg, "flush": cut.flush}


def _saw(saw: SawCut) -> dict[str, float]:
    return {
        "flat_mitre_deg": saw.flat_mitre,
        "flat_tilt_deg": saw.flat_tilt,
        "edge_mitre_deg": saw.edge_mitre,
        "edge_tilt_deg": saw.edge_tilt,
    }


def post_data(post: PlacedPost) -> dict[str, Any]:
    """One post, wall or newel, with its holes."""
    return {
        "label": post.label,
        "station": float(post.station),
        "base": float(post.base),
        "length": float(post.length),
        "top_bevel_deg": top_bevel(post.bevels_deg),
        "role": post.role,
        "holes": [_hole(hole) for hole in post.holes],
        "width": float(post.width),
        "stands_on": post.stands_on,
        "step": post.step,
        "support": post.support,
        "clear": None if post.clear is None else float(post.clear),
        "joint": post.joint,
        "top_bevels_deg": list(post.bevels_deg),
        "bevel_break": float(post.bevel_break),
        "edges": [float(edge) for edge in post.edges],
        "turned_deg": post.stance.turned_deg,
        "askews_deg": list(post.stance.askews_deg),
        "half": float(post.half),
    }


def _hole(hole: Hole) -> dict[str, Any]:
    return {
        "strand": hole.strand,
        "height": float(hole.height),
        "marked": float(hole.marked),
        "drill_deg": hole.drill_deg,
        "low_face": float(hole.low_face),
        "high_face": float(hole.high_face),
        "before_deg": hole.before_deg,
        "after_deg": hole.after_deg,
        "surfaces": list(hole.surfaces),
        "broken": hole.broken,
        "bears": list(hole.bears),
    }
