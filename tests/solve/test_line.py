"""What holds on any guard line: rails and strands at every joint, and where posts stand.

Expected figures are worked here from the job and the frame's definition, in exact fractions.
"""

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from math import atan, cos, degrees, radians, sin, sqrt

import numpy as np
import pytest

from stairguard.errors import JobError
from stairguard.model.job import Flight, Landing, MeasuredFlight
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import CROSSED, JOBS, down, land, odd, ramp, solved, up
from tests.solve.squares import half_of

every_line = pytest.mark.parametrize("name", JOBS)


def line_of(layout, index):
    """A surface's datum, from its own definition: a station and its elevation, and elevation per station."""
    surface = layout.line.surfaces[index]
    given = surface.given
    if isinstance(given, Landing):
        return surface.start, F(0)
    if isinstance(given, Flight):
        return surface.nosings[0], (-1 if given.down else 1) * given.rise / given.run
    if isinstance(given, MeasuredFlight):
        # checked against other software in tests/geometry/survey/test_straightedge.py; here taken as it is
        return surface.origin, surface.slope
    return surface.edge_start, given.rise / given.length


def datum(layout, index, station):
    at, slope = line_of(layout, index)
    return at.z + (station - at.s) * slope


def rail_top(layout, index, station):
    return datum(layout, index, station) + layout.rails[index].height


@every_line
def test_surfaces_lie_end_to_end(name):
    layout = solved(JOBS[name])
    for a, b in pairwise(layout.line.surfaces):
        assert a.end == b.start
        assert b.heading_deg == a.heading_deg + b.given.turn
        assert a.plan_end == b.plan_start
    for s in layout.line.surfaces:
        level = float(s.end.s - s.start.s)
        turned = radians(s.heading_deg)
        assert s.plan_end.x - s.plan_start.x == pytest.approx(level * cos(turned), abs=1e-9)
        assert s.plan_end.y - s.plan_start.y == pytest.approx(level * sin(turned), abs=1e-9)
        assert s.pitch_deg == pytest.approx(degrees(atan(line_of(layout, s.index)[1])), abs=1e-12)


@every_line
def test_whole_strands_meet_at_their_post(name):
    layout = solved(JOBS[name])
    for joint in layout.joints:
        for strand in joint.strands:
            assert strand.whole == (len(strand.surfaces) == 2)
            if joint.second_post:
                continue
            for i in strand.surfaces:
                height = layout.fields[i].heights[strand.number - 1]
                assert datum(layout, i, joint.station) + height == strand.elevation
        whole = {s.number for s in joint.strands if s.whole}
        # a strand that could pass may still be broken there to keep the job's limits on runs
        holes = [h for p in layout.posts if p.label in (joint.post, joint.second_post) for h in p.holes]
        broken = {h.strand for h in holes if h.broken}
        assert not whole & broken
        passing = whole | broken
        assert passing == set(range(1, len(passing) + 1)), "whole strands are the upper ones"
        over = [len(layout.fields[i].heights) for i in joint.between]
        assert len(passing) == (min(over) if joint.through else 0)
        assert joint.through == (joint.barred is None)
        if not joint.second_post:
            assert len(joint.strands) == sum(over) - len(whole)


