"""Directions in space, and the true mitre of two rails that meet there.

Plan angles are headings, left positive; slopes are elevation per level length. A stick has a frame of its own: axis
along its run, side level to the left, up square to both.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import atan2, cos, degrees, hypot, radians, remainder, sin
from typing import Final, NamedTuple

from stairguard.errors import Fault, GeometryError
from stairguard.geometry.slope import pitch_deg
from stairguard.relations.printed import scalars

_HALF_TURN: Final = 180


class Vec3(NamedTuple):
    """A vector: x and y in plan, z up."""

    x: float
    y: float
    z: float

    def dot(self, other: Vec3) -> float:
        """Scalar product."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: Vec3) -> Vec3:
        """Vector product."""
        return Vec3(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )

    def plus(self, other: Vec3, times: float = 1.0) -> Vec3:
        """Sum with a multiple of another."""
        return Vec3(self.x + times * other.x, self.y + times * other.y, self.z + times * other.z)


@dataclass(frozen=True, slots=True)
class SawCut:
    """How to set a saw for a joint plane, degrees, -90 to 90.

    With the stick laid flat, its top up: ``flat_mitre`` across its top, ``flat_tilt`` of the blade from plumb. On edge,
    its side up: ``edge_mitre`` and ``edge_tilt``. A mitre is from square across the stick. Signs are those of the
    plane's normal, taken along the path, seen in the stick: ``flat_mitre`` and ``edge_tilt`` are positive where it
    leans to the stick's left, ``flat_tilt`` and ``edge_mitre`` where it leans to its top. So a level left quarter turn
    has +45 on the stick that arrives and -45 on the one that leaves; the outer edge is the long one on both.
    """

    flat_mitre: float
    flat_tilt: float
    edge_mitre: float
    edge_tilt: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MirrorJoint:
    """Two sticks cut to the plane that halves their bend.

    ``twist_deg`` is the roll about its own axis that the second stick, plumb-sided, would need for its rectangular
    section to meet the first's: the smallest, -90 to 90, since half a turn looks alike; positive turning its left side
    down, as a left turn that climbs needs. ``flush`` is exact: no twist is needed, and top meets top.
    """

    bend_deg: float
    mitre_deg: float
    first: SawCut
    second: SawCut
    twist_deg: float
    flush: bool


def direction(slope: Fraction | float, heading_deg: float) -> Vec3:
    """Unit vector along a slope, at a heading in plan."""
    sec = hypot(1.0, float(slope))
    x, y = _plan(heading_deg)
    return Vec3(x / sec, y / sec, float(slope) / sec)


def _plan(heading_deg: float) -> tuple[float, float]:
    """Cosine and sine of a heading, exact at quarter turns."""
    quarters, rest = divmod(heading_deg, 90)
    if rest == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    return cos(radians(heading_deg)), sin(radians(heading_deg))


def cosine(turn_deg: float) -> Fraction:
    """Of a turn in plan, exact at quarter turns."""
    return Fraction(_plan(turn_deg)[0])


def nearest_square(slopes: tuple[Fraction, Fraction], bend: Fraction, rise: Fraction, half: Fraction) -> Fraction:
    """Square of the least distance of two straight lines that cross one plumb line, near it.

    Parameters
    ----------
    slopes : of the two, each along its own heading
    bend : cosine of the angle in plan from the one heading to the other
    rise : from where the first crosses the plumb line up to where the second does
    half : how far, level, either goes to both sides of the plumb line
    """
    first, second = slopes
    along, other, both = 1 + first * first, 1 + second * second, bend + first * second

    def square(t: Fraction, u: Fraction) -> Fraction:
        """Between the places ``t`` and ``u``, level, from the plumb line."""
        return along * t * t - 2 * both * t * u + other * u * u + 2 * rise * (second * u - first * t) + rise * rise

    # square to both, where both go so far; else it is an end of the one or the other
    if spread := along * other - both * both:
        t, u = rise * (first * other - both * second) / spread, rise * (both * first - along * second) / spread
        if max(abs(t), abs(u)) <= half:
            return square(t, u)
    ends = []
    for end in (-half, half):
        ends.append(square(end, min(max((both * end - rise * second) / other, -half), half)))
        ends.append(square(min(max((both * end + rise * first) / along, -half), half), end))
    return min(ends)


def _frame(slope: Fraction, heading_deg: float) -> tuple[Vec3, Vec3, Vec3]:
    axis = direction(slope, heading_deg)
    x, y = _plan(heading_deg)
    side = Vec3(-y, x, 0.0)
    return axis, side, axis.cross(side)


def mirror_joint(slope_in: Fraction, slope_out: Fraction, turn_deg: float) -> MirrorJoint:
    """The true mitre of two plumb-sided sticks.

    Parameters
    ----------
    slope_in, slope_out : Fraction
        Slopes of the stick that arrives and of the one that leaves, elevation per level length, up positive.
    turn_deg : float
        Turn in plan between them, degrees, left positive, -180 to 180.

    Returns
    -------
    MirrorJoint
        Straight on it has no bend and square cuts. At a half-turn the joint plane is square to the plumb plane both
        sticks lie in, and level where both slopes are one; the top of one section meets the underside of the other, so
        it is not flush though no twist would mend it.

    Raises
    ------
    GeometryError
        The second runs straight back over the first: no plane halves that.

    Notes
    -----
    The joint plane's normal is the sum of the two unit directions (their difference agrees only for a level quarter
    turn). It is derived: the plane mirrors one stick's axis into the other's. The sections meet too if the mirror
    image of the first's side is the second's: with no turn, or opposite slopes.
    """
    if abs(turn_deg) == _HALF_TURN and slope_in == -slope_out:
        raise GeometryError(Fault("turn", "such that the second does not run straight back over the first", turn_deg))
    first, second = _frame(slope_in, 0.0), _frame(slope_out, turn_deg)
    normal = first[0].plus(second[0])
    flush = turn_deg == 0 or slope_in == -slope_out
    pitches = pitch_deg(slope_in), pitch_deg(slope_out)
    bend = scalars.bend(*pitches, turn_deg)
    level = flush or abs(turn_deg) == _HALF_TURN
    twist = 0.0 if level else remainder(scalars.section_twist(*pitches, turn_deg), _HALF_TURN)
    return MirrorJoint(
        bend_deg=bend,
        mitre_deg=scalars.mitre(bend),
        first=_saw(normal, first),
        second=_saw(normal, second),
        twist_deg=twist,
        flush=flush,
    )


def face_cut(slope: Fraction, askew_deg: float) -> SawCut:
    """How to set a saw for a plumb-sided stick that ends on a plumb face, ``askew_deg`` in plan from square to it.

    Left positive, as the stick is seen from the face's own square.
    """
    return _saw(direction(0, -askew_deg), _frame(slope, 0.0))


def _saw(normal: Vec3, frame: tuple[Vec3, Vec3, Vec3]) -> SawCut:
    along, side, up = (normal.dot(axis) for axis in frame)
    flat, edge = hypot(along, side), hypot(along, up)
    return SawCut(*map(degrees, (atan2(side, along), atan2(up, flat), atan2(up, along), atan2(side, edge))))
