"""An opening of any outline, with its limit: every pocket, the largest sphere, the exact verdict."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, GeometryError
from stairguard.geometry.clearance.outline import Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket, compare, diameter, pockets
from stairguard.geometry.marks import figure_text


@dataclass(frozen=True, slots=True)
class SolvedOutline:
    """An outline, its pockets, largest first, and what a limit says of them.

    ``sphere`` is the diameter of the largest sphere that passes. ``passes`` is None without a limit; a sphere of
    exactly the limit counts as passing through, so every pocket's must be smaller.
    """

    outline: Outline
    pockets: tuple[Pocket, ...]
    sphere: float
    limit: Fraction | None
    passes: bool | None


def outline_opening(outline: Outline, limit: Fraction | None = None, grain: Fraction = Fraction(0)) -> SolvedOutline:
    """Largest sphere through an outline.

    Parameters
    ----------
    grain : what its coordinates may be off by, relative to the limit; a sphere that close to the limit counts as a tie

    Raises
    ------
    GeometryError
        No sphere fits: strands fill it, or it is too thin to tell from rounding.
    """
    found = pockets(outline)
    if not found:
        raise GeometryError(
            Fault("outline", "open enough for some sphere", "none that fits between its edges and strands")
        )
    passes = None if limit is None else all(compare(outline, p, limit * (1 - grain)) < 0 for p in found)
    return SolvedOutline(outline, found, float(diameter(outline, found[0])), limit, passes)


def between_strands(spacing: Fraction, strand: Fraction, limit: Fraction | None = None) -> SolvedOutline:
    """The gap between two parallel strands, open at both ends: their spacing, square, less one diameter.

    Raises
    ------
    GeometryError
        The strands touch or overlap.
    """
    gap = spacing - strand
    if gap <= 0:
        raise GeometryError(
            Fault("spacing", f"more than the strand's diameter ({figure_text(strand)})", float(spacing))
        )
    reach, radius = 4 * spacing, strand / 2
    lower = Edge(Vec(-reach, Fraction(0)), Vec(reach, Fraction(0)), "lower strand", radius)
    upper = Edge(Vec(reach, spacing), Vec(-reach, spacing), "upper strand", radius)
    middle, near = float(spacing / 2), float(radius)
    ends = ((-float(reach), middle), (float(reach), middle))
    contacts = ((0.0, near), (0.0, float(spacing) - near))
    pocket = Pocket(float(gap), (0.0, middle), (0, 1), contacts, ends)
    passes = None if limit is None else gap < limit
    return SolvedOutline(Outline((lower, upper), ()), (pocket,), float(gap), limit, passes)
