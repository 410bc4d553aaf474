"""The whole elevation of a guard rebuilt from its JSON, and the largest circles left in it, by GEOS.

Nothing of the solver is used: surfaces, posts from their own bases up, and strands are drawn from the result; nosing
projection and tread are the job's own. GEOS (through shapely) finds each largest circle.
"""

from __future__ import annotations

from math import radians, tan

import shapely
from shapely.geometry import Polygon, box

from stairguard.model.job import Flight, Job, MeasuredFlight

DEEP = 500.0
THIN = 1e-9  # of a nosing of no thickness, which a polygon cannot have


def _steps(given) -> bool:
    return isinstance(given, (Flight, MeasuredFlight))


def _under(a, b):
    """Everything under a line."""
    return Polygon([a, b, (b[0], b[1] - DEEP), (a[0], a[1] - DEEP)])


def _floor(result: dict, job: Job, index: int):
    """A landing or ramp, as far as the risers of the flights that come up to it."""
    (a, za), (b, zb) = result["surfaces"][index]["start"], result["surfaces"][index]["end"]
    slope = (zb - za) / (b - a)
    before, after = (job.surfaces[k] if 0 <= k < len(job.surfaces) else None for k in (index - 1, index + 1))
    left = a + (float(before.nosing) if _steps(before) and not before.down else 0.0)
    right = b - (float(after.nosing) if _steps(after) and after.down else 0.0)
    return _under((left, za + (left - a) * slope), (right, za + (right - a) * slope))


def ground(result: dict, job: Job):
    """The stair itself: floors, treads with their nosings, closed risers behind them."""
    for k, (surface, given) in enumerate(zip(result["surfaces"], job.surfaces, strict=True)):
        if not _steps(given):
            yield _floor(result, job, k)
            continue
        way, nosing, thick = (-1 if given.down else 1), float(given.nosing), max(float(given.tread), THIN)
        nosings = surface["nosings"][::way]
        foot = surface["end"] if given.down else surface["start"]
        yield _under(*sorted([(foot[0] - way * THIN, foot[1]), (foot[0] + way * nosing, foot[1])]))
        open_end = not 0 <= k + way < len(job.surfaces)
        top = nosings[-1][0] + way * 60 * open_end
        for i, (x, z) in enumerate(nosings):
            far = (nosings[i + 1][0] if i + 1 < len(nosings) else top) + way * nosing
            yield box(min(x, far), z - thick, max(x, far), z)
            behind = x + way * nosing
            yield box(min(behind, far), z - DEEP, max(behind, far), z)


def posts(result: dict):
    """Posts from their own feet up; a wall or newel with its body beyond the line."""
    for k, post in enumerate(result["posts"]):
        s, half = post["station"], post["width"] / 2
        left, right = (s - half, s + half) if half else (s - 40, s) if k == 0 else (s, s + 40)
        yield box(left, post["base"], right, post["base"] + DEEP)


def below_lowest(result: dict, job: Job, index: int, tread: int | None = None):
    """Free spaces under the lowest strand of a surface, from one end of its strands to the other, or over one tread."""
    surface, radius = result["surfaces"][index], float(job.strand.diameter) / 2
    held = [p for p in result["posts"] if any(index in h["surfaces"] for h in p["holes"])]
    # under the foot of what stands at the head of a flight the hollow of its last nosing goes on
    past = float(job.surfaces[index].nosing) if _steps(job.surfaces[index]) else 0.0
    a, b = held[0]["station"] - past, held[-1]["station"] + past
    slope = tan(radians(surface["pitch_deg"]))
    under = surface["strands"]["heights"][-1] - radius * (1 + slope**2) ** 0.5
    # the nosing line lies on the nosings that stand highest against its slope
    left, right = (
        max(z + (s - x) * slope for x, z in surface["nosings"] or [surface["start"]]) + under for s in (a, b)
    )
    space = Polygon([(a, left), (b, right), (b, right - DEEP / 2), (a, left - DEEP / 2)])
    if tread is not None:
        way, nosings = (-1 if slope < 0 else 1), surface["nosings"]
        x, above = (nosings[::way][k][0] for k in (tread - 1, tread))
        above += way * float(job.surfaces[index].nosing)
        space = space.intersection(box(min(x, above), -1e4, max(x, above), 1e4))
    free = space.difference(shapely.union_all([*ground(result, job), *posts(result)]))
    return [part for part in getattr(free, "geoms", [free]) if part.area > 1e-9]


def largest_under(result: dict, job: Job, index: int, tread: int | None = None) -> float:
    """Diameter of the largest circle under the lowest strand of a surface, or of that over one tread."""
    spaces = below_lowest(result, job, index, tread)
    return max(2 * shapely.maximum_inscribed_circle(space, tolerance=1e-8).length for space in spaces)