@every_line
def test_rails_meet_over_their_post_or_end_on_its_faces(name):
    """How far apart they then stand is measured in tests/rules/fixes/test_jog_remedies.py."""
    layout = solved(JOBS[name])
    posts, least = {p.label: p for p in layout.posts}, layout.job.mark / 2
    for joint in layout.joints:
        before, after = joint.between
        first, second = posts[joint.post], posts[joint.second_post or joint.post]
        reach = half_of(layout, first) if joint.second_post else -half_of(layout, first)
        faces = sorted((float(first.station + reach), float(second.station - reach)))
        if joint.meets is None:
            assert line_of(layout, before)[1] == line_of(layout, after)[1]
        else:
            assert {rail_top(layout, i, joint.meets.s) for i in joint.between} == {joint.meets.z}
        ends = layout.rails[before].end, layout.rails[after].start
        assert ends == joint.ends
        assert [e.z for e in ends] == [rail_top(layout, i, e.s) for i, e in zip(joint.between, ends, strict=True)]
        if joint.mitred:
            assert joint.jog == 0
            assert ends[0].s == ends[1].s
            assert faces[0] - 1e-12 <= ends[0].s <= faces[1] + 1e-12
            assert joint.apart == ends[1].z - ends[0].z
            assert abs(joint.apart) < least
            assert joint.turn_deg == 0 or ends[0].s == joint.station
            assert not joint.remedies
        else:
            assert joint.unmitred
            stations = [float(first.station + reach), float(second.station - reach)]
            assert [float(e.s) for e in ends] == pytest.approx(stations, rel=1e-15)
            assert abs(joint.jog) in (0, abs(ends[1].z - ends[0].z))


def directions(layout, joint):
    """Unit vectors along both sides, arriving and leaving, in space."""
    found = []
    for i, heading in zip(joint.between, (0.0, radians(joint.turn_deg)), strict=True):
        slope = float(line_of(layout, i)[1])
        found.append(np.array([cos(heading), sin(heading), slope]) / sqrt(1 + slope * slope))
    return found


def angle(u, v):
    """Angle between unit vectors: good to rounding near 0 and near 180, where the arc cosine is not."""
    return degrees(np.arctan2(np.linalg.norm(np.cross(u, v)), u @ v))


@every_line
def test_bends_are_the_angles_between_directions_in_space(name):
    layout = solved(JOBS[name])
    for joint in layout.joints:
        bend = angle(*directions(layout, joint))
        assert joint.bend_deg == pytest.approx(bend, abs=1e-9)
        assert joint.mitre_deg == pytest.approx(bend / 2, abs=1e-9)
        for strand in joint.strands:
            assert strand.bend_deg == pytest.approx(bend if strand.whole else 0, abs=1e-9)


def section(direction, mitre, depth, width):
    """Corners of a plumb-sided rail's section where it is cut by a plane through the top's centre line."""
    side = np.cross([0, 0, 1.0], direction)
    side /= np.linalg.norm(side)
    square = np.cross(direction, side)
    corners = [a * side + b * square for a in (-width / 2, width / 2) for b in (0, -depth)]
    return [c - (c @ mitre) / (direction @ mitre) * direction for c in corners]


@every_line
def test_mitred_rails_mate_flush_and_others_with_turns_do_not(name):
    layout = solved(JOBS[name])
    rail = layout.job.rail
    for joint in layout.joints:
        u, v = directions(layout, joint)
        if abs(joint.turn_deg) == 180:
            # in one plumb plane, but the second rail would come out of the mitre upside down
            assert not joint.mitred
            continue
        mitre = (u + v) / np.linalg.norm(u + v)
        a, b = (section(w, mitre, float(rail.depth), float(rail.width)) for w in (u, v))
        apart = max(float(np.linalg.norm(p - q)) for p, q in zip(a, b, strict=True))
        assert joint.cut.flush == (apart < 1e-9)
        if joint.mitred:
            assert apart < 1e-9


def on_tread(surface, station):
    """Nosings at the front and back of the tread under a station, and the tread's elevation."""
    steps = sorted(surface.nosings)
    climbs = steps[0].z < steps[-1].z
    if climbs:
        front = max((p for p in steps if p.s <= station), default=steps[0])
        if front is steps[-1]:
            front = steps[-2]
        return front.s, steps[steps.index(front) + 1].s, front.z
    front = min((p for p in steps if p.s >= station), default=steps[-1])
    if front is steps[0]:
        front = steps[1]
    return steps[steps.index(front) - 1].s, front.s, front.z


