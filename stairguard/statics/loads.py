"""What tensioned strands hand on: to end posts and the rail between them, to fittings, to the edges of holes.

Figures for whoever sizes posts, rails and anchors: that is licensed work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from stairguard.relations.printed import scalars


@dataclass(frozen=True, slots=True)
class EndPull:
    """The pull of parallel strands on a post.

    ``pull`` along them, its ``level`` and ``plumb`` parts (up positive where they climb away from the post), the
    ``height`` above the base where it acts, and the ``moment`` of the level part about the base.
    """

    pull: float
    level: float
    plumb: float
    height: float
    moment: float


def end_pull(tensions: Sequence[float], heights: Sequence[float], pitch_deg: float) -> EndPull:
    """Add up the pulls of strands that end on a post.

    Parameters
    ----------
    tensions : of each strand
    heights : of each where it acts, plumb above the post's base
    pitch_deg : of the strands as they leave the post, up positive

    Returns
    -------
    EndPull
        The moment is that of the level parts; the plumb ones pass through the post. Height zero without a pull.
    """
    pull = sum(tensions)
    along = cos(radians(pitch_deg))
    turning = sum(t * h for t, h in zip(tensions, heights, strict=True))
    return EndPull(
        pull, pull * along, pull * sin(radians(pitch_deg)), turning / pull if pull else 0.0, turning * along
    )  # fmt: skip


def rail_compression(moment: float, height: float) -> float:
    """Level force that a rail at this height above the base takes from a post free to turn there, the most it can be.

    A post fixed at its base hands on less, down to nothing. ZeroDivisionError of a rail at the base.
    """
    return moment / height


def fitting_force(tension: float, bend_deg: float) -> float:
    """Force of a strand on what turns it by this angle in space: 2 T sin(bend/2)."""
    return scalars.fitting_force(tension, bend_deg)


def edge_pressure(force: float, diameter: float) -> float:
    """Pressure of a turned strand on the edges of a bare hole, force on a square of the unit of length.

    Each of the two edges takes half the force over one diameter of the strand's length and its breadth: an assumption,
    no source. Wood gives until more of the hole bears.
    """
    return force / 2 / diameter**2


def sleeve_pressure(force: float, sleeve: float, width: float) -> float:
    """Pressure of a sleeve on its hole, the whole force over its breadth and the post's width: the mean, no source."""
    return force / (sleeve * width)
