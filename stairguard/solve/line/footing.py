"""What a post stands on: the surface, its elevation there, the tread, and how clear of its edges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from stairguard.errors import Fault, JobError
from stairguard.model.guard.surfaces import PlacedSurface, SurfaceLine
from stairguard.model.job import Ending, Job
from stairguard.solve.line.surface_line import Uphill, uphill


@dataclass(frozen=True, slots=True)
class Footing:
    """``base`` is the elevation of the walking surface under the post's centre, on tread ``step`` of a flight.

    ``clear`` is the level distance from the post's faces to the nearer edge: of the tread (its nosing, and that of
    the step above) or of the surface towards a flight; None where no such edge is near. On a flight without a ``step``
    it stands beyond, on the floor that the flight comes from or leads to, or at the corner of a landing.
    """

    surface: PlacedSurface
    base: Fraction
    step: int | None
    clear: Fraction | None


def footing(job: Job, line: SurfaceLine, surfaces: Iterable[PlacedSurface], station: Fraction) -> Footing:
    """The footing of a post centred at a station, on whichever of ``surfaces`` is there.

    Raises
    ------
    JobError
        The station is on none of them.
    """
    candidates = [s for s in surfaces if s.start.s <= station <= s.end.s]
    if not candidates:
        raise JobError(Fault("start_post", "a place on the surfaces it joins", float(station)))
    # at an edge shared with a flight the level or sloping surface carries the post
    surface = min(candidates, key=lambda s: (s.kind == "flight", s.index))
    half = job.post.width / 2
    if surface.kind != "flight":
        edges = []
        if _steps_at(line, surface.index - 1):
            edges.append(station - half - surface.edge_start.s)
        if _steps_at(line, surface.index + 1):
            edges.append(surface.edge_end.s - station - half)
        return Footing(surface, surface.ground(station), None, min(edges, default=None))
    for beyond, floor in (
        (surface.edge_start.s - station, surface.start.z),
        (station - surface.edge_end.s, surface.end.z),
    ):
        if beyond > 0:  # on the outer hand of a turn the guard goes on beside the floor that the flight meets there
            return Footing(surface, floor, None, beyond - half)
    up = uphill(surface)
    x = up.local(station)
    tread = tread_at(up, x)
    front, back = x - half - up.x(tread), up.x(tread + 1) - half - x
    return Footing(surface, up.elevation(up.z(tread)), tread, min(front, back))


def below(job: Job, support: Ending) -> Fraction:
    """How far below what it stands on, or beside, a support begins: a post at the stair's side by its drop."""
    return job.post.drop if support == "post" and job.post.mount == "side" else Fraction(0)


def outside(flight: PlacedSurface, inward: int) -> Footing:
    """What a wall or newel stands on whose face is at the end of a flight, where the line ends too.

    Its body lies beyond that end: at the head on the floor that the top nosing is the edge of, and the top riser closes
    the last step under it; at the foot on the floor that the flight comes from. Whether it goes on down below that
    floor the job does not say, and nothing counts on it.
    """
    return Footing(flight, (flight.start if inward > 0 else flight.end).z, None, None)


def _steps_at(line: SurfaceLine, index: int) -> bool:
    return 0 <= index < len(line.surfaces) and line.surfaces[index].kind == "flight"


def tread_at(up: Uphill, x: Fraction) -> int:
    """Number of the tread, 1 next above the lower landing, that carries a post centred at ``x``.

    A post on the line of a nosing stands on the tread above it.
    """
    low, high = 1, up.count - 1
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if up.x(middle) <= x else (low, middle - 1)
    return low
