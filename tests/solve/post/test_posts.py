"""Holes and tops of posts against plane and solid geometry: the strand's axis cut by the post as a solid in plan."""

from dataclasses import replace
from fractions import Fraction as F
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np
import pytest
from shapely import LineString, box
from shapely.affinity import rotate, translate

from stairguard.model.guard.opening_kinds import Where
from stairguard.model.subjects import AtPosts, BetweenPosts
from stairguard.rules.findings.checks import check
from stairguard.solve.decide_line import plan
from stairguard.solve.post.positions import stands
from stairguard.solve.post.posts import place_posts
from stairguard.solve.strand.stringing import broken_at, string
from tests.solve.jobs import BASE
from tests.solve.lines import JOBS, land, ramp, solved
from tests.solve.twoposts import TWO, two_posts

ALL = JOBS | {f"two posts, {name}": job for name, job in TWO.items()}


@pytest.mark.parametrize("name", ALL)
def test_every_post_is_as_if_it_were_the_only_one(name):
    """What alike posts share is found anew for each by itself."""
    layout = solved(ALL[name])
    decided = plan(layout.job, layout.rules)
    places = tuple(stands(decided))
    broken = broken_at(string(decided, places))
    for index, (place, post) in enumerate(zip(places, layout.posts, strict=True)):
        (alone,) = place_posts(decided, (place,), {0: broken.get(index, {})})
        assert (alone.holes, alone.length, alone.edges) == (post.holes, post.length, post.edges)
        assert (alone.bevels_deg, alone.bevel_break) == (post.bevels_deg, post.bevel_break)


@pytest.mark.parametrize("name", ALL)
def test_joint_posts_hold_the_strands_of_their_surfaces(name):
    layout = solved(ALL[name])
    posts = {post.label: post for post in layout.posts}
    for joint in layout.joints:
        sides = [{joint.between[0]}, {joint.between[1]}] if joint.second_post else [set(joint.between)]
        labels = [joint.post, joint.second_post][: len(sides)]
        for label, over in zip(labels, sides, strict=True):
            assert {i for hole in posts[label].holes for i in hole.surfaces} == over
            for index in over:
                numbers = sorted(hole.strand for hole in posts[label].holes if index in hole.surfaces)
                assert numbers == list(range(1, len(layout.fields[index].heights) + 1))


def corner(layout, joint):
    """Plan of a corner with its turn at the origin, the leg before along x: places and headings of its two posts."""
    posts = {post.label: post for post in layout.posts}
    turn = radians(joint.turn_deg)
    first, second = posts[joint.post], posts[joint.second_post]
    back, on = float(joint.station - first.station), float(second.station - joint.station)
    return (first, np.array([-back, 0.0]), 0.0), (second, on * np.array([cos(turn), sin(turn)]), turn)


def between(layout, joint, number):
    """Ends in space of a strand from one post's centre to the other's."""
    ends = []
    for (post, at, _), index in zip(corner(layout, joint), joint.between, strict=True):
        surface = layout.line.surfaces[index]
        height = surface.datum(post.station) + layout.fields[index].heights[number - 1]
        ends.append(np.array([*at, float(height)]))
    return ends


def square(post, at, heading):
    half = float(post.width) / 2
    return translate(rotate(box(-half, -half, half, half), degrees(heading), origin=(0, 0)), *at)


@pytest.mark.parametrize("name", TWO)
def test_strands_turn_to_the_other_post_of_a_corner(name):
    layout = solved(TWO[name])
    for joint in layout.joints:
        if not joint.second_post or not joint.through:
            continue
        passing = min(len(layout.fields[i].heights) for i in joint.between)
        for k, (post, at, heading) in enumerate(corner(layout, joint)):
            slope = float(layout.line.surfaces[joint.between[k]].slope)
            for hole in post.holes:
                if hole.strand > passing:
                    assert hole.before_deg == hole.after_deg
                    assert hole.low_face == hole.high_face
                    continue
                p, q = between(layout, joint, hole.strand)
                level = hypot(*(q - p)[:2])
                chord = degrees(atan2(q[2] - p[2], level))
                leg = degrees(atan2(slope, 1))
                tilts = (hole.before_deg, hole.after_deg)
                assert tilts == pytest.approx((leg, chord) if k == 0 else (chord, leg), abs=1e-9)
                assert hole.drill_deg == pytest.approx(max(leg, chord, key=abs), abs=1e-9)
                # out of the post, a square in plan, where the way to the other post leaves it
                inside = LineString([p[:2], q[:2]]).intersection(square(post, at, heading)).length
                centre = float(hole.height)
                outward = 1 if k == 0 else -1
                outer = centre - outward * slope * float(post.width) / 2
                inner = centre + outward * (q[2] - p[2]) / level * inside
                faces = [float(hole.low_face), float(hole.high_face)]
                assert faces == pytest.approx([min(outer, centre, inner), max(outer, centre, inner)], abs=1e-9)
                assert [float(face.height) for face in hole.faces] == pytest.approx(
                    (outer, inner) if k == 0 else (inner, outer), abs=1e-9
                )


