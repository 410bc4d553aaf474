"""A jog and the ways to be rid of it, in words: page, schedule and detail tell of the same ways."""

from dataclasses import replace
from fractions import Fraction as F

import pytest

from stairguard.model.guard.jogs import Altered, JogElsewhere, Remedy, Setting, Within
from stairguard.reports.words.joints.jog_words import (
    jog_note,
    jog_sentence,
    jog_size_note,
    remedy_notes,
    remedy_rows,
    remedy_sentences,
)
from stairguard.reports.words.lengths import Figures
from tests.solve.lines import JOBS, solved

FIGURES = Figures("in", F(1, 16))
WAYS = (
    Remedy(
        what=Altered.POST_STATION,
        value=F(5, 4),
        allowed=True,
        why=Within("irc-2021"),
        settings=(Setting(1, "start_post", F(5, 4)),),
        effects=(JogElsewhere("P4", F(0)),),
    ),
    Remedy(
        what=Altered.FLIGHT_RAIL_HEIGHT,
        value=F(1063, 30),
        allowed=False,
        why=None,
        surface=1,
        settings=(Setting(1, "rail_height", F(567, 16)),),
    ),
    Remedy(what=Altered.RISER_OFFSET, value=F(7, 2), allowed=False, why=None),
)


JOGGED = ("up, up", "ramp, then a turned flight", "crossed, turn in the middle")


def jogged(name):
    layout = solved(JOBS[name])
    return layout, next(joint for joint in layout.joints if joint.jog)


def ways(name):
    return replace(jogged(name)[1], remedies=WAYS)


def test_a_page_tells_all_of_each_way():
    post = (
        'post station: surface[2].start_post = "1-1/4 in", to the post\'s centre, level from the start of surface 2 '
        "along the line, back negative (exactly 1.250 in level from the {}): allowed: within irc-2021. Besides, it "
        "rids P4 of its jog"
    )
    rail = 'flight rail height over surface 2: surface[2].rail_height = "35-7/16 in", plumb (exactly 35.433 in)'
    riser = "riser offset: exactly 3.500 in more, level, between the edges of both sides"
    for name, place in (
        ("up, up", "edge, on along the line positive"),
        ("ramp, then a turned flight", "nosing, uphill positive"),
    ):
        said = list(remedy_sentences(ways(name), FIGURES))
        assert said == [post.format(place), f"{rail}: not allowed", f"{riser}: not allowed"]


def test_a_schedule_tells_each_way_briefly_and_a_detail_what_to_set():
    joint = ways("up, up")
    assert list(remedy_rows(joint, "in", FIGURES.tape)) == [
        'post station: surface[2].start_post = "1-1/4 in" (within irc-2021; rids P4 of its jog)',
        'NOT ALLOWED: flight rail height: surface[2].rail_height = "35-7/16 in"',
        'NOT ALLOWED: riser offset: 3-1/2"',
    ]
    assert list(remedy_notes(joint, "in")) == [
        'to be rid of it: post station (surface[2].start_post = "1-1/4 in")',
        "2 ways not allowed: see the lists",
    ]


@pytest.mark.parametrize("name", JOGGED)
def test_the_rail_that_is_told_to_be_higher_ends_higher(name):
    layout, joint = jogged(name)
    tops = dict(zip(joint.between, (end.z for end in joint.ends), strict=True))
    high, low = sorted(joint.between, key=lambda index: -tops[index])
    fmt = Figures(layout.job.unit, layout.job.mark).tape
    size = fmt(tops[high] - tops[low])
    kinds = [layout.line.surfaces[index].kind for index in (high, low)]
    which = f"{kinds[0]} rail above {kinds[1]} rail"
    if kinds[0] == kinds[1]:
        which = f"rail over surface {high + 1} above that over surface {low + 1}"
    assert jog_note(layout, joint, fmt) == f"JOG {size} plumb, {which}"
    assert jog_size_note(joint, fmt) == f"jog {size} plumb"
    names = [f"surface {index + 1} ({kind})" for index, kind in zip((high, low), kinds, strict=True)]
    assert f"rail of {names[0]} stands {size} plumb above that of {names[1]}" in jog_sentence(layout, joint, fmt)
