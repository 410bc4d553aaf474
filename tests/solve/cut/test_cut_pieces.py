"""Cuts against solid geometry: rails as prisms cut by planes in space, tops of posts by what lies over them."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction as F
from itertools import product
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np
import pytest

from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE
from tests.solve.lines import JOBS, land, ramp, solved, up
from tests.solve.twoposts import TWO

HIPS = {
    f"{rise} in 120, then {-rise}, turn {turn}": replace(
        BASE, rules="none", surfaces=(ramp(120, rise), ramp(120, -rise, float(turn)))
    )
    for rise, turn in product((30, -30), (90, -90, 45, -60, 120))
}
PEAKS = {
    f"{first} in 120, then {second}": replace(BASE, rules="none", surfaces=(ramp(120, first), ramp(120, second)))
    for first, second in ((30, -30), (30, -15), (-30, 15), (12, 30), (30, 12))
}
FLAT = {
    f"level, turns {a} and {b}": replace(BASE, surfaces=(land(90), land(90, float(a)), land(90, float(b))))
    for a, b in ((90, 90), (90, -90), (-45, 60))
}
ALL = JOBS | HIPS | PEAKS | FLAT | {f"two posts, {name}": job for name, job in TWO.items()}


def heading(degrees_):
    return np.array([cos(radians(degrees_)), sin(radians(degrees_)), 0.0])


def frame(slope, turned=0.0):
    """Axis, side level to the left, and up square to both, of a rail in space."""
    axis = heading(turned) + np.array([0, 0, slope])
    axis /= np.linalg.norm(axis)
    side = np.cross([0, 0, 1.0], axis)
    side /= np.linalg.norm(side)
    return axis, side, np.cross(axis, side)


def planes(layout, index):
    """Normals, along the rail, of the planes that cut a rail at its two ends, seen from its own heading."""
    slope = float(layout.line.surfaces[index].slope)
    for end in (0, 1):
        joint = next((j for j in layout.joints if j.between[1 - end] == index), None)
        if joint is None or not joint.mitred:
            # plumb, at the line's end or on the face of a post, which halves a turn that is not square
            askew = joint is not None and not joint.second_post and joint.turn_deg % 90
            yield heading((1 if end else -1) * joint.turn_deg / 2 if askew else 0)
            continue
        other = float(layout.line.surfaces[joint.between[end]].slope)
        turned = joint.turn_deg if end else -joint.turn_deg
        yield frame(slope)[0] + frame(other, turned)[0]


@pytest.mark.parametrize("name", ALL)
def test_rails_cut_are_prisms_between_their_planes(name):
    """Straight through the solid: along the top, along the underside, and from long point to long point."""
    layout = solved(ALL[name])
    width, depth = float(layout.job.rail.width), float(layout.job.rail.depth)
    cuts = {index: cut for cut in layout.cuts.rails for index in cut.surfaces}
    for rail in layout.rails:
        if rail.surface not in cuts:
            continue
        cut, slope = cuts[rail.surface], float(layout.line.surfaces[rail.surface].slope)
        axis, side, square = frame(slope)
        level = float(rail.end.s - rail.start.s)
        ends = [np.zeros(3), np.array([level, 0, level * slope])]
        normals = list(planes(layout, rail.surface))

        def along(y, z, k, axis=axis, side=side, square=square, ends=ends, normals=normals):
            """Where a line along the rail, y to the left of its top's middle and z over it, meets an end plane."""
            start, normal = y * side + z * square, normals[k]
            return (ends[k] - start) @ normal / (axis @ normal)

        assert cut.length == pytest.approx(along(0, 0, 1) - along(0, 0, 0), abs=1e-9)
        assert cut.underside == pytest.approx(along(0, -depth, 1) - along(0, -depth, 0), abs=1e-9)
        edges = list(product((-width / 2, width / 2), (0.0, -depth)))
        longest = max(along(*e, 1) for e in edges) - min(along(*e, 0) for e in edges)
        assert cut.longest == pytest.approx(longest, abs=1e-9)
        for k, end in enumerate((cut.start_cut, cut.end_cut)):
            _same_cut(end, normals[k], (axis, side, square))
            reach = {e: (2 * k - 1) * (along(*e, k) - along(0, 0, k)) for e in edges}
            most = [e for e in edges if reach[e] > max(reach.values()) - 1e-9]
            words = {"left" if y > 0 else "right" for y, _ in most}
            assert end.side == (words.pop() if len(words) == 1 else "")
            words = {"top" if z == 0 else "underside" for _, z in most}
            assert (end.edge or (end.long_point if not end.side else "")) in (
                words if len(words) == 1 else ("", "neither")
            )


