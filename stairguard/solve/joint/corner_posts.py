"""Posts of a corner: how one stands at a turn, and how near to one another two may stand."""

from __future__ import annotations

from fractions import Fraction
from math import cos, hypot, radians, remainder, sin, tan
from typing import Final

from stairguard.model.guard.placed_posts import SQUARE, Stance
from stairguard.model.job import Job

TOUCH: Final = Fraction(1, 10**9)
"""Two posts that are nearer than this part of their half touch: it is rounding."""

_QUARTER: Final = 90
_EIGHTH: Final = 45
_TOUCHING: Final = 1e-12


def stance(job: Job, turn_deg: float) -> Stance:
    """How a corner's one post stands: alike to both sides, as the job's ``corner_square`` says.

    Square to the line that halves the turn; else, and at a square turn, as nearly square to both rails as may be. A
    turn that leaves less than half a mark under a square laid across the post is a square one.
    """
    if not turn_deg:
        return SQUARE
    half_turn = turn_deg / 2
    off_square = abs(abs(turn_deg) - _QUARTER)
    square = off_square < _EIGHTH and job.post.width * Fraction(tan(radians(off_square))) < job.mark / 2
    turned = half_turn
    if square or job.post.corner_square == "rails":
        turned = min(half_turn, half_turn + _EIGHTH, key=lambda angle: abs(remainder(angle, _QUARTER)))
    askews = remainder(-turned, _QUARTER) + 0.0, remainder(turn_deg - turned, _QUARTER) + 0.0  # no minus nought
    reach = 1 / Fraction(cos(radians(askews[0])))
    return Stance(remainder(turned, _QUARTER) + 0.0, askews, reach)


def under_before(stands: Stance, turn_deg: float) -> tuple[Fraction, Fraction]:
    """How far the part of a corner post under the rail before reaches back along it, and on, in half-widths."""
    halving = radians(turn_deg / 2)
    square = [radians(stands.turned_deg + _EIGHTH + quarter) for quarter in range(0, 360, _QUARTER)]
    corners = [(2**0.5 * cos(angle), 2**0.5 * sin(angle)) for angle in square]
    before = [x * cos(halving) + y * sin(halving) for x, y in corners]  # nothing or less: under the rail before
    reaches = [x for (x, _), beyond in zip(corners, before, strict=True) if beyond <= _TOUCHING]
    for k, beyond in enumerate(before):
        if beyond * before[k - 1] < 0:
            part = beyond / (beyond - before[k - 1])
            reaches.append(corners[k][0] + part * (corners[k - 1][0] - corners[k][0]))
    return Fraction(round(min(reaches), 12)), Fraction(round(max(reaches), 12))


def least_offset(width: Fraction, turn_deg: float) -> Fraction:
    """How far each of two posts must at least be from the corner, to its centre along its own leg, not to overlap.

    Each stands square to its leg, so they are alike about the line that halves the turn, and come nearest to it with
    their inner corners.
    """
    return width / 2 * (1 + Fraction(tan(radians(abs(turn_deg) / 2))))


def clear_between(width: Fraction, turn_deg: float, before: Fraction, after: Fraction) -> float:
    """Clear distance in plan between two posts, as deep as wide, each square to its own leg.

    ``before`` and ``after`` are how far they stand from the corner along their legs. Their nearest points are the inner
    corner of one and a face, or the inner corner, of the other, for legs that differ by no more than a mark.
    """
    half, turn = float(width) / 2, radians(abs(turn_deg))
    # along the leg before and towards the inside of the turn, from the inner corner of the first to that of the second
    x = (float(after) - half) * cos(turn) - half * sin(turn) + float(before) - half
    y = (float(after) - half) * sin(turn) + half * cos(turn) - half
    turned = x * cos(turn) + y * sin(turn), x * sin(turn) - y * cos(turn)  # the same as the second sees it
    gap = min(hypot(*(max(part, 0.0, -part - 2 * half) for part in seen)) for seen in ((x, y), turned))
    return gap if gap > TOUCH * half else 0.0  # less is rounding: they touch
