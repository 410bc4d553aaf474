"""Every told circle under a flight's lowest strand is one of the whole elevation: nothing stands in it, none about it
is larger.

The elevation is rebuilt from the result alone (`tests/solve/elevations.py`), distances in it are GEOS's.
"""

from dataclasses import replace
from fractions import Fraction as F
from math import cos, pi, sin

import pytest
from shapely.geometry import Point

from stairguard.api.layout import result
from stairguard.rules.findings.checks import check
from tests.solve.elevations import below_lowest
from tests.solve.jobs import BASE, reversed_job, with_flight
from tests.solve.lines import STRIPS, land, solved, up


def _wall_before_the_first_nosing():
    """A wall in the plane of the first nosing: over the hollow under it a circle met the tread above."""
    flight = up(7, rise=F(7), run=F(11), nosing=F(3, 4), tread=F(3, 2))
    post = replace(BASE.post, width=F(7, 2), max_gap=F(36), setback=F(9))
    strand = replace(BASE.strand, diameter=F(5, 32), at_joints="break")
    return replace(BASE, strand=strand, post=post, surfaces=(flight,), start="wall", end="newel")


def _post_just_before_the_first_nosing():
    job = with_flight(BASE, risers=2, rise=F(15, 2), run=F(10), nosing=F(5, 4), tread=F(5, 4))
    rail = replace(job.rail, height=F(36), landing_height=F(42), depth=F(7, 2))
    job = replace(job, rules="none", rail=rail, post=replace(job.post, setback=F(5, 4)))
    return replace(job, surfaces=(land(99), job.surfaces[1], land(110)))


def _newel_just_past_the_last_nosing():
    """Over the last nosing a circle met the newel and led down to the step triangle, which is larger."""
    job = with_flight(BASE, risers=5, rise=F(13, 2), run=F(12), nosing=F(3, 4), tread=F(0))
    post = replace(job.post, width=F(7, 2), setback=F(9, 4))
    return replace(job, post=post, surfaces=(land(39), job.surfaces[1], land(62)), start="newel", end="newel")


JOBS = {
    "wall before the first nosing": _wall_before_the_first_nosing(),
    "post just before the first nosing": _post_just_before_the_first_nosing(),
    "newel just past the last nosing": _newel_just_past_the_last_nosing(),
}


@pytest.mark.parametrize("name", JOBS)
def test_every_told_circle_is_a_largest_one_of_the_whole_elevation(name):
    for job in (JOBS[name], reversed_job(JOBS[name])):
        layout = solved(job)
        index = next(k for k, s in enumerate(job.surfaces) if hasattr(s, "open_risers"))
        free = below_lowest(result(check(layout)), job, index)

        def clear(x, z, free=free):
            return max((part.exterior.distance(Point(x, z)) for part in free if part.covers(Point(x, z))), default=0)

        told = [
            o for o in layout.openings if o.surface == index and o.where.kind not in (*STRIPS, "under lowest strand")
        ]
        assert told
        for o in told:
            (x, z), radius = o.centre, o.sphere / 2
            assert clear(x, z) == pytest.approx(radius, abs=1e-6)
            around = [(x + radius / 40 * cos(k * pi / 16), z + radius / 40 * sin(k * pi / 16)) for k in range(32)]
            assert max(clear(*at) for at in around) <= radius + 1e-6
