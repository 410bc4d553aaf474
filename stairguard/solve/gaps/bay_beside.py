"""The space under a strand between two posts, over ground that both stand out from: the widest way out there."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING, Final

import numpy as np

from stairguard.geometry.clearance.outline import Edge, Outline
from stairguard.geometry.clearance.pockets import Pocket
from stairguard.geometry.space.bodies import Rod
from stairguard.geometry.space.layers import Layer, Screen
from stairguard.geometry.space.way_grid import widest_way
from stairguard.solve.sphere.beside_step import SIDE, LayerPart, column, found_in, upright_part

if TYPE_CHECKING:
    from stairguard.geometry.space.way_grid import Floats

_CELLS: Final = 24
"""Of the coarsest grid, along the longer side of what is looked at."""


def way_beside(outline: Outline, out: float, width: float, drop: float) -> tuple[Pocket, ...]:
    """The place where the widest way out is narrowest, seen square to the guard; none where it is shut.

    Parameters
    ----------
    outline : as `stairguard.solve.gaps.bay_openings.bay` draws it, ground, posts and strand as if in one plane
    out : how far out from the ground's side strand and posts stand, level
    width : of a post, which is as deep
    drop : how far below the ground beside them the posts' feet are, plumb
    """
    faces = [edge for edge in outline.edges if edge.name == "post"]
    left, right = (pick(float(edge.a.x) for edge in faces) for pick in (min, max))
    tall = float(max(max(edge.a.z, edge.b.z) for edge in faces))
    ground = [edge for edge in outline.edges if edge.name not in ("post", "strand")]
    (strand,) = (edge for edge in outline.edges if edge.name == "strand")
    slope = float((strand.b.z - strand.a.z) / (strand.b.x - strand.a.x))

    def axis(x: Floats) -> Floats:
        return float(strand.a.z) + (x - float(strand.a.x)) * slope

    ends = np.array([left, right])
    floors = [float(at.z) for edge in ground for at in (edge.a, edge.b)]
    feet = np.interp(ends, *_surface(ground)) - drop
    low = left, min(*floors, *axis(ends).tolist(), *feet.tolist()) - 2 * out
    high = right, max(*floors, *axis(ends).tolist()) + 2 * out
    deep, size = low[1] - tall, max(high[0] - low[0], high[1] - low[1]) / _CELLS
    depth = out - width / 2, out + width / 2
    near = [_floor(edge, deep, tall * (edge is ground[0]), tall * (edge is ground[-1])) for edge in ground]
    sides = (left - width, left), (right, right + width)
    far = [
        upright_part(column(side, foot, [tall, tall], depth)) for side, foot in zip(sides, feet.tolist(), strict=True)
    ]
    far.append(_strand(strand, out))
    way = widest_way(
        Screen(
            near=tuple(part.layer for part in near),
            far=tuple(part.layer for part in far),
            low=low,
            high=high,
            counts=(ceil((high[0] - low[0]) / size), ceil((high[1] - low[1]) / size)),
            starts=lambda x, z: z > np.interp(x, *_surface(ground)),
            ends=lambda x, z: z < axis(x),
            shut=lambda x, z: np.zeros(np.broadcast(x, z).shape, bool),
        )
    )
    return () if way is None else (found_in(outline, (*near, *far), way).pocket,)


def _floor(edge: Edge, deep: float, before: float, after: float) -> LayerPart:
    """A piece of ground, and what goes on of it behind posts."""
    (ax, az), (bx, bz) = (float(v) for v in edge.a), (float(v) for v in edge.b)
    slope = (bz - az) / (bx - ax)
    ends, tops = (ax - before, bx + after), [az - slope * before, bz + slope * after]
    body = column(ends, deep + min(0.0, *tops), tops)
    return LayerPart(Layer(body, body.figure, 0.0), (edge.name, "surface edge", SIDE))


def _strand(edge: Edge, out: float) -> LayerPart:
    (ax, az), (bx, bz) = ends = tuple(sorted((float(at.x), float(at.z)) for at in (edge.a, edge.b)))
    return LayerPart(Layer(Rod((ax, out, az), (bx, out, bz), float(edge.radius)), ends, out), (edge.name,))


def _surface(ground: list[Edge]) -> tuple[list[float], list[float]]:
    """Places along ground, and its heights there."""
    points = [ground[0].a, *(edge.b for edge in ground)]
    return [float(at.x) for at in points], [float(at.z) for at in points]