def _same_cut(end, normal, stick):
    axis, side, square = (float(normal @ v) for v in stick)
    flat = abs(degrees(atan2(side, axis)))
    tilt = abs(degrees(atan2(square, hypot(axis, side))))
    if end.kind in ("plan mitre", "compound"):
        assert (end.angle_deg, end.tilt_deg) == pytest.approx((flat, tilt), abs=1e-9)
    else:
        assert flat == pytest.approx(0, abs=1e-9)
        assert end.angle_deg == pytest.approx(tilt, abs=1e-9)


def test_level_rails_that_turn_one_way_and_both_ways_are_different_pieces():
    """A trapezium and a parallelogram, seen from above."""
    turns = (0, 90, 90, -90)
    layout = solved(replace(BASE, surfaces=tuple(land(90, float(t)) for t in turns)))
    over = [next(cut for cut in layout.cuts.rails if i in cut.surfaces) for i in (1, 2)]
    assert over[0].length == over[1].length
    assert over[0] is not over[1]


def undersides(layout, joint, depth):
    """Undersides of both rails over a place near the joint, in plan, from the top's meeting down."""
    for index, turned in zip(joint.between, (0.0, joint.turn_deg), strict=True):
        slope = float(layout.line.surfaces[index].slope)
        way = heading(turned)[:2]
        yield lambda at, slope=slope, way=way: slope * float(at @ way) - depth * hypot(1, slope)


@pytest.mark.parametrize("name", PEAKS | HIPS)
def test_a_posts_stock_reaches_the_highest_point_of_its_top(name):
    """Sampled over the post, a square in plan: under a peak the lower underside counts, over a valley the higher."""
    layout = solved((PEAKS | HIPS)[name])
    (joint,) = layout.joints
    assert joint.mitred
    post = next(p for p in layout.posts if p.label == joint.post)
    cut = next(c for c in layout.cuts.posts if post.label in c.posts)
    half = float(post.width) / 2
    turned = 0.0 if joint.turn_deg % 90 == 0 else joint.turn_deg / 2
    ways = list(undersides(layout, joint, float(layout.job.rail.depth)))
    slopes = [layout.line.surfaces[i].slope for i in joint.between]
    pick = min if slopes[0] > slopes[1] else max
    if joint.turn_deg:
        places = product(np.linspace(-half, half, 41), repeat=2)
    else:
        places = ((x, 0.0) for x in np.linspace(-half, half, 20001))
    x, y = heading(turned)[:2], heading(turned + 90)[:2]
    heights = [pick(under(a * x + b * y) for under in ways) for a, b in places]
    centre = pick(under(np.zeros(2)) for under in ways)
    least, most = min(heights) - centre, max(heights) - centre
    assert float(cut.short_edge - cut.length) == pytest.approx(least, abs=1e-4)
    assert float(cut.long_edge - cut.length) == pytest.approx(most, abs=1e-4)
    assert cut.long_edge >= max(post.edges)


