from dataclasses import replace
from functools import cache
from math import atan2, degrees

import pytest
import shapely

import stairguard
from stairguard.model.cautions import CornerPulled
from stairguard.reports.drawing.detail.joint_detail import joint_block, joint_detail, joint_kinds, joint_sheets
from stairguard.reports.drawing.paper.scene import Circle, Line, Polygon, Rect, Sheet, Text
from stairguard.reports.words.grouping import groups
from stairguard.reports.words.rules.finding_words import subject_words
from tests.reports.guards import formatter
from tests.reports.lines import EXAMPLES, checked
from tests.solve.twoposts import TWO

# Overlaps of words by shapely, a general-purpose library for plane geometry; no picture is painted.

NAMES = [*(path.stem for path in EXAMPLES), *(f"line {seed}" for seed in range(8)), "two posts", "hip", "side"]
BODY = Rect(10.0, 47.0, 421.8, 269.4)
ROOM = Rect(20.0, 30.0, 145.0, 190.0)


@cache
def sheets(name):
    guard = checked(name)
    if guard is None:
        return ()
    found = joint_sheets(guard, formatter(guard.layout.job), BODY)
    return tuple(
        Sheet(name=name, width=431.8, height=279.4, scale_text="", parts=parts, views=views) for parts, views in found
    )


@pytest.fixture(params=NAMES)
def name(request):
    return request.param


def details(name):
    guard = checked(name)
    for alike in joint_kinds(guard.layout) if guard else ():
        parts, view = joint_detail(guard.layout, alike, ROOM, formatter(guard.layout.job))
        yield (
            guard.layout,
            alike,
            Sheet(name=name, width=200.0, height=200.0, scale_text="", parts=parts, views=(view,)),
            view,
        )


def test_no_word_overlaps_another_or_leaves_the_room(name):
    frame = shapely.box(*BODY)
    for sheet in sheets(name):
        texts = [text for text in sheet.texts() if text.words]
        shapes = [shapely.Polygon(text.corners()) for text in texts]
        tree = shapely.STRtree(shapes)
        for i, shape in enumerate(shapes):
            assert frame.contains(shape), texts[i].words
            for k in tree.query(shape):
                if k > i:
                    assert shape.intersection(shapes[k]).area < 1e-6, (texts[i].words, texts[k].words)


def test_no_line_crosses_words_without_paper_of_their_own(name):
    for sheet in sheets(name):
        bare = [(t, shapely.Polygon(t.corners())) for t in sheet.texts() if t.words and not t.box]
        for line in (m for m in sheet.marks() if isinstance(m, Line) and m.pen != "rule"):
            path = shapely.LineString(line.points)
            for text, shape in bare:
                assert path.intersection(shape).length < 1e-6, (line.what, text.words)


def test_nothing_is_drawn_outside_the_room(name):
    frame = shapely.box(*BODY).buffer(1e-6)
    for sheet in sheets(name):
        for mark in sheet.marks():
            if isinstance(mark, Line | Polygon):
                assert all(frame.contains(shapely.Point(p)) for p in mark.points), mark.what
            elif isinstance(mark, Circle):
                assert frame.contains(shapely.Point(mark.centre).buffer(mark.radius)), mark.what


def test_every_kind_is_drawn_once_and_every_joint_is_of_one_kind(name):
    guard = checked(name)
    if guard is None:
        return
    kinds = joint_kinds(guard.layout)
    assert sorted(j.station for alike in kinds for j in alike) == [j.station for j in guard.layout.joints]
    assert sum(len(sheet.views) for sheet in sheets(name)) == len(kinds)
    firsts = [alike[0].station for alike in kinds]
    assert firsts == sorted(firsts)


def test_joints_of_one_kind_have_one_figure(name):
    """Told by the joints' own fields: slopes, turn, jog and strands."""
    guard = checked(name)
    if guard is None:
        return
    slopes = {s.index: s.slope for s in guard.layout.line.surfaces}
    for alike in joint_kinds(guard.layout):
        figures = groups(
            alike,
            lambda j: (
                [slopes[i] for i in j.between], j.turn_deg, j.jog, j.mitred, j.station - j.boundary,
                [(s.number, s.whole, s.fitting) for s in j.strands],
            ).__repr__(),
        )  # fmt: skip
        assert len(figures) == 1


def test_rails_meet_on_paper_where_the_joint_says(name):
    for _, alike, sheet, view in details(name):
        found = [m for m in sheet.marks() if isinstance(m, Circle) and m.what == "rails meet"]
        joint = alike[0]
        if joint.meets is None or joint.jog:
            assert not found
            continue
        s, z = view.to_model(found[0].centre)
        assert s == pytest.approx(float(joint.meets.s), abs=1e-9)
        assert z == pytest.approx(float(joint.meets.z), abs=1e-9)


