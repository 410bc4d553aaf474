"""Ordinary stairs and decks with the guard on their side, out from it by a block: where its posts are, how long bays.

The edge is drawn here from the job's lengths and turns by complex numbers; distances to it are shapely's.
"""

from cmath import exp, pi
from dataclasses import replace
from fractions import Fraction as F
from functools import cache
from itertools import pairwise
from math import atan, cos, radians

import pytest
from shapely.geometry import LineString, Point

import stairguard
from stairguard.model.job import Flight
from tests.solve.jobs import BASE
from tests.solve.lines import CROSSED, down, land, up

OFFSET = F(15, 4)
POST = replace(BASE.post, mount="side", drop=F(9), offset=OFFSET)
SHORT = {"length": F(11, 2)}
JOBS = {
    "deck with a corner and its stair, left": (land(240), land(180, -90.0), land(36, -90.0), down(5, 90.0), land(60)),
    "deck and stair straight on, right": (land(120), down(4), land(60, 90.0)),
    "deck, flight, landing, flight, left": (land(120), down(5), land(48), down(5, 90.0)),
    "quarter landing, inner, left": (land(60), up(7), land(12, 0.0), land(12, 90.0), up(7), land(60)),
    "quarter landing, newel, left": (land(60), up(7), land(0, 90.0, **CROSSED), up(7), land(60)),
    "quarter landing, outer, right": (land(60), up(7), land(42), land(42, 90.0), up(7), land(60)),
    "half landing, inner, left": (land(60), up(7), land(9, **CROSSED), land(9, 180.0, **CROSSED), up(7), land(60)),
    "half landing, risers lined up, left": (
        land(60), up(7), replace(land(5, **CROSSED), **SHORT), replace(land(5, 180.0, **CROSSED), **SHORT), up(7),
        land(60),
    ),
    "half landing, outer, right": (land(60), up(7), land(42), land(88, 90.0), land(42, 90.0), up(7), land(60)),
    "turns of 30, 45 and 60, left": (land(96), land(80, 30.0), land(90, -45.0), land(70, 60.0), up(4, 30.0), land(60)),
}  # fmt: skip


@cache
def made(name):
    post = replace(POST, hand=name.rsplit(", ", 1)[1])
    job = replace(BASE, rules="none", surfaces=JOBS[name], post=post, rail=replace(BASE.rail, height=F(36)))
    return stairguard.lay_out(job)


def level(surface):
    return float((surface.risers - 1) * surface.run if isinstance(surface, Flight) else surface.length)


def edge_of(surfaces):
    """The edge in plan, the first side along x; and of each surface where it starts and which way it goes."""
    at, heading, found, sides = 0j, 0.0, [0j], []
    for surface in surfaces:
        if abs(surface.turn) == 180:  # round the end of a well
            at += 2 * float(OFFSET) * exp(1j * pi * (heading + surface.turn / 2) / 180)
            found.append(at)
        heading += surface.turn
        sides.append((at, exp(1j * pi * heading / 180)))
        at += level(surface) * sides[-1][1]
        found.append(at)
    return found, sides


def posts_in_plan(layout):
    """Centres as seen from the start of the edge, by their stations along the guard."""
    out = -1j * float(layout.job.post.aside)  # the guard starts beside the edge's start
    surfaces = layout.line.surfaces
    for post in layout.posts:
        s = next(s for s in surfaces if s.start.s <= post.station <= s.end.s and s.start.s < s.end.s)
        along = float(post.station - s.start.s) * exp(1j * radians(s.heading_deg))
        yield post, complex(*s.plan_start) + along - out


@pytest.mark.parametrize("name", JOBS)
def test_every_post_stands_so_far_out_from_the_edge(name):
    layout = made(name).layout
    corners, _ = edge_of(layout.job.surfaces)
    edge = LineString([(z.real, z.imag) for z in corners])
    turns = [joint.turn_deg for joint in layout.joints]
    for post, at in posts_in_plan(layout):
        turn = 0.0 if post.joint is None else turns[post.joint]
        outer = (turn > 0) != (layout.job.post.hand == "left")
        wanted = float(OFFSET) / (cos(radians(turn / 2)) if turn and outer else 1)
        assert edge.distance(Point(at.real, at.imag)) == pytest.approx(wanted, abs=1e-9), post.label


@pytest.mark.parametrize("name", JOBS)
def test_bays_are_as_long_as_posts_are_apart(name):
    """Clear along the strand, from face to face."""
    layout = made(name).layout
    placed = {post.label: (post, at) for post, at in posts_in_plan(layout)}
    seen = 0
    for run in layout.runs:
        for (a, b), bay in zip(pairwise(run.posts), run.bays, strict=True):
            (first, p), (second, q) = placed[a], placed[b]
            over = [i for h in first.holes for i in h.surfaces if i in {j for g in second.holes for j in g.surfaces}]
            slopes = {layout.line.surfaces[i].slope for i in over if i in run.surfaces}
            if len(slopes) != 1 or {first.joint, second.joint} == {None}:
                continue
            clear = abs(q - p) - float(first.half + second.half)
            assert float(bay) == pytest.approx(clear / cos(atan(float(slopes.pop()))), abs=1e-9)
            seen += 1
    assert seen


@pytest.mark.parametrize("name", JOBS)
def test_feet_reach_below_all_that_a_post_stands_beside(name):
    """The ground beside a post is looked for along the edge, within half a post of its centre's foot on it."""
    layout = made(name).layout
    _, sides = edge_of(layout.job.surfaces)
    for post, at in posts_in_plan(layout):
        held = {index for hole in post.holes for index in hole.surfaces}
        for surface, (start, way) in zip(layout.line.surfaces, sides, strict=True):
            along = ((at - start) * way.conjugate()).real
            beside = abs(((at - start) * way.conjugate()).imag)
            if not 0 <= along <= level(surface.given) or beside > float(OFFSET) + 1e-9:
                continue
            if not min(held) <= surface.index <= max(held):  # across a well
                continue
            # its centre's own tread: nosings as the job has them, from the edge's start
            if isinstance(surface.given, Flight):
                steps = along / float(surface.given.run)
                if abs(steps - round(steps)) < 1e-9:
                    continue
                rises = -int(steps) - 1 if surface.given.down else int(steps) + 1
                ground = float(surface.start.z + rises * surface.given.rise)
            else:
                ground = float(surface.start.z)
            assert float(post.base) <= ground - float(POST.drop) + 1e-9, (post.label, surface.index)


@pytest.mark.parametrize("name", JOBS)
def test_all_of_it_can_be_told(name):
    told = made(name)
    found = stairguard.result(told)
    assert all("edge" in surface for surface in found["surfaces"])
    assert stairguard.report(told)


@pytest.mark.parametrize("name", ["deck with a corner and its stair, left", "half landing, inner, left"])
def test_all_of_it_can_be_drawn(name, tmp_path):
    stairguard.write(made(name), tmp_path / "out")
    assert (tmp_path / "out" / "elevation.pdf").is_file()