@every_line
def test_a_wall_or_newel_at_an_end_of_a_flight_stands_on_the_floor_there(name):
    layout = solved(JOBS[name])
    for post, end in (layout.posts[0], "start"), (layout.posts[-1], "end"):
        surface = layout.line.surfaces[post.stands_on]
        if post.support != "post" and surface.kind == "flight":
            assert (post.base, post.step, post.clear) == (getattr(surface, end).z, None, None)


def is_clear_by(post, near):
    """Hold a foot's clearance to the nearest edge; a wall or newel has no foot of ours."""
    if post.support != "post" or not near:
        assert post.clear is None
    else:
        assert float(post.clear) == pytest.approx(float(min(near)), abs=1e-12)


@every_line
def test_feet_stand_where_it_is_said_that_they_do(name):
    layout = solved(JOBS[name])
    job, surfaces = layout.job, layout.line.surfaces
    corners = {p for j in layout.joints if j.turn_deg for p in (j.post, j.second_post)}
    for post in filter(lambda p: p.support == "post" or surfaces[p.stands_on].kind != "flight", layout.posts):
        surface, half = surfaces[post.stands_on], job.post.width / 2
        turn = (
            0.0 if post.joint is None or layout.joints[post.joint].second_post else layout.joints[post.joint].turn_deg
        )
        if turn % 90:  # square to the line that halves the turn: a corner of its foot comes nearest
            half *= F(abs(cos(radians(turn / 2))) + abs(sin(radians(turn / 2))))
        assert surface.start.s <= post.station <= surface.end.s
        drop = job.post.drop if job.post.mount == "side" and post.support == "post" else 0
        near = []
        if surface.kind == "flight" and post.label in corners and post.step is None:
            # both flights start at the corner of their landing
            floor, near = surfaces[layout.joints[post.joint].between[1]].start.z, [-half]
        elif surface.kind == "flight":
            low, high, floor = on_tread(surface, post.station)
            near = [post.station - half - low, high - post.station - half]
        else:
            # on the outer hand of a turn the guard goes on past a ramp's end
            floor = datum(layout, surface.index, min(max(post.station, surface.edge_start.s), surface.edge_end.s))
            # a corner post on an edge that two surfaces share stands on both
            shared = [s for s in surfaces if s.kind != "flight" and s.start.s <= post.station <= s.end.s]
            for one in shared if post.label in corners and len(shared) > 1 else [surface]:
                for other, gap in ((-1, post.station - one.edge_start.s), (1, one.edge_end.s - post.station)):
                    i = one.index + other
                    if 0 <= i < len(surfaces) and surfaces[i].kind == "flight":
                        near.append(gap - half)
        if post.label in corners and job.post.mount == "surface" and not layout.joints[post.joint].second_post:
            # partly beyond its landing, over the step below: it comes down to that tread
            before, after = (surfaces[i] for i in layout.joints[post.joint].between)
            edges = [(s, at) for s, at in ((before, before.end.s), (after, after.start.s)) if s.kind == "flight"]
            floor = min(floor, *(on_tread(s, at)[2] for s, at in edges if abs(at - post.station) < half), floor)
        assert post.base == floor - drop
        is_clear_by(post, near)
        forced = surface.given.posts is not None or surface.given.start_post is not None
        if post.support == "post" and post.label not in corners and not forced and job.post.mount == "surface":
            assert post.clear is None or post.clear >= 0


@pytest.mark.parametrize("name", [name for name, job in JOBS.items() if job.post.hand])
def test_a_corner_post_beside_steps_reaches_below_the_lowest(name):
    layout = solved(JOBS[name])
    surfaces = layout.line.surfaces
    for post in (p for p in layout.posts if p.joint is not None and layout.joints[p.joint].turn_deg):
        beside = [surfaces[i] for i in layout.joints[post.joint].between if surfaces[i].nosings]
        within = [s for s in beside if s.edge_start.s < post.station < s.edge_end.s]
        for flight in within:
            assert post.base <= on_tread(flight, post.station)[2] - layout.job.post.drop