def test_strands_run_at_their_slopes_to_the_post(name):
    """Slope read off the paper, and height at the post's centre against the strand's own elevation."""
    for layout, alike, sheet, view in details(name):
        joint = alike[0]
        posts = layout.posts_of(joint)
        lines = {m.what: m for m in sheet.marks() if isinstance(m, Line) and m.pen == "strand"}
        seen = 0
        for strand in joint.strands:
            for index in strand.surfaces:
                line = lines.get(f"strand {strand.number}, surface {index + 1}")
                if line is None:
                    continue
                seen += 1
                (a, b), surface = (
                    (view.to_model(p) for p in (line.points[0], line.points[-1])),
                    layout.line.surfaces[index],
                )
                slope = strand.slopes_deg[0 if index == joint.between[0] else 1]
                assert degrees(atan2(b[1] - a[1], b[0] - a[0])) == pytest.approx(slope, abs=1e-6)
                if len(posts) == 1:
                    at = a[1] + (float(joint.station) - a[0]) * float(surface.slope)
                    over = layout.fields[index].heights[strand.number - 1]
                    assert at == pytest.approx(float(surface.datum(joint.station) + over), abs=1e-6)
        assert seen >= 2


def test_what_a_detail_says(name):
    for layout, alike, sheet, _ in details(name):
        joint = alike[0]
        said = " ".join(text.words for text in sheet.texts())
        assert joint.post in said
        assert ("meet flush" in said) == joint.mitred
        assert ("JOG" in said) == bool(joint.jog)
        assert (" whole:" in said) == any(s.whole for s in joint.strands)
        assert ("why:" in said) == any(not s.whole for s in joint.strands)
        for text in sheet.texts():
            assert text.cap >= 2.5
        block = joint_block(layout, alike, formatter(layout.job), 120.0)
        assert not any("…" in cell.words for row in block.rows for cell in row)


def test_the_tower_shows_each_different_joint_once():
    layout = checked("tower").layout
    kinds = joint_kinds(layout)
    assert len(layout.joints) > 100
    assert len(kinds) <= 8
    titles = [
        t.words for s in sheets("tower") for t in s.texts() if isinstance(t, Text) and t.words.startswith("JOINT")
    ]
    assert len(titles) == len(kinds)


def test_a_mirrored_joint_is_another_kind():
    """Down, then up: the bottom of one flight is the mirror image of the other's, and both are drawn."""
    layout = checked("down-up").layout
    slopes = [tuple(layout.line.surfaces[i].slope for i in alike[0].between) for alike in joint_kinds(layout)]
    assert len(slopes) == len(layout.joints)


def test_joints_where_strands_end_for_other_reasons_are_of_other_kinds():
    """A detail tells why: told for several, it is true of each."""
    layout = checked("tower").layout
    alike = next(alike for alike in joint_kinds(layout) if len(alike) > 1)
    ended = tuple(replace(strand, ended="longest run") for strand in alike[1].strands)
    other = replace(alike[1], strands=ended)
    joints = tuple(other if joint is alike[1] else joint for joint in layout.joints)
    assert len(joint_kinds(replace(layout, joints=joints))) == len(joint_kinds(layout)) + 1


def test_both_posts_of_a_corner_are_drawn_and_named():
    sheet = next(sheet for _, alike, sheet, _ in details("two posts") if alike[0].second_post)
    what = {mark.what for mark in sheet.marks()}
    assert {"post P3", "post P4", "strand 1, corner P3"} <= what
    assert any(text.words.startswith("CORNER P3 and P4") for text in sheet.texts())


@pytest.mark.parametrize("name", ["broken at one post", "broken at both posts", "posts that touch"])
def test_dots_at_a_corner_of_two_posts_are_where_runs_end(name):
    """By the runs alone: which strand of which leg, or of the way across, ends at which post, and on which face."""
    job = TWO["broken at one post" if name == "posts that touch" else name]
    if name == "posts that touch":  # at a right angle, an offset of a whole width
        turned = replace(job.surfaces[1], turn=90.0)
        surfaces = (job.surfaces[0], turned, *job.surfaces[2:])
        job = replace(job, surfaces=surfaces, post=replace(job.post, corner_offset=job.post.width))
    guard = stairguard.lay_out(job)
    layout = guard.layout
    joint = next(j for j in layout.joints if j.second_post)
    parts, view = joint_detail(layout, (joint,), ROOM, formatter(job))
    posts = {post.label: post for post in layout.posts_of(joint)}
    drawn = {
        (mark.what.split()[1], mark.what.split()[-1], round(view.to_model(mark.centre)[0], 3))
        for mark in parts
        if isinstance(mark, Circle) and " ends at " in mark.what
    }
    ends = set()
    for run in layout.runs:
        for label, way in ((run.posts[0], 1), (run.posts[-1], -1)):
            if label in posts:
                post, across = posts[label], way * float(posts[label].half)
                ends.add((str(run.strand), label, round(float(post.station) + across, 3)))
    shown = {number for number, _, _ in drawn}
    assert len(shown) >= 2
    assert drawn == {end for end in ends if end[0] in shown}
    across = {m.what for m in parts if isinstance(m, Line) and m.what.endswith(f"corner {joint.post}")}
    assert across >= {f"strand {number}, corner {joint.post}" for number in shown}
    assert [one for one in guard.cautions if isinstance(one, CornerPulled)] == [
        CornerPulled((joint.post, joint.second_post))
    ]
    touch = any("that touch" in part.words for part in parts if isinstance(part, Text))
    assert touch == (name == "posts that touch")
    gaps = [check.value for check in guard.checks if subject_words(check.what).startswith("clear gap between posts")]
    assert touch == (not gaps)