@pytest.mark.parametrize("name", ALL)
def test_posts_are_grouped_where_they_are_alike_and_only_there(name):
    layout = solved(ALL[name])
    posts = {post.label: post for post in layout.posts}

    def piece(post):
        joint = None if post.joint is None else layout.joints[post.joint]
        holes = Counter(
            (h.height, h.before_deg, h.after_deg, joint and tuple(joint.between.index(i) for i in h.surfaces))
            for h in post.holes
        )
        return post.edges, post.length, post.bevel_break, frozenset(holes.items()), joint and joint.turn_deg

    groups = [{piece(posts[label]) for label in cut.posts} for cut in layout.cuts.posts]
    assert all(len(group) == 1 for group in groups)
    assert len({group.pop() for group in groups}) == len(layout.cuts.posts)


def test_joint_posts_of_like_flights_are_one_group():
    def counts(flights):
        surfaces = [land(60), *(s for _ in range(flights) for s in (up(7), land(60)))]
        return [cut.count for cut in lay_out(replace(BASE, surfaces=tuple(surfaces)), solved(BASE).rules).cuts.posts]

    few, more = counts(3), counts(6)
    assert len(few) == len(more)
    assert sum(few) < sum(more)


@pytest.mark.parametrize("name", ALL)
def test_fittings_are_one_for_every_post_that_a_run_passes(name):
    layout = solved(ALL[name])
    count = {f.kind: f.count for f in layout.cuts.fittings}
    runs = layout.runs
    assert count.pop("terminal") == count.pop("tensioner") == len(runs)
    assert sum(count.values()) == sum(len(run.posts) - 2 for run in runs)
    bent = sum(n for kind, n in count.items() if kind != "straight")
    assert bent == sum(run.angle_changes for run in runs) == layout.cuts.angle_fittings


def test_a_sleeve_is_as_long_as_its_strand_in_the_post():
    """Half of it along each of the strand's two ways: width 1.5, slopes 0 and 7/11, in the flight 7/11 all through."""
    post = replace(BASE.post, sleeves=True)
    layout = solved(replace(BASE, post=post, surfaces=(land(), up(9), land(60))))
    lengths = {name: cut.length for cut in layout.cuts.sleeves for name in cut.strands}
    sec = hypot(1, 7 / 11)
    by_role = {p.label: p.role for p in layout.posts}
    for name, length in lengths.items():
        (label,) = name.posts
        held = next(p for p in layout.posts if p.label == label)
        hole = next(h for h in held.holes if h.strand == name.strand)
        whole = by_role[label] == "joint" and len(hole.surfaces) == 2
        sloped = 0.5 if whole else float(layout.line.surfaces[hole.surfaces[0]].kind == "flight")
        assert length == pytest.approx(1.5 * (1 - sloped + sloped * sec), abs=1e-9), name
    assert sum(cut.count for cut in layout.cuts.sleeves) == sum(len(p.holes) for p in layout.posts)


def test_a_sleeve_between_two_posts_follows_the_strand_askew():
    """Half the post square to its own leg, half across the corner: 0.75 / cos 22.5, both level."""
    job = replace(TWO["level"], surfaces=(land(60), land(60, 45.0)))
    layout = solved(replace(job, post=replace(job.post, sleeves=True)))
    (askew,) = {c.length for c in layout.cuts.sleeves} - {1.5}
    assert askew == pytest.approx(0.75 + 0.75 / cos(radians(22.5)), abs=1e-12)


def test_rails_in_line_are_butted_square():
    """One pitch, no turn: the pieces may as well be one."""
    layout = solved(replace(BASE, rules="none", surfaces=(ramp(120, 10), ramp(60, 5))))
    (joint,) = layout.joints
    assert (joint.bend_deg, joint.mitred, joint.jog) == (0, True, 0)
    kinds = [(cut.start_cut.kind, cut.end_cut.kind) for cut in layout.cuts.rails]
    assert kinds == [("plumb", "square"), ("square", "plumb")]
    assert F(layout.rails[0].end.s) == layout.rails[1].start.s