@every_line
def test_posts_stand_apart_and_gaps_keep_the_jobs_limit(name):
    layout = solved(JOBS[name])
    pairs = {j.post for j in layout.joints if j.second_post}
    changes = {j.second_post or j.post: j.between[1] for j in layout.joints}
    over = next(s.index for s in layout.line.surfaces if s.carries)
    for a, b in pairwise(layout.posts):
        over = changes.get(a.label, over)
        level = b.station - a.station - half_of(layout, a) - half_of(layout, b)
        if a.label in pairs:
            continue
        assert level >= 0
        if layout.line.surfaces[over].given.posts is None:
            assert level > 0
            slope = float(line_of(layout, over)[1])
            assert float(level) * sqrt(1 + slope * slope) <= float(layout.job.post.max_gap) * (1 + 1e-12)


def test_line_posts_stand_where_they_are_forced_to():
    layout = solved(JOBS["line posts forced"])
    line = [p for p in layout.posts if p.role == "line"]
    starts = {s.index: s.start.s for s in layout.line.surfaces}
    found = [(p.stands_on, p.station - starts[p.stands_on]) for p in line]
    assert found == [(0, 30), (0, 70), (1, 5), (1, 38)]
    # 38 = 3 runs of 11 and 5; the tread is the fourth, three rises and one over the lower landing
    assert line[-1].base == 4 * 7


@pytest.mark.parametrize(("at", "joint"), [(F(9), 1), (F(-8), 2)])
def test_joint_posts_stand_where_they_are_forced_to(at, joint):
    surfaces = [land(), up(4), ramp(144, 12), land(60)]
    surfaces[joint + 1] = replace(surfaces[joint + 1], start_post=at)
    layout = lay_out(replace(BASE, surfaces=tuple(surfaces)), solved(BASE).rules)
    found = layout.joints[joint]
    assert found.station == layout.line.surfaces[joint + 1].start.s + at
    post = next(p for p in layout.posts if p.label == found.post)
    assert post.station == found.station


@pytest.mark.parametrize("place", [F(1), F(47), F(85, 2)])
def test_posts_forced_into_one_another_are_refused(place):
    surfaces = (land(120, posts=(F(42), place)), up(8), land(60))
    with pytest.raises(JobError, match=r"surface\[1\].posts"):
        lay_out(replace(BASE, surfaces=surfaces, post=replace(BASE.post, width=F(6))), solved(BASE).rules)


def test_two_turns_under_one_pair_of_rails_are_refused():
    surfaces = (up(6), land(11, 45.0, **CROSSED), land(11, 45.0, **CROSSED), up(6))
    with pytest.raises(JobError, match="a turn at one of the joints only"):
        lay_out(replace(BASE, surfaces=surfaces), solved(BASE).rules)


def test_an_end_post_stands_on_the_outermost_tread():
    layout = solved(odd("a flight alone"))
    first, last = layout.posts[0], layout.posts[-1]
    assert (first.station, first.base) == (5, 7)
    assert (last.station, last.base) == (7 * 11 + 5, 8 * 7)


