"""Rail heights: as the job gives them, or solved so that a flight's rail meets its landings'."""

from __future__ import annotations

from fractions import Fraction

from stairguard.model.guard.surfaces import PlacedSurface, SurfaceLine
from stairguard.model.job import Job
from stairguard.solve.joint.joint_posts import room
from stairguard.solve.joint.rail_meeting import RailPair, Rails
from stairguard.solve.line.surface_line import uphill


def rail_heights(job: Job, line: SurfaceLine) -> Rails:
    """Plumb heights of rails over every surface: the surface's own, else the job's, else solved so that rails meet."""
    rails = Rails(job, line, tuple(_given_height(job, s) for s in line.surfaces))
    if job.rail.meet == "as-given":
        return rails
    solved = tuple(_solved(rails, s) if s.kind == "flight" else rails.heights[s.index] for s in line.surfaces)
    return Rails(job, line, solved)


def _given_height(job: Job, surface: PlacedSurface) -> Fraction:
    if surface.given.rail_height is not None:
        return surface.given.rail_height
    return job.rail.landing_height if surface.kind == "landing" else job.rail.height


def _solved(rails: Rails, flight: PlacedSurface) -> Fraction:
    """The flight rail's height that leaves no jog at its joints with level landings, nearest to the height given."""
    up, height = uphill(flight), rails.heights[flight.index]
    if flight.given.rail_height is not None:
        return height
    surfaces, step = rails.line.surfaces, up.way
    bounds = []
    for index in (flight.index + step, flight.index - step):
        landing = surfaces[index] if 0 <= index < len(surfaces) else None
        turned = landing is not None and (surfaces[max(index, flight.index)].given.turn != 0)
        if landing is None or landing.kind != "landing" or not landing.carries or turned:
            continue
        pair = (landing, flight) if index < flight.index else (flight, landing)
        low, high = room(rails.job, RailPair(*pair, (), 0.0, None), rails.line)
        level = landing.start.z + rails.heights[index] - up.nosing_1.z
        places = [level - up.line - up.slope * up.local(s) for s in (low, high)]
        bounds.append((min(places), max(places)))
    # the top joint first: where both cannot be kept the bottom one shows the jog
    for low, high in reversed(bounds):
        height = min(max(height, low), high)
    return height
