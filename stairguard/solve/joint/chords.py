"""Chords: how strands run straight from one post of a corner to the other, across it."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin

from stairguard.geometry.slope import pitch_deg, secant
from stairguard.model.guard.rails_and_strands import Chord
from stairguard.relations.printed import scalars
from stairguard.solve.joint.corner_posts import TOUCH
from stairguard.solve.joint.rail_meeting import Meeting


def chord(meeting: Meeting, width: Fraction) -> Chord:
    """The chord of a meeting made by two posts of a width.

    A strand climbs from one post to the other what its two lines climb to and from the corner, where they cross; rails
    that arrive at different heights change nothing in that. What is left between posts that touch is rounding.
    """
    (first, _), (second, _) = meeting.feet
    before, after, half_turn = meeting.before, meeting.after, meeting.turn_deg / 2
    aside, along = abs(sin(radians(half_turn))), cos(radians(half_turn))
    level = (second - first) * Fraction(along)
    rise = (meeting.station - first) * before.slope + (second - meeting.station) * after.slope
    slope = rise / level
    pitch = pitch_deg(slope)
    bends = scalars.bend(before.pitch_deg, pitch, half_turn), scalars.bend(pitch, after.pitch_deg, half_turn)
    sec = float(secant(slope))
    # past an eighth of a turn it comes out of the post's side
    reach = 1 / Fraction(max(aside, along))
    clear = _left(Fraction(float(level)) - width * reach, width)
    return Chord(
        level=float(level),
        length=float(level) * sec,
        sec=sec,
        slope=slope,
        pitch_deg=pitch,
        skew_deg=abs(half_turn),
        reach=reach,
        bends_deg=bends,
        clear=clear,
    )


def _left(gap: Fraction, width: Fraction) -> Fraction:
    """What is left between two posts of a width: nothing where it is rounding."""
    return gap if gap >= TOUCH * width / 2 else Fraction(0)
