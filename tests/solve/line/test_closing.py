"""Guard lines that come back to their start: a well or a deck guarded all round.

Lengths are added up here by plain vectors in plan, from the corners that the job's sides and turns make.
"""

from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise
from math import cos, hypot, pi, sqrt

import numpy as np
import pytest

from stairguard.errors import JobError
from stairguard.io.read.job_file import read_job
from stairguard.model.subjects import AtPosts
from stairguard.rules.findings.checks import check
from stairguard.rules.pack.reader import read_rules
from stairguard.solve.lay_out import lay_out
from tests.solve.jobs import BASE, reversed_job
from tests.solve.lines import EXAMPLES, down, land, ramp, up

POST = replace(BASE.post, width=F(7, 2))
RAIL = replace(BASE.rail, height=F(36))
RECTANGLE = land(120), land(84, 90.0), land(120, 90.0), land(84, 90.0)
HEXAGON = land(90), *(land(90, 60.0) for _ in range(5))


def guard(*surfaces, closed=True, strand=BASE.strand, post=POST, **changes):
    job = replace(BASE, rail=RAIL, surfaces=surfaces, post=post, strand=strand, closed=closed, **changes)
    return lay_out(job, read_rules(job.rules, job.unit))


def corners(surfaces):
    """Corners in plan, the first at the origin and the first side along x."""
    at, heading, found = np.zeros(2), 0.0, [np.zeros(2)]
    for surface in surfaces:
        heading += surface.turn * pi / 180
        at = at + float(surface.length) * np.array([np.cos(heading), np.sin(heading)])
        found.append(at)
    return found


def sides(surfaces):
    return [float(np.linalg.norm(b - a)) for a, b in pairwise(corners(surfaces))]


def mirrored(surfaces):
    return tuple(replace(s, turn=-s.turn) for s in surfaces)


@pytest.mark.parametrize("surfaces", [RECTANGLE, HEXAGON, mirrored(RECTANGLE), mirrored(HEXAGON)])
def test_each_post_stands_once_and_strands_run_from_face_to_face(surfaces):
    """Broken at every corner: a side less, at each end, half a post over the cosine of its angle to the face."""
    layout = guard(*surfaces, strand=replace(BASE.strand, at_joints="break"))
    assert check(layout).passes
    labels = [p.label for p in layout.posts]
    assert len(set(labels)) == len(labels)
    count = len(layout.fields[0].heights)
    # at a quarter-turn square to both sides; at 60 degrees square to the halving line, 30 from either
    reach = 1.75 / (1 if surfaces[1].turn % 90 == 0 else cos(pi / 6))
    expected = sorted(side - 2 * reach for side in sides(surfaces) for _ in range(count))
    assert sorted(r.length for r in layout.runs) == pytest.approx(expected, abs=1e-9)
    # told as its pieces are marked: each within half a mark, 1/32
    assert float(layout.cuts.strand_total) == pytest.approx(sum(expected), abs=len(expected) / 32)
    first, last = layout.runs[0], layout.runs[len(surfaces) - 1]
    assert first.posts[0] == last.posts[-1] == "P1"
    assert len(layout.posts[0].holes) == 2 * count


@pytest.mark.parametrize("surfaces", [RECTANGLE, HEXAGON])
def test_rails_are_mitred_all_round(surfaces):
    layout = guard(*surfaces)
    assert all(joint.mitred for joint in layout.joints)
    assert len(layout.joints) == len(surfaces)
    for cut in layout.cuts.rails:
        assert {cut.start_cut.kind, cut.end_cut.kind} == {"plan mitre"}
        assert cut.start_cut.angle_deg == pytest.approx(abs(surfaces[1].turn) / 2)
    assert sorted(c.length for c in layout.cuts.rails for _ in range(c.count)) == pytest.approx(sorted(sides(surfaces)))
    # the closing corner is a joint as the others are, its turn what is left of one round
    closing = layout.joints[-1]
    assert closing.between == (len(surfaces) - 1, 0)
    assert closing.turn_deg == pytest.approx(surfaces[1].turn)
    assert {s.whole for s in closing.strands} == {False}


def test_strands_pass_the_other_corners_of_a_hexagon():
    """With a change of angle each a run goes over two sides; all end where the line closes."""
    layout = guard(*HEXAGON, strand=replace(BASE.strand, angle_changes=1))
    reach = 1.75 / cos(pi / 6)
    assert {r.posts[0] for r in layout.runs} >= {"P1"}
    assert {r.angle_changes for r in layout.runs} == {1}
    assert {round(r.length, 9) for r in layout.runs} == {round(180 - 2 * reach, 9)}
    assert len(layout.runs) == 3 * len(layout.fields[0].heights)
    assert sum(r.posts.count("P1") for r in layout.runs if r.strand == 1) == 2