@every_line
def test_post_lengths_reach_the_underside_of_their_rail(name):
    """Length on the centre line, from the rails' tops and the depth square to each: depth times sqrt(1 + slope^2)."""
    layout = solved(JOBS[name])
    depth = float(layout.job.rail.depth)
    ends = {label: j for j in layout.joints for label in (j.post, j.second_post) if label}
    for post in layout.posts:
        joint = ends.get(post.label)
        held = {i for h in post.holes for i in h.surfaces}
        if joint and not joint.mitred:
            half = half_of(layout, post)
            stations = (joint.station - half, joint.station + half)
            if not joint.second_post:
                tops = [rail_top(layout, i, s) for i, s in zip(joint.between, stations, strict=True)]
                assert float(post.base + post.length) == pytest.approx(float(max(tops)), rel=1e-15)
            continue
        if post.support != "post":
            continue

        def under(station, held=held, base=post.base):
            """Underside of the joined rails: the lower line of a peak, the higher of a valley."""
            found = []
            for i in sorted(held):
                slope = float(line_of(layout, i)[1])
                found.append((slope, float(rail_top(layout, i, station)) - depth * sqrt(1 + slope * slope)))
            peak = found[0][0] > found[-1][0]
            return (min if peak else max)(z for _, z in found) - float(base)

        assert float(post.length) == pytest.approx(under(post.station), abs=1e-9)
        faces = [under(post.station + x * half_of(layout, post)) for x in (-1, 1)]
        assert [float(e) for e in post.edges] == pytest.approx(faces, abs=1e-9)


@pytest.mark.parametrize(
    "surfaces",
    [(ramp(120, -15), land(200, **CROSSED), ramp(120, 15)), (ramp(120, 15), land(100, **CROSSED), up(5))],
)
def test_line_posts_stand_on_a_landing_that_carries_no_rail(surfaces):
    """A ramp's strands run on over the landing: posts there keep the gap, and stand on the landing."""
    layout = lay_out(replace(BASE, surfaces=surfaces), solved(BASE).rules)
    ramp_end, landing_end = (s.end.s for s in layout.line.surfaces[:2])
    over = [p for p in layout.posts if ramp_end < p.station < landing_end and p.role == "line"]
    assert over
    assert {(p.stands_on, p.base) for p in over} == {(1, layout.line.surfaces[0].end.z)}


def test_strands_that_would_run_into_the_ground_are_refused_by_the_key_to_change():
    for surfaces, key in (
        ((down(6), land(30, **CROSSED), up(6)), "surface[2].length"),
        ((land(60), up(4, start_post=F(-30)), land()), "surface[2].start_post"),
    ):
        with pytest.raises(JobError, match="further, strands meet the ground") as caught:
            solved(replace(BASE, surfaces=surfaces))
        assert caught.value.faults[0].where == key


def test_a_strand_that_ends_at_a_post_has_its_hole_in_the_post():
    """Drilled along the strand, the hole goes on from the near face: under a thick post's foot, however near it ends.

    A landing that the rails cross between two pitches: two more strands lie under the flatter flight's rail than under
    the other, and end at the post. Elevations by hand from the nosing line, not from the layout.
    """
    flights = up(7, rise=F(8), run=F(9), nosing=F(0), tread=F(0)), up(4, rise=F(7), run=F(10), nosing=F(0), tread=F(0))
    rail = replace(BASE.rail, height=F(36), landing_height=F(42), depth=F(3, 2), meet="as-given")
    post, strand = replace(BASE.post, max_gap=F(60), setback=F(5, 4)), replace(BASE.strand, spacing=F(11, 4))

    def crossed(length):
        surfaces = (land(48), flights[0], land(length, **CROSSED), flights[1], land(48))
        return replace(BASE, surfaces=surfaces, rail=rail, post=post, strand=strand)

    with pytest.raises(
        JobError, match=r"at most 9.75 from nosing 1: .* \(length 11.25 or less; or level_piece"
    ) as caught:
        solved(crossed(12))
    assert caught.value.faults[0].where == "surface[3].length"
    layout = solved(crossed(F(45, 4)))
    ends = [(p, hole) for p in layout.posts for hole in p.holes if p.joint is not None and hole.surfaces == (3,)]
    assert ends
    for placed, hole in ends:
        nosing_1 = layout.line.surfaces[3].start
        line = nosing_1.z + 7 - (nosing_1.s - placed.station) * F(7, 10)  # plumb under it on the centre line
        assert line + layout.fields[3].heights[hole.strand - 1] > placed.base
