"""Corners in plan against the job's own figures, by shapely, a general library of plane geometry."""

from math import hypot, pi, tan

import pytest
import shapely

from stairguard.reports.drawing.section.corner_facts import side_corners
from stairguard.reports.drawing.section.section_facts import side_sections
from tests.reports import guards
from tests.reports.drawing.section import sides

TURNED = {"outside": (90, True), "inside": (90, False), "two posts": (-45, True)}
OFFSET = 3.75


@pytest.fixture(params=sorted(TURNED))
def name(request):
    return request.param


@pytest.fixture
def corner(name):
    (found,) = side_corners(sides.checked(name).layout)
    return found


def test_there_is_none_without_a_turn_or_out_from_no_edge():
    assert side_corners(sides.checked("down").layout) == ()
    assert side_corners(guards.checked(guards.inch_job()).layout) == ()


def test_the_guard_is_on_the_hand_that_the_job_says(name, corner):
    turn, outer = TURNED[name]
    assert corner.joint.turn_deg == turn
    assert corner.outer is outer
    hand = 1 if sides.JOBS[name].post.hand == "left" else -1
    assert corner.legs[0].outward == pytest.approx((0, hand))  # one walks along x there


def test_strands_run_beside_the_edge_so_far_out(corner):
    for leg in corner.legs:
        edge, line = shapely.LineString(leg.edge), shapely.LineString(leg.line)
        longer = shapely.affinity.scale(edge, 3, 3, origin="center")
        for at in line.coords:
            assert longer.distance(shapely.Point(at)) == pytest.approx(OFFSET)
        (x0, y0), (x1, y1) = leg.edge[0], leg.line[0]
        assert (x1 - x0) * leg.outward[0] + (y1 - y0) * leg.outward[1] == pytest.approx(OFFSET)


def test_the_legs_meet_at_both_corners(corner):
    one, other = corner.legs
    assert one.line[0] == pytest.approx((0, 0))
    assert other.line[0] == pytest.approx((0, 0), abs=1e-9)
    assert one.edge[0] == pytest.approx(other.edge[0])


def test_the_guards_corner_is_that_of_the_edge_moved_out(corner):
    # shapely's offset curve of the edge, mitred at its corner
    one, other = corner.legs
    edge = shapely.LineString([one.edge[1], one.edge[0], other.edge[1]])
    hand = 1 if one.outward[1] > 0 else -1
    moved = shapely.offset_curve(edge, hand * OFFSET, join_style="mitre", mitre_limit=10)
    assert min(hypot(x, y) for x, y in moved.coords) == pytest.approx(0, abs=1e-9)


def test_how_far_past_the_edges_corner(name, corner):
    turn, outer = TURNED[name]
    past = OFFSET * tan(abs(turn) * pi / 360) * (1 if outer else -1)  # half the turn
    assert corner.past == pytest.approx(past)


def test_posts_stand_on_the_guards_line(name, corner):
    width, job = 1.5, sides.JOBS[name]
    along = float(job.post.corner_offset)
    assert [post.along for post in corner.posts] == pytest.approx([along] * (1 + (job.post.corner == "two")))
    for post, leg in zip(corner.posts, corner.legs, strict=False):
        square = shapely.Polygon(post.corners)
        assert square.area == pytest.approx(width**2)
        assert square.centroid.coords[0] == pytest.approx(post.centre)
        assert shapely.LineString(leg.line).distance(shapely.Point(post.centre)) == pytest.approx(0, abs=1e-9)
        if post.along:  # square to its own leg
            (ax, ay), (bx, by) = post.corners[:2]
            cross = ((bx - ax) * leg.away[1] - (by - ay) * leg.away[0]) / width
            assert cross == pytest.approx(0, abs=1e-9)


def test_the_sphere_round_the_corner_touches_what_it_is_told_to():
    (corner,) = side_corners(sides.checked("outside").layout)
    opening, centre = corner.opening, shapely.Point(corner.centre)
    assert {touch.part for touch in opening.touches} == {"landing", "strand", "post"}
    radius, over = opening.sphere / 2, opening.centre[1] - float(corner.legs[0].surface.start.z)
    edge = corner.legs[0].edge[0]
    assert hypot(shapely.Point(edge).distance(centre), over) == pytest.approx(radius, abs=1e-6)
    (post,) = corner.posts  # as high as the centre there: seen from above the sphere touches it
    assert shapely.Polygon(post.corners).distance(centre) == pytest.approx(radius, abs=1e-6)
    height = float(sides.checked("outside").layout.fields[0].heights[-1])
    strands = [hypot(shapely.LineString(leg.line).distance(centre), height - over) for leg in corner.legs]
    assert min(strands) == pytest.approx(radius + 1 / 16, abs=1e-6)


def test_sections_are_drawn_of_it_too(name):
    assert len(side_sections(sides.checked(name).layout)) == 2
