"""Over the level edge of a landing or deck: the largest sphere between it and the lowest strand, by closed form.

The strand runs along the edge, ``offset`` out from it and ``height`` above the surface, square. The sphere rolls over
the edge and is held between that and the strand; where the strand is no higher than the surface it drops between the
edge's face and the strand:

    D = sqrt(max(height, 0)^2 + offset^2) - diameter / 2
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, GeometryError
from stairguard.geometry.clearance.outline import Corner, Edge, Outline, Vec
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.geometry.exact.surd import sqrt
from stairguard.model.asked.asked_opening import Beside, Inverse, StepMend
from stairguard.solve.sphere.edge_sphere import edge_sphere

_REACH = 2
"""Times the height and offset that the surface and the face are drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeOpening:
    """The largest sphere over an edge; points are (x, z) from it, x along it.

    ``outline`` is a section, out from the edge and up, and ``pocket`` the sphere's in it.
    """

    sphere: float
    touches: tuple[str, ...]
    contacts: tuple[tuple[float, float], ...]
    centre: tuple[float, float]
    beside: Beside
    limit: Fraction | None
    passes: bool | None
    outline: Outline
    pocket: Pocket


def edge_opening(
    height: Fraction, offset: Fraction, strand_diameter: Fraction, limit: Fraction | None = None
) -> EdgeOpening:
    """Largest sphere over a level edge, any one unit of length.

    Parameters
    ----------
    height : of the strand's axis over the surface, square; may be negative
    offset : of the strand's axis from the edge, level, at least 0
    strand_diameter : more than zero
    limit : the sphere to be stopped; one of exactly that size goes through

    Raises
    ------
    GeometryError
        The strand lies on the edge or its face, and leaves no opening.
    """
    exact = edge_sphere(height, offset, strand_diameter)
    if exact.sign() <= 0:
        raise GeometryError(
            Fault("height", "high enough, or the offset wide enough, to leave an opening", float(height))
        )
    sphere, low = float(exact), min(float(height), 0.0)
    up, out = float(height) - low, float(offset)
    # from the edge, or the face as low as the strand, toward the strand's axis
    share = sphere / (sphere + float(strand_diameter) / 2)
    met = ((0.0, low), (out * share, low + up * share))
    centre = out * share / 2, low + up * share / 2
    outline = _section(height, offset, strand_diameter)
    sites = (1 if height < 0 else 2, 3)
    return EdgeOpening(
        sphere=sphere,
        touches=outline.names(sites),
        contacts=tuple((0.0, z) for _, z in met),
        centre=(0.0, centre[1]),
        beside=Beside(centre[0], tuple(y for y, _ in met)),
        limit=limit,
        passes=None if limit is None else exact < limit,
        outline=outline,
        pocket=Pocket(sphere, centre, sites, met, None),
    )


def _section(height: Fraction, offset: Fraction, strand_diameter: Fraction) -> Outline:
    """Surface, face and edge, and the strand cut through, drawn in the plane square to the edge."""
    edge = Vec(Fraction(0), Fraction(0))
    reach = _REACH * (abs(height) + offset + strand_diameter)
    surface = Edge(Vec(-reach, Fraction(0)), edge, "surface")
    face = Edge(edge, Vec(Fraction(0), -reach), "face")
    strand = Corner(Vec(offset, height), "strand", strand_diameter / 2)
    return Outline((surface, face), (Corner(edge, "edge"), strand))


def greatest_height(offset: Fraction, strand_diameter: Fraction, limit: Fraction) -> Inverse:
    """How high the strand may stand over the surface for a limit: its axis, square."""
    reach = limit + strand_diameter / 2
    if offset >= reach:
        return Inverse("height", None, None, "open beside")
    return Inverse("height", float(sqrt(reach * reach - offset * offset)), float(limit))


def offset_mend(height: Fraction, offset: Fraction, strand_diameter: Fraction, limit: Fraction) -> tuple[StepMend, ...]:
    """How near the edge the strand has to be, at the height it has, to stop a sphere that it lets through."""
    reach, over = limit + strand_diameter / 2, max(height, Fraction(0))
    if over >= reach or edge_sphere(height, offset, strand_diameter) < limit:
        return ()
    most = float(sqrt(reach * reach - over * over))
    return (StepMend("offset", most, float(offset) - most),)
