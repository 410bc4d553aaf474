"""The space under a strand between two posts, over ground of one piece or two: its outline and its largest sphere."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket, pockets
from stairguard.model.guard.guard_openings import Drawn, Opening, Section
from stairguard.model.guard.opening_kinds import PARTS, Touch, TouchedPart, Where
from stairguard.model.job import Post
from stairguard.model.rules import Rule
from stairguard.solve.sphere.verdicts import keeps


class StrandAxis(NamedTuple):
    """A strand's axis as a line: through ``at`` with ``slope``; ``number`` as its surface counts it."""

    number: int
    at: Vec
    slope: Fraction
    radius: Fraction


class JudgedBay(NamedTuple):
    """The largest sphere of a bay, its diameter as designed and as marked, its rule, and whether that stops both."""

    rule: Rule | None
    sphere: float
    as_marked: float
    passes: bool | None
    touches: tuple[Touch, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    section: Section
    out: float
    error: float

    def opening(self, where: Where, surface: int) -> Opening:
        """As an opening of a surface, in the frame of the outline."""
        return Opening(
            where=where,
            surface=surface,
            sphere=self.sphere,
            sphere_as_marked=self.as_marked,
            rule=self.rule,
            passes=self.passes,
            touches=self.touches,
            contacts=self.contacts,
            centre=self.centre,
            bounds=self.section,
            out=self.out,
            error=self.error,
        )


def bay(
    ground: Sequence[Vec], kinds: Sequence[TouchedPart], strand: StrandAxis, corners: Sequence[Corner] = ()
) -> Outline:
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
        Edge(over(right.x + tall), over(left.x - tall), "strand", strand.radius),
    )
    return Outline(edges, tuple(corners))


def judged(
    rule: Rule | None,
    strand: int,
    designed: Outline,
    marked: Outline,
    *,
    edge: int | None = None,
    post: Post | None = None,
) -> JudgedBay | None:
    """The largest sphere between two posts beside a strand, as designed and as marked; None where none is left.

    Parameters
    ----------
    rule : that is to stop it
    strand : its number
    designed, marked : what bounds it
    edge : the index of the surface after an edge that it may touch
    post : by which posts and strand stand out from the ground; None where all is in one plane
    """
    found, again = (_pockets(outline, post) for outline in (designed, marked))
    if not found or not again:
        return None
    one, other = found[0], again[0]
    numbers: dict[TouchedPart, int | None] = {"strand": strand, "surface edge": edge}
    return JudgedBay(
        rule,
        one.diameter,
        other.diameter,
        keeps(rule, ((designed, one), (marked, other))),
        tuple(Touch(part, numbers.get(part)) for part in (PARTS[designed.name(site)] for site in one.sites)),
        one.contacts,
        one.centre,
        Section(strand, 1, Drawn(designed, found), Drawn(marked, again)),
        one.out,
        one.error or 0.0,
    )


def _pockets(outline: Outline, post: Post | None) -> tuple[Pocket, ...]:
    if post is None:
        return _inside(outline)
    from stairguard.solve.gaps.bay_beside import way_beside  # only where strands stand out from the stair

    return way_beside(outline, float(post.out), float(post.width), float(post.drop))


def _inside(outline: Outline) -> tuple[Pocket, ...]:
    """The pockets between the two posts, largest first."""
    faces = [edge.a.x for edge in outline.edges if edge.name == "post"]
    return tuple(p for p in pockets(outline) if min(faces) < p.centre[0] < max(faces))
