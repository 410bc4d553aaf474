"""The push through strands by brute force: every contact angle tried, nothing solved.

Written from the command's contract and from statics alone: a strand of two straight elastic parts, stretched over the
length that slides; the forces on the probe in balance. Shares no code with the package.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

_ANGLES = 100_001
_CONE = np.degrees(np.arctan2((125 - 20) / 2, 105))
"""Half-angle of Australia's cone: 20 mm to 125 mm over 105 mm."""


@dataclass
class Question:
    """One bay, in any one unit of length and one of force; ``spacing`` is to the edge where ``strands`` is 1."""

    diameter: float
    spacing: float
    bay: float
    run: float
    tension: float
    stiffness: float
    probe: float
    strands: int = 2
    cone: bool = False
    at: float | None = None
    friction: float = 0.0


def strand(asked: Question, q, over: float):
    """Force square to a strand moved by q, and its tension then, where ``over`` of it stretches."""
    before = asked.bay / 2 if asked.at is None else asked.at
    after = asked.bay - before
    parts = np.hypot(before, q), np.hypot(after, q)
    longer = parts[0] + parts[1] - asked.bay
    tension = asked.tension + (asked.stiffness + asked.tension) * longer / over
    return tension * (q / parts[0] + q / parts[1]), tension


def way(asked: Question, over: float):
    """Push and tension at each contact angle of the probe's way, from where it comes to bear to where it is through."""
    middle = asked.spacing / 2 if asked.strands == 2 else asked.spacing - asked.probe / 2
    rub = np.arctan(asked.friction)
    flat, round_ = (asked.probe / 2, asked.diameter / 2) if asked.cone else (0.0, (asked.probe + asked.diameter) / 2)
    first = np.arccos(min(1.0, (middle - flat) / round_))
    if asked.cone:
        first = min(first, np.radians(_CONE))
    f = np.linspace(first, -2 * rub, _ANGLES)
    # the strand moves the way it is pushed: along the contact, turned on by friction
    q = np.maximum((flat + round_ * np.cos(f) - middle) / np.cos(f + rub), 0)
    force, tension = strand(asked, q, over)
    forward, aside = force * np.sin(f + rub), force * np.cos(f + rub)
    push = 2 * forward if asked.strands == 2 else forward + asked.friction * aside
    return push, tension


def greatest(asked: Question) -> tuple[float, float]:
    """The greatest push, held and free."""
    return tuple(float(max(way(asked, over)[0].max(), 0.0)) for over in (asked.bay, asked.run))


def at_break(asked: Question, over: float, most: float) -> float:
    """The greatest push up to where the strand has the tension at which it breaks."""
    push, tension = way(asked, over)
    broken = int(np.argmax(tension >= most))
    assert broken
    return float(push[:broken].max())
