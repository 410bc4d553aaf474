"""How a guard line is broken into sheets: what is on each, which stand for which, and where they go on."""

import json
from dataclasses import replace
from fractions import Fraction as F
from itertools import pairwise

import pytest

from stairguard.reports.drawing.elevation.guard_lines import draw_guard
from stairguard.reports.drawing.elevation.sheet_breaks import leaves, whole_line
from stairguard.reports.drawing.elevation.stair_lines import draw_stair
from stairguard.reports.drawing.paper.scene import View, Window, as_record
from tests.reports import guards, lines

LONG = ("tower", "quarter-turn", "ramp-between", "half-turn", *(f"line {seed}" for seed in range(12)))


def _broken(most):
    """Leaves of every long line, none of more than so many surfaces but where one joint follows another at once."""
    for name in LONG:
        checked = lines.checked(name)
        if checked is not None:
            yield name, checked.layout, leaves(checked.layout, lambda leaf: leaf.last - leaf.first < most)


@pytest.mark.parametrize("most", [1, 2, 4, 13])
def test_every_surface_is_on_a_leaf_or_alike_to_some_that_are(most):
    for name, layout, found in _broken(most):
        shown = [
            i
            for leaf in found
            for first, last in ((leaf.first, leaf.last), *leaf.twins)
            for i in range(first, last + 1)
        ]
        assert set(shown) == {s.index for s in layout.line.surfaces}, name
        # twice at most, where it is crossed without a level piece and the leaves on both sides show it
        assert all(shown.count(i) == 1 or not layout.line.surfaces[i].carries for i in shown), name


@pytest.mark.parametrize("most", [1, 2, 4, 13])
def test_leaves_cover_the_line(most):
    for name, layout, found in _broken(most):
        whole = whole_line(layout)
        pieces = sorted((span for leaf in found for span in _spans(layout, leaf)), key=lambda span: span[0])
        assert pieces[0][0] == pytest.approx(whole.start), name
        assert pieces[-1][1] == pytest.approx(whole.end), name
        for (_, end), (start, _) in pairwise(pieces):
            assert start <= end, name  # each runs on past the post it is broken at
            assert end - start < 4 * float(layout.job.post.width) + _corner(layout), name


def _spans(layout, leaf):
    """Stations that a leaf shows, its twins' too: they lie as far from their first surface."""
    at = layout.line.surfaces[leaf.first].start.s
    for first in (leaf.first, *(twin[0] for twin in leaf.twins)):
        moved = float(layout.line.surfaces[first].start.s - at)
        yield leaf.start + moved, leaf.end + moved


def _corner(layout):
    """How far apart the two posts of a corner stand."""
    posts = {post.label: post.station for post in layout.posts}
    pairs = [(posts[j.post], posts[j.second_post]) for j in layout.joints if j.second_post]
    return max((float(b - a) for a, b in pairs), default=0.0)


@pytest.mark.parametrize("most", [1, 2, 4, 13])
def test_every_joint_post_is_on_a_leaf_or_stands_for_one(most):
    for name, layout, found in _broken(most):
        spans = [span for leaf in found for span in _spans(layout, leaf)]
        for post in layout.posts:
            assert any(a <= float(post.station) <= b for a, b in spans), (name, post.label)
        for joint in layout.joints:  # by its surfaces too, not by the place of its post alone
            spanned = [(a, b) for leaf in found for a, b in ((leaf.first, leaf.last), *leaf.twins)]
            assert any(joint.between[1] >= a and joint.between[0] <= b for a, b in spanned), (name, joint.post)


@pytest.mark.parametrize("most", [1, 2, 4])
def test_sheets_follow_one_another_as_they_say(most):
    for name, layout, found in _broken(most):
        assert [leaf.number for leaf in found] == list(range(1, len(found) + 1)), name
        first = {span[0]: leaf for leaf in found for span in ((leaf.first, leaf.last), *leaf.twins)}
        last = {span[1]: leaf for leaf in found for span in ((leaf.first, leaf.last), *leaf.twins)}
        joints = {joint.post: joint for joint in layout.joints}
        for leaf in found:
            if leaf.after is not None:
                post, sheet = leaf.after
                onward = first[joints[post].between[0] + 1]
                assert onward.number == sheet, (name, leaf.number)
            if leaf.before is not None:
                post, sheet = leaf.before
                back = last[joints[post].between[1] - 1]
                assert back.number == sheet, (name, leaf.number)
        assert found[0].before is None
        assert any(leaf.after is None for leaf in found)


def _drawn(layout, first, leaf):
    """All that is drawn of a stretch, moved so that its first surface starts at the origin."""
    start = layout.line.surfaces[first].start
    at = layout.line.surfaces[leaf.first].start
    moved = float(start.s - at.s)
    view = View("V", 1.0, "", (Window(leaf.start + moved, leaf.end + moved, -float(start.s), -float(start.z)),))
    return [
        json.loads(json.dumps(as_record(part)), parse_float=lambda x: round(float(x), 6) + 0.0)
        for part in (*draw_stair(layout, view), *draw_guard(layout, view))
    ]


def _shape(part):
    return {key: value for key, value in part.items() if key != "what"}


def test_twins_are_truly_alike():
    """Drawn each in its own place, a leaf and its twins are the same marks."""
    seen = 0
    for _, layout, found in _broken(13):
        for leaf in found:
            own = [_shape(part) for part in _drawn(layout, leaf.first, leaf)]
            for first, last in leaf.twins:
                seen += 1
                assert last - first == leaf.last - leaf.first
                twin = [_shape(part) for part in _drawn(layout, first, leaf)]
                assert len(own) == len(twin)
                assert sorted(map(json.dumps, own)) == sorted(map(json.dumps, twin))
    assert seen > 5


def test_a_changed_step_makes_another_leaf():
    """Forty flights alike but one: the odd one is drawn."""
    layout = lines.checked("tower").layout
    alike = leaves(layout, lambda leaf: leaf.last - leaf.first < 4)
    job = layout.job
    odd = next(i for i, s in enumerate(job.surfaces) if i > 80 and hasattr(s, "risers"))
    surfaces = list(job.surfaces)
    surfaces[odd] = replace(surfaces[odd], run=surfaces[odd].run + F(1))
    changed = guards.checked(replace(job, surfaces=tuple(surfaces))).layout
    other = leaves(changed, lambda leaf: leaf.last - leaf.first < 4)
    assert len(other) > len(alike)
    assert any(leaf.first <= odd <= leaf.last for leaf in other)
    assert not any(leaf.first <= odd <= leaf.last for leaf in alike)


def test_a_single_flight_is_never_broken():
    layout = guards.checked(guards.job(risers=400)).layout
    (leaf,) = leaves(layout, lambda _: False)
    assert (leaf.first, leaf.last, leaf.before, leaf.after) == (0, 2, None, None)


def test_what_fits_is_not_broken():
    layout = lines.checked("tower").layout
    assert leaves(layout, lambda _: True) == (whole_line(layout),)


def test_a_line_that_starts_at_the_top_of_a_flight_shows_its_riser():
    job = guards.job(down=True, nosing="10")
    alone = guards.checked(replace(job, surfaces=job.surfaces[1:])).layout
    assert whole_line(alone).start == -10
    up = guards.checked(replace(guards.job(nosing="10"), surfaces=guards.job(nosing="10").surfaces[:2])).layout
    assert whole_line(up).end == float(up.line.surfaces[-1].end.s) + 10
    assert whole_line(up).start == 0
