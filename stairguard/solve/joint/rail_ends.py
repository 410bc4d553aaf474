"""How the rails of a joint end: mitred where their tops meet over the post, else on its faces; and the jog left.

A jog is measured where the rails really end, at the post's faces, each on its rail's middle line.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.geometry.marks import one_height
from stairguard.geometry.mitre import MirrorJoint, mirror_joint
from stairguard.model.guard.rail_joints import Unmitred
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.solve.joint.laps import lap
from stairguard.solve.joint.rail_meeting import HALF_TURN, Meeting, Rails


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """How two rails join: the true mitre in space, if there is one, and why they are not cut to it.

    ``ends`` are the stations where the two end, one and the same of mitred rails. ``step`` is how far the rail after
    stands above the rail before at its end: of mitred rails less than half a mark, of others the jog, if there is one,
    as ``jogs`` says. ``lap`` is how far from a corner the rails of both legs lie in one another; see
    `stairguard.solve.joint.laps`. ``chord`` is how strands run between the two posts of a corner, None where there is
    one.
    """

    cut: MirrorJoint | None
    unmitred: Unmitred | None
    ends: tuple[Fraction, Fraction]
    step: Fraction
    jogs: bool
    lap: float = 0.0
    chord: Chord | None = None

    @property
    def mitred(self) -> bool:
        """Whether the rails are cut to the true mitre."""
        return self.unmitred is None

    @property
    def bend_deg(self) -> float:
        """The bend in space of rail and strands."""
        return float(HALF_TURN) if self.cut is None else self.cut.bend_deg


def joined(rails: Rails, meeting: Meeting, chord: Chord | None) -> Joined:
    """Join the rails of a meeting; ``chord`` as of `Joined`."""
    before, after, turn = meeting.before, meeting.after, meeting.turn_deg
    folded = abs(turn) == HALF_TURN and before.slope == -after.slope
    cut = None if folded else mirror_joint(before.slope, after.slope, turn)
    faces = _faces(rails, meeting)
    mates = cut is not None and cut.flush and abs(turn) != HALF_TURN
    at = _met(rails, meeting, faces) if mates else None
    if at is not None:
        lapped = lap(rails, meeting, (float(at), float(at)), mitred=True)
        return Joined(
            cut=cut,
            unmitred=None,
            ends=(at, at),
            step=_step(rails, meeting, at, at),
            jogs=False,
            lap=lapped,
            chord=chord,
        )
    step = _step(rails, meeting, *faces)
    jogs = not one_height(step, rails.job.mark) and (mates or not _passes(rails, meeting, faces, step))
    lapped = lap(rails, meeting, (float(faces[0]), float(faces[1])), mitred=False)
    why: Unmitred = "different heights" if jogs else _why(cut, turn, mates)
    return Joined(cut=cut, unmitred=why, ends=faces, step=step, jogs=jogs, lap=lapped, chord=chord)


def _step(rails: Rails, meeting: Meeting, first: Fraction, second: Fraction) -> Fraction:
    return rails.top(meeting.after, second) - rails.top(meeting.before, first)


def _faces(rails: Rails, meeting: Meeting) -> tuple[Fraction, Fraction]:
    """Where rails end that are not mitred: on the post's faces; of two posts each runs on over its own."""
    half = rails.job.post.width / 2
    if meeting.two:
        return meeting.feet[0][0] + half, meeting.feet[1][0] - half
    return meeting.station - half * meeting.stance.reach, meeting.station + half * meeting.stance.reach


def _met(rails: Rails, meeting: Meeting, faces: tuple[Fraction, Fraction]) -> Fraction | None:
    """Station where both tops are one height: the post's centre if they are so there, else where they cross over it.

    In space rails that turn cross over the corner alone.
    """
    mark, centre = rails.job.mark, meeting.station
    if one_height(_step(rails, meeting, centre, centre), mark):
        return centre
    if meeting.turn_deg or meeting.meets is None:
        return None
    at = min(max(meeting.meets, faces[0]), faces[1])
    return at if one_height(_step(rails, meeting, at, at), mark) else None


def _passes(rails: Rails, meeting: Meeting, faces: tuple[Fraction, Fraction], step: Fraction) -> bool:
    """Whether rails that no mitre joins climb at the post no more than one unbroken line does, and no other way."""
    climb = meeting.before.slope * (meeting.station - faces[0]) + meeting.after.slope * (faces[1] - meeting.station)
    least = rails.job.mark / 2
    return min(climb, Fraction(0)) - least < step < max(climb, Fraction(0)) + least


def _why(cut: MirrorJoint | None, turn: float, mates: bool) -> Unmitred:
    """Why rails end on the post though they leave no jog."""
    if cut is None:
        return "turned back"
    if abs(turn) == HALF_TURN:
        return "half-turn"
    return "different lines" if mates else "twisted"
