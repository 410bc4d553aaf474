"""Strands inside a joint's post against the facts of its holes."""

from dataclasses import replace

import pytest

import stairguard
from stairguard.reports.drawing.detail.joint_detail import joint_detail
from stairguard.reports.drawing.paper.scene import Circle, Line, Rect
from tests.reports.guards import formatter
from tests.solve.twoposts import TWO

ROOM = Rect(20.0, 30.0, 145.0, 190.0)


JOBS = {"one post": stairguard.built_in_job(), "two posts": TWO["level"]}


@pytest.mark.parametrize("bearing", ["inner face", "outer face"])
@pytest.mark.parametrize("name", JOBS)
def test_ends_at_a_joint_are_drawn_as_its_holes_say(name, bearing):
    """On the face that a strand's end bears on, with the strand's axis through the post where that is the outer."""
    job = JOBS[name]
    job = replace(job, strand=replace(job.strand, at_joints="break"), post=replace(job.post, bearing=bearing))
    layout = stairguard.lay_out(job).layout
    joint = layout.joints[0]
    parts, view = joint_detail(layout, (joint,), ROOM, formatter(job))
    dots: dict[str, set[tuple[float, float]]] = {}
    dashed: dict[str, set[tuple[float, float]]] = {}
    for mark in parts:
        if isinstance(mark, Circle) and " ends at " in mark.what:
            dots.setdefault(mark.what, set()).add(rounded(view.to_model(mark.centre)))
        elif isinstance(mark, Line) and mark.pen == "dashed":
            dashed.setdefault(mark.what, set()).update(rounded(view.to_model(p)) for p in mark.points)
    shown = []
    for post in layout.posts_of(joint):
        for hole in post.holes:
            what = f"strand {hole.strand} of surface {hole.surfaces[0] + 1} ends at {post.label}"
            arrives = hole.bears[0] is not None
            bears = hole.bears[0 if arrives else 1]
            side = 1 if arrives == (bears == "outer face") else 0
            at = float(post.station + (1 if side else -1) * post.width / 2), float(post.base + hole.faces[side].height)
            if what in dots:  # the others are below the picture
                shown.append(bears)
                assert dots.pop(what) == {rounded(at)}
                if bears == "outer face":
                    centre = float(post.station), float(post.base + hole.height)
                    assert {rounded(at), rounded(centre)} <= dashed[f"strand {hole.strand} in {post.label}"]
    assert len(shown) >= 4
    assert not dots
    assert bearing in shown  # two ends too near one another both bear on the inner face
    assert bool(dashed) == (bearing == "outer face")


def rounded(point):
    return round(float(point[0]), 6), round(float(point[1]), 6)