@pytest.mark.parametrize("turn", [1, -1])
def test_two_posts_at_every_corner(turn):
    """Four sides with a chord at each corner but the closing one, where strands end at each leg's own post."""
    two = replace(POST, corner="two", corner_offset=F(7, 2))
    surfaces = RECTANGLE if turn > 0 else mirrored(RECTANGLE)
    layout = guard(*surfaces, post=two, strand=replace(BASE.strand, angle_changes=9, longest_run=F(9999)))
    count = len(layout.fields[0].heights)
    assert len([p for p in layout.posts if p.role == "joint"]) == 8
    # from the inner face of the first leg's post, 3-1/2 + 1-3/4 from the corner, to that of the last one's
    legs = sum(side - 7 for side in sides(surfaces)) - 2 * 1.75
    expected = legs + 3 * 3.5 * sqrt(2)
    assert [r.length for r in layout.runs] == pytest.approx([expected] * count, abs=1e-9)
    closing = layout.joints[-1]
    assert (closing.post, closing.second_post) == (layout.posts[-1].label, "P1")
    where = next(o for o in layout.openings if o.corner == len(layout.joints) - 1)
    # two squares of 3-1/2 whose centres are 3-1/2 from the corner each way: they touch at a corner
    assert where.sphere == pytest.approx(max(3.5 * sqrt(2) - 3.5 * sqrt(2), 0), abs=1e-9)


@pytest.mark.parametrize("surfaces", [RECTANGLE, HEXAGON])
def test_walked_backwards_it_is_the_same_guard(surfaces):
    layout = guard(*surfaces)
    back = reversed_job(layout.job)
    other = lay_out(back, layout.rules)
    end = layout.line.surfaces[-1].end.s
    here = sorted((p.station % end, p.length, len(p.holes)) for p in layout.posts)
    assert sorted(((end - p.station) % end, p.length, len(p.holes)) for p in other.posts) == here
    assert sorted(r.length for r in other.runs) == pytest.approx(sorted(r.length for r in layout.runs))
    assert sorted(o.sphere for o in other.openings) == pytest.approx(sorted(o.sphere for o in layout.openings))
    assert sorted(c.longest for c in other.cuts.rails) == pytest.approx(sorted(c.longest for c in layout.cuts.rails))


def test_mirrored_it_is_the_same_guard():
    layout, other = guard(*RECTANGLE), guard(*mirrored(RECTANGLE))
    assert [(p.label, p.station, p.length) for p in other.posts] == [
        (p.label, p.station, p.length) for p in layout.posts
    ]
    assert [r.length for r in other.runs] == [r.length for r in layout.runs]


def test_the_last_bay_is_measured_up_to_the_first_post():
    """No line post on the last side: 84 less a post, 80-1/2, clear where the job allows 48."""
    surfaces = (*RECTANGLE[:3], replace(RECTANGLE[3], posts=()))
    gaps = [c for c in check(guard(*surfaces)).checks if c.quantity == "post gap" and not c.passes]
    assert [(c.value, c.place.where) for c in gaps] == [(80.5, AtPosts(guard(*surfaces).posts[-1].label, "P1"))]


def test_a_line_may_close_in_the_middle_of_a_side():
    layout = guard(land(60), *RECTANGLE[1:], land(60, 90.0))
    whole = guard(*RECTANGLE)
    assert layout.joints[-1].turn_deg == 0
    assert check(layout).passes
    assert layout.cuts.rail_total == pytest.approx(whole.cuts.rail_total)


def test_a_line_that_misses_its_start_is_told_by_how_much():
    """The opposite sides are 84 and 82-1/2: the end is 1-1/2 short, to the left of side 1's start."""
    with pytest.raises(JobError) as caught:
        guard(*RECTANGLE[:3], replace(RECTANGLE[3], length=F(165, 2)))
    (fault,) = caught.value.faults
    assert fault.where == "ends.closed"
    assert fault.got == "0 along surface 1, 1.5 to its left, 0 up from there"
    with pytest.raises(JobError) as caught:
        guard(land(120), land(84, 90.0), ramp(120, 3, 90.0), land(84, 90.0))
    assert [(one.where, one.got) for one in caught.value.faults] == [
        ("ends.closed", "0 along surface 1, 0 to its left, 3 up from there")
    ]


def test_within_half_a_mark_it_closes():
    """A right-angled triangle of 100: its third side is 141.4214, here 141-7/16, 1/62 too long."""
    triangle = land(100), land(100, 90.0), replace(land(turn=135.0), length=141 + F(7, 16))
    assert hypot(*corners(triangle)[-1]) < 1 / 32
    layout = guard(*triangle)
    assert layout.joints[-1].turn_deg == pytest.approx(135)
    longer = replace(triangle[2], length=141 + F(15, 32))
    with pytest.raises(JobError, match=r"ends\.closed"):
        guard(*triangle[:2], longer)