@pytest.mark.parametrize("name", TWO)
def test_runs_are_as_long_as_their_strands_in_space(name):
    """Between bearing faces, where a run is broken at one of a corner's posts or both, too."""
    layout = solved(TWO[name])
    posts = {post.label: post for post in layout.posts}
    joints = {label: joint for joint in layout.joints for label in (joint.post, joint.second_post) if label}
    for run in layout.runs:
        total = longest = 0.0
        for k, (a, b) in enumerate(zip(run.posts, run.posts[1:], strict=False)):
            joint = joints.get(a)
            if joint is not None and joint.second_post == b:
                p, q = between(layout, joint, run.strand)
                way = LineString([p[:2], q[:2]])
                sec = float(np.linalg.norm(q - p)) / way.length
                level = way.length
                inside = [way.intersection(square(*place)).length for place in corner(layout, joint)]
            else:
                index = next(i for i in run.surfaces if _over(layout, i, posts[a], posts[b]))
                sec = hypot(1, float(layout.line.surfaces[index].slope))
                level = float(posts[b].station - posts[a].station)
                inside = [float(posts[label].width) / 2 for label in (a, b)]
            total += level * sec
            longest = max(longest, (level - sum(inside)) * sec)
            if k == 0:
                total += inside[0] * sec * (1 if posts[a].role == "end" else -1)
            if k == len(run.posts) - 2:
                total += inside[1] * sec * (1 if posts[b].role == "end" else -1)
        assert run.length == pytest.approx(total, rel=1e-12)
        assert run.longest_bay == pytest.approx(longest, rel=1e-12)


def _over(layout, index, first, last):
    """Whether a surface's strands run from one post to the next."""
    held = [post for post in layout.posts if any(index in hole.surfaces for hole in post.holes)]
    return held[0].station <= first.station and last.station <= held[-1].station


@pytest.mark.parametrize("name", TWO)
def test_strands_between_two_posts_leave_no_wider_gap_than_is_told(name):
    """Square to the chord the plumb spacing counts less, by the cosine of its pitch."""
    layout = solved(TWO[name])
    for joint in layout.joints:
        if not joint.second_post or not joint.through:
            continue
        passing = min(len(layout.fields[i].heights) for i in joint.between)
        points = [between(layout, joint, number) for number in range(1, passing + 1)]
        gaps = []
        for (p, q), (over, _) in zip(points[1:], points, strict=False):
            way = (q - p) / np.linalg.norm(q - p)
            gaps.append(float(np.linalg.norm(np.cross(over - p, way))))
        (told,) = (
            o for o in layout.openings if o.where == Where("between strands at corner", surface=joint.between[1])
        )
        assert told.sphere + float(layout.job.strand.diameter) == pytest.approx(max(gaps), abs=1e-9)
        assert told.sphere_as_marked > told.sphere
        assert max(gaps) <= float(layout.job.strand.spacing) + 1e-12
        a, b = (np.array(point) for point in told.contacts)
        assert np.linalg.norm(a - b) == pytest.approx(told.sphere, abs=1e-9)
        assert told.passes is not False
        said = {c.what: c.value for c in check(layout).checks}
        posts = AtPosts(joint.post, joint.second_post)
        assert said[BetweenPosts(posts, "corner spacing")] == pytest.approx(max(gaps), abs=1e-9)
        (first, at, turned), (second, to, onward) = corner(layout, joint)
        way = LineString([at, to])
        clear = way.length - way.intersection(square(first, at, turned)).length
        clear -= way.intersection(square(second, to, onward)).length
        p, q = points[0]
        assert said[BetweenPosts(posts, "corner gap")] == pytest.approx(
            clear * float(np.linalg.norm(q - p)) / way.length, abs=1e-9
        )


def test_corner_posts_too_far_apart_for_the_jobs_gap_are_told():
    """Centres 2 x 40 x cos 22.5 = 73.9 apart, more than 48."""
    layout = solved(two_posts(replace(BASE, surfaces=(land(120), land(120, 45.0))), 40))
    failed = [c.what for c in check(layout).checks if not c.passes]
    assert failed == [BetweenPosts(AtPosts("P3", "P4"), "corner gap")]


def test_strands_that_climb_to_a_corner_keep_their_spacing_across_it():
    """Up 1 in 3 to the corner and down as steeply: between the posts the strands are level, farther apart square."""
    strand = replace(BASE.strand, spacing=F(29, 10))
    job = two_posts(replace(BASE, strand=strand, surfaces=(ramp(120, 40), ramp(120, -40, 90.0))))
    layout = solved(job)
    (joint,) = layout.joints
    assert joint.chord.slope == 0
    assert layout.fields[0].plumb_spacing <= job.strand.spacing
    # ended at the corner each ramp is on its own, and may space them by the cosine farther
    ended = solved(replace(job, strand=replace(strand, at_joints="break")))
    assert len(ended.fields[0].heights) < len(layout.fields[0].heights)
