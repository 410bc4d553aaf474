"""A probe at the hardest place of its way between two strands, or past one, drawn in true proportion.

Seen along the strands: x is how far past the strands' plane, z how far from the line the probe's middle moves on. With
the contact angle f and the force's direction p, both from the strands' plane, a strand's axis goes from (0, clear) to
(q sin p, clear + q cos p), and the contact's normal points at it along (sin f, cos f). A sphere's middle lies behind it
on that normal by half of both diameters; a cone's shoulder, half the cylinder from the middle line, by half the strand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, isfinite, radians, sin, tan
from typing import Final, Literal

import numpy as np

from stairguard.errors import Fault, InputError
from stairguard.reports.drawing.paper.clip import Pair
from stairguard.reports.words.lengths import brief, counted
from stairguard.statics import probe_force
from stairguard.statics.probe_force import CONE_HALF_ANGLE, Probe

_NOSE: Final = 20 / 125
"""Diameter of the cone's flat tip, of the cylinder's; of the same probe as `CONE_HALF_ANGLE`."""
_TAIL: Final = 0.4
"""Length of the cylinder that is drawn, of its diameter."""

_GRAIN: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class PushPicture:
    """One push at its hardest place. Lengths are in the job's unit, angles in degrees.

    Parameters
    ----------
    probe, sphere
        What is pushed, and its diameter: a cone's is that of the cylinder it ends in.
    diameter
        Of a strand.
    spacing_or_clear
        Between the axes of two strands at rest, square; of one, from the line that the probe's middle moves on.
    strands
        2, or 1 against a rigid edge that the probe slides along.
    angle_deg
        Contact angle from the strands' plane.
    deflection
        Of each strand, along the force on it.
    force_angle_deg
        Direction of that force from the strands' plane: the contact angle, and the friction angle on top.
    push
        In words, with its unit: ``"31.4 lbf"``.
    edge, edge_below
        What is rigid, and whether it lies under the probe; of one strand only.
    rows
        What else is said beside the picture, a name and its value a row.

    Raises
    ------
    InputError
        The lengths and angles are no state of this push: (A + B cos f - clear) is not q cos p.
    """

    probe: Literal["sphere", "cone"]
    sphere: float
    diameter: float
    spacing_or_clear: float
    strands: Literal[1, 2]
    angle_deg: float
    deflection: float
    force_angle_deg: float
    push: str
    edge: str = "rigid edge"
    edge_below: bool = False
    rows: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        faults = [*self._faults()]
        if faults:
            raise InputError(*faults)

    def _faults(self) -> Iterator[Fault]:
        lengths = {"sphere": self.sphere, "diameter": self.diameter, "spacing_or_clear": self.spacing_or_clear}
        for name, value in lengths.items():
            if not (isfinite(value) and value > 0):
                yield Fault(f"push picture, {name}", "a length above 0", value)
                return
        steepest = 90.0 if self.probe == "sphere" else CONE_HALF_ANGLE
        if not 0 <= self.angle_deg <= steepest + _GRAIN:
            yield Fault("push picture, angle_deg", f"from 0 to {brief(steepest)} degrees", self.angle_deg)
        elif not self.angle_deg - _GRAIN <= self.force_angle_deg < 90:
            yield Fault("push picture, force_angle_deg", "the contact angle or more, under 90", self.force_angle_deg)
        else:
            moved = float(probe_force.deflection(self._pushed, self.clear, self.angle_deg, self.force_angle_deg))
            if not abs(moved - self.deflection) <= _GRAIN * (self.sphere + self.diameter) or moved < 0:
                must = f"0 or more, and at these angles {counted(moved)}"
                yield Fault("push picture, deflection", must, self.deflection)

    @property
    def clear(self) -> float:
        """From the line that the probe's middle moves on to a strand's axis at rest: half the spacing of two."""
        return self.spacing_or_clear / self.strands

    @property
    def ahead(self) -> tuple[float, float]:
        """A and B: how far the contact's pivot is from that line, and from the strand's axis."""
        return float(np.asarray(self._pushed.a)), float(np.asarray(self._pushed.b))

    @property
    def _pushed(self) -> Probe:
        of = probe_force.sphere if self.probe == "sphere" else probe_force.cone
        return of(self.sphere, self.diameter)

    @property
    def sides(self) -> tuple[int, ...]:
        """On which sides strands are: 1 over the probe, -1 under it."""
        return (1, -1) if self.strands == 2 else (1,) if self.edge_below else (-1,)

    def normal(self, side: int) -> Pair:
        """Direction from the probe to the strand on a side."""
        f = radians(self.angle_deg)
        return sin(f), side * cos(f)

    def along_force(self, side: int, reach: float) -> Pair:
        """Return the place so far from a strand's axis at rest, in the direction of the force on it."""
        p = radians(self.force_angle_deg)
        return reach * sin(p), side * (self.clear + reach * cos(p))

    def strand(self, side: int) -> Pair:
        """Axis of a strand, pushed aside."""
        return self.along_force(side, self.deflection)

    def contact(self, side: int) -> Pair:
        """Where probe and strand touch."""
        (x, z), (nx, nz) = self.strand(side), self.normal(side)
        return x - self.diameter / 2 * nx, z - self.diameter / 2 * nz

    @property
    def middle(self) -> Pair:
        """Centre of the sphere; of a cone, the middle of the circle at its shoulder."""
        side = self.sides[0]
        (x, _), (nx, _) = self.strand(side), self.normal(side)
        return x - self.ahead[1] * nx, 0.0

    def cone(self) -> tuple[Pair, ...]:
        """Outline of a cone and the cylinder it ends in, from the cylinder's cut end round the tip."""
        x, half, tip = self.middle[0], self.sphere / 2, _NOSE * self.sphere / 2
        back, front = x - _TAIL * self.sphere, x + (half - tip) / tan(radians(CONE_HALF_ANGLE))
        return (back, half), (x, half), (front, tip), (front, -tip), (x, -half), (back, -half)

    def extent(self) -> tuple[float, float, float, float]:
        """Return left, bottom, right and top of what is drawn."""
        x, half = self.middle[0], self.sphere / 2
        back, front = (x - half, x + half) if self.probe == "sphere" else (self.cone()[0][0], self.cone()[2][0])
        rest, thick = abs(self.strand(1)[1]), self.diameter / 2
        tall = max(half, rest + thick)
        return min(back, -thick), -tall, max(front, self.strand(1)[0] + thick), tall
