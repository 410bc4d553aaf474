"""The space under a strand between two posts, over ground of one piece or two: its outline and its largest sphere."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from stairguard.geometry.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.pockets import Pocket, pockets
from stairguard.model.rules import Rule
from stairguard.solve.verdicts import keeps

__all__ = ["Judged", "Strand", "bay", "judged"]


class Strand(NamedTuple):
    """A strand's axis as a line: through ``at`` with ``slope``."""

    name: str
    at: Vec
    slope: Fraction
    radius: Fraction


class Judged(NamedTuple):
    """The largest sphere of a bay, its diameter as designed and as marked, and whether its rule stops both."""

    sphere: float
    as_marked: float
    passes: bool | None
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]


def bay(ground: Sequence[Vec], kinds: Sequence[str], strand: Strand, corners: Sequence[Corner] = ()) -> Outline:
    """The outline between the faces of two posts, which stand at the ends of the ground.

    Parameters
    ----------
    ground : its ends, and its edges between, from left to right
    kinds : what each piece of it is
    """
    left, right = ground[0], ground[-1]
    # past anything a sphere between the posts could reach
    tall = 4 * (right.x - left.x + abs(strand.at.z - left.z) + abs(strand.at.z - right.z))

    def over(x: Fraction) -> Vec:
        return Vec(x, strand.at.z + (x - strand.at.x) * strand.slope)

    edges = (
        Edge(Vec(left.x, left.z + tall), left, "post"),
        *(Edge(a, b, kind) for (a, b), kind in zip(pairwise(ground), kinds, strict=True)),
        Edge(right, Vec(right.x, right.z + tall), "post"),
        Edge(over(right.x + tall), over(left.x - tall), strand.name, strand.radius),
    )
    return Outline(edges, tuple(corners))


def judged(rule: Rule | None, designed: Outline, marked: Outline) -> Judged | None:
    """The largest sphere of a bay, as designed and as marked; None where none is left."""
    one, other = _largest(designed), _largest(marked)
    if one is None or other is None:
        return None
    return Judged(
        one.diameter,
        other.diameter,
        keeps(rule, ((designed, one), (marked, other))),
        tuple(designed.name(site) for site in one.sites),
        one.contacts,
        one.centre,
    )


def _largest(outline: Outline) -> Pocket | None:
    """The largest pocket between the two posts."""
    left, right = outline.edges[0].a.x, outline.edges[-2].a.x
    inside = (p for p in pockets(outline) if left < p.centre[0] < right)
    return max(inside, key=lambda p: p.diameter, default=None)