def test_two_posts_in_one_place_are_refused_and_the_way_out_works():
    with pytest.raises(JobError) as caught:
        guard(*RECTANGLE, closed=False)
    (fault,) = caught.value.faults
    assert fault.where == "ends.closed"
    assert fault.must.startswith("true where the line closes")
    # 1-3/4 in along side 1 and 1-3/4 before the end of side 4
    assert fault.got == f"two posts {1.75 * sqrt(2):.6g} in apart, centre to centre"
    assert check(guard(*RECTANGLE)).passes
    clear = *RECTANGLE[:3], replace(RECTANGLE[3], length=F(78))
    assert check(guard(*clear, closed=False)).passes


@pytest.mark.parametrize("short", [F(7, 4), F(13, 8)])
def test_the_last_post_may_touch_the_first_and_no_more(short):
    """Posts of 3-1/2: the last one's centre is 1-3/4 before its end; at 1-3/4 less of side 4 they touch."""
    surfaces = *RECTANGLE[:3], replace(RECTANGLE[3], length=84 - short)
    if short == F(7, 4):
        assert guard(*surfaces, closed=False).posts
    else:
        with pytest.raises(JobError, match="two posts"):
            guard(*surfaces, closed=False)


def test_lines_that_come_back_at_another_height_or_beside_a_well_are_none():
    """Once round and up: the ends stand over one another. A half-turn: the well's width, untold, lies between them."""
    turns = [(up(4, 90.0 if k else 0.0), land(44)) for k in range(4)]
    assert guard(*(s for pair in turns for s in pair), closed=False).posts
    assert guard(land(100), land(100, 180.0), closed=False).posts


def test_where_the_line_closes_there_are_landings():
    slopes = ramp(120, 10), land(84, 90.0), ramp(120, -10, 90.0), land(84, 90.0)
    with pytest.raises(JobError) as caught:
        guard(*slopes)
    (fault,) = caught.value.faults
    assert fault.where == "surface[1].kind"
    assert "or in the middle of one cut in two" in fault.must
    layout = guard(land(42), replace(slopes[0], turn=90.0), *slopes[1:3], land(42, 90.0))
    assert layout.joints[-1].turn_deg == 0
    flights = land(60), up(5, 90.0), land(60, 90.0), down(5, 90.0)
    layout = guard(land(30), *flights[1:], land(30, 90.0))
    assert layout.joints[-1].jog == 0


def test_a_job_file_says_so(tmp_path):
    text = (EXAMPLES / "terrace-open.toml").read_text().split("[[surface]]")[0].split("[ends]")[0]
    sides_text = "".join(
        f'[[surface]]\nkind = "landing"\nlength = {n}\n{"turn = 90" if k else ""}\n'
        for k, n in enumerate((3000, 2000, 3000, 2000))
    )
    file = tmp_path / "job.toml"
    file.write_text(text + "[ends]\nclosed = true\n" + sides_text)
    assert read_job(file).closed
    file.write_text(text + '[ends]\nclosed = true\nstart = "wall"\n' + sides_text)
    with pytest.raises(JobError, match=r"ends\.start: must be left out where closed is true"):
        read_job(file)


def test_one_surface_does_not_come_back():
    with pytest.raises(JobError) as caught:
        guard(land(100))
    assert [fault.where for fault in caught.value.faults] == ["ends.closed"]


@pytest.mark.parametrize("corner", [{}, {"corner": "two", "corner_offset": F(7, 2)}])
@pytest.mark.parametrize("ended", ["through", "break"])
@pytest.mark.parametrize("surfaces", [RECTANGLE, (land(50), land(70), *RECTANGLE[1:])])
def test_holes_to_bore_are_the_posts_own_and_each_post_s_once(surfaces, ended, corner):
    """Of a corner's two posts at the start neither is walked past again at the end, as its one post is."""
    strand = replace(BASE.strand, at_joints=ended)
    layout = guard(*surfaces, strand=strand, post=replace(POST, max_gap=F(130), **corner))
    told = layout.comparison.through if ended == "through" else layout.comparison.ended
    assert told.holes == sum(len(post.holes) for post in layout.posts)


def test_where_strands_end_at_each_corner_its_posts_are_alike():
    """What arrives stands before what leaves at one height, where the line closes too: one post to make, four times."""
    layout = guard(*RECTANGLE, strand=replace(BASE.strand, at_joints="break"))
    sides = [[hole.passage.side for hole in post.holes] for post in layout.posts if post.role == "joint"]
    assert sides == [["before", "after"] * len(layout.fields[0].heights)] * 4
    assert max(post.count for post in layout.cuts.posts) >= 4
